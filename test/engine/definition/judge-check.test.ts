import { describe, expect, test } from 'vitest';
import { displayJudged } from '../../../src/engine/definition/display-judged.ts';
import { unit } from '../../../src/quantity/unit.ts';
import { basis, check, length, number, type Parts, run, step } from './made-up.ts';

const givens = { a: length('a'), b: length('b'), c: length('c'), d: length('d') };
const judged = (parts: Parts, given: Readonly<Record<string, string>>) =>
  run({ givens, ...parts }, given).check('it');

describe('the verdict of one value', () => {
  test.each([
    ['a <= b', '2 m', '3 m', 'complies', false],
    ['a <= b', '3 m', '3 m', 'complies', true],
    ['a < b', '3 m', '3 m', 'does-not-comply', true],
    ['a <= b', '3.1 m', '3 m', 'does-not-comply', false],
    ['a >= b', '3.1 m', '3 m', 'complies', false],
    ['a >= b', '3 m', '3 m', 'complies', true],
    ['a > b', '3 m', '3 m', 'does-not-comply', true],
    // Rounding noise decides nothing: 0.1 + 0.2 is 0.3.
    ['a + 0.2 m <= b', '0.1 m', '0.3 m', 'complies', true],
    ['a + 0.2 m < b', '0.1 m', '0.3 m', 'does-not-comply', true],
  ])('%s with %s and %s: %s', (text, a, b, verdict, atLimit) => {
    expect(judged({ checks: { it: check(text) } }, { a, b })).toMatchObject({ verdict, atLimit });
  });

  test('a number of things, or a yes, that is just what is asked for does not lie at a limit', () => {
    const parts = { givens: { n: number('n', { whole: true }), k: number('k') } };
    const at = (more: NonNullable<Parts['checks']>, n: string, k: string) =>
      run({ ...parts, checks: more }, { n, k }).check('it').atLimit;
    // The ratio 3 of 3 is at its limit; three of three rods are enough.
    expect(at({ it: check('k + n >= 6') }, '3', '3')).toBe(true);
    expect(at({ it: check('k + n >= 6', { counts: true }) }, '3', '3')).toBe(false);
    expect(at({ it: check('n >= k') }, '4', '4')).toBe(false);
  });

  test.each([
    // Half of what is permitted is left; a tenth beyond; a limit from below.
    ['a <= b', '2 m', '4 m', { value: 0.5, of: 'limit' }],
    ['a < b', '11 m', '10 m', { value: -0.1, of: 'limit' }],
    ['a >= b', '6 m', '5 m', { value: 0.2, of: 'limit' }],
    ['a >= b', '3 m', '3 m', { value: 0, of: 'limit' }],
    // A part of a limit below nought is a part of its amount.
    ['a - c <= b - c', '2 m', '4 m', { value: 2 / 4, of: 'limit' }],
    // Of nought there is no part.
    ['a - b <= 0 m', '7 m', '9 m', { value: 2, of: 'unit' }],
  ])('the margin of %s with %s and %s', (text, a, b, margin) => {
    const found = judged({ checks: { it: check(text) } }, { a, b, c: '8 m' });
    expect(found.margin!.value).toBeCloseTo(margin.value, 12);
    expect(found.margin!.of).toBe(margin.of);
    expect([...found.restsOn].sort()).toEqual(expect.arrayContaining(['a', 'b']));
  });

  test('there is no margin where there are no two numbers', () => {
    expect(judged({ checks: { it: check('a <= b') } }, { a: '1 m' }).margin).toBeUndefined();
  });

  test('a recommendation is met or not met; the force follows its condition', () => {
    const force = [{ when: 'c > 1 m', force: 'requirement', basis }, { force: 'recommendation' }] as const;
    const checks = { it: check('a <= b', { force }) };
    expect(judged({ checks }, { a: '4 m', b: '3 m', c: '1 m' })).toMatchObject({
      verdict: 'not-met',
      force: 'recommendation',
    });
    expect(judged({ checks }, { a: '2 m', b: '3 m', c: '1 m' }).verdict).toBe('met');
    expect(judged({ checks }, { a: '4 m', b: '3 m', c: '2 m' })).toMatchObject({
      verdict: 'does-not-comply',
      force: 'requirement',
    });
  });
});

describe('what is missing', () => {
  const steps = {
    sum: { ...step('s', 'a + c'), optional: true },
    twice: { ...step('t', '2 * sum'), optional: true },
  };

  test('is named down to the givens, and keeps from judging', () => {
    const found = judged({ steps, checks: { it: check('twice <= b') } }, { a: '1 m' });
    expect(found).toMatchObject({ verdict: 'cannot-be-judged', value: undefined, remedies: [] });
    expect([...found.missing].sort()).toEqual(['b', 'c']);
  });

  test('keeps from judging also where value and limit could be computed', () => {
    const checks = { it: check('a <= b', { needs: ['d'] }) };
    expect(judged({ checks }, { a: '1 m', b: '2 m' })).toMatchObject({
      verdict: 'cannot-be-judged',
      missing: ['d'],
      value: { si: 1 },
    });
    expect(judged({ checks }, { a: '1 m', b: '2 m', d: '5 m' }).verdict).toBe('complies');
  });

  test('keeps words from speaking for the check', () => {
    const worded = { w: { ...step('w', 'a'), words: [{ when: 'a = 0 m', says: 'nothing' }] } };
    const checks = { it: check('w <= b', { needs: ['d'], verdictOfWords: { nothing: true } }) };
    expect(judged({ steps: worded, checks }, { a: '0 m', b: '1 m' }).verdict).toBe('cannot-be-judged');
    expect(judged({ steps: worded, checks }, { a: '0 m', b: '1 m', d: '1 m' }).verdict).toBe('complies');
    const failing = { it: check('w <= b', { verdictOfWords: { nothing: false } }) };
    expect(judged({ steps: worded, checks: failing }, { a: '0 m', b: '1 m' }).verdict).toBe(
      'does-not-comply',
    );
  });
});

describe('competing values', () => {
  const steps = { steep: { ...step('s', '2 * c'), optional: true, when: 'd > 1 m' } };
  const competing = [
    { meaning: 'the steep one', value: 'steep' },
    { meaning: 'the far one', value: 'd', limit: '3 * b', when: 'd > 10 m' },
  ];
  const checks = { it: check('a <= b', { competing }) };
  const parts = { steps, checks };

  test('the least favourable decides, and what it is is said', () => {
    expect(judged(parts, { a: '4 m', b: '5 m', c: '2 m', d: '2 m' })).toMatchObject({
      verdict: 'complies',
      value: { si: 4 },
    });
    const steep = judged(parts, { a: '4 m', b: '5 m', c: '3 m', d: '2 m' });
    expect(steep).toMatchObject({ verdict: 'does-not-comply', value: { si: 6 }, judgedOn: 'the steep one' });
    const nearer = judged(parts, { a: '4 m', b: '5 m', c: '2.25 m', d: '2 m' });
    expect(nearer).toMatchObject({ verdict: 'complies', value: { si: 4.5 }, judgedOn: 'the steep one' });
    const far = judged(parts, { a: '4 m', b: '5 m', c: '1 m', d: '16 m' });
    expect(far).toMatchObject({ verdict: 'does-not-comply', limit: { si: 15 }, judgedOn: 'the far one' });
    expect(judged(parts, { a: '4 m', b: '5 m', c: '1 m', d: '2 m' }).judgedOn).toBeUndefined();
  });

  test('one that does not apply or whose step is left out does not compete', () => {
    expect(judged(parts, { a: '4 m', b: '5 m', c: '30 m', d: '0.5 m' }).verdict).toBe('complies');
    expect(judged(parts, { a: '4 m', b: '3 m', c: '1 m', d: '10 m' })).toMatchObject({
      verdict: 'does-not-comply',
      value: { si: 4 },
    });
  });

  test('one that lacks a given makes the check one that cannot be judged, unless another fails', () => {
    expect(judged(parts, { a: '4 m', b: '5 m', d: '2 m' })).toMatchObject({
      verdict: 'cannot-be-judged',
      missing: ['c'],
    });
    expect(judged(parts, { a: '6 m', b: '5 m', d: '2 m' })).toMatchObject({
      verdict: 'does-not-comply',
      value: { si: 6 },
    });
  });

  test('margins are shares of their own limits, and count the other way for a least value', () => {
    const two = { it: check('a >= b', { competing: [{ meaning: 'other', value: 'c', limit: 'd' }] }) };
    // 10 % above 10 m beside 5 % above 100 m.
    expect(judged({ checks: two }, { a: '11 m', b: '10 m', c: '105 m', d: '100 m' })).toMatchObject({
      judgedOn: 'other',
    });
    expect(
      judged({ checks: two }, { a: '10.4 m', b: '10 m', c: '105 m', d: '100 m' }).judgedOn,
    ).toBeUndefined();
  });

  test('where nothing is there the larger limit is the one that is missed', () => {
    const two = { it: check('a >= b', { competing: [{ meaning: 'other', value: 'c', limit: 'd' }] }) };
    expect(judged({ checks: two }, { a: '0 m', b: '2 m', c: '0 m', d: '7 m' })).toMatchObject({
      judgedOn: 'other',
      limit: { si: 7 },
    });
    expect(judged({ checks: two }, { a: '0 m', b: '7 m', c: '0 m', d: '2 m' }).limit).toMatchObject({
      si: 7,
    });
  });
});

/** As a reader sees it: a narrow space that does not break is a space. */
const plain = (texts: readonly string[]) => texts.map((text) => text.replace(/[\u00a0\u202f]/g, ' '));

test('remedies stand beside what is not met, each under its condition, with the values put in', () => {
  const remedies = ['Below {b}.', { when: 'c > 1 m', text: 'Not {c}.' }];
  const checks = { it: check('a <= b', { remedies }) };
  expect(plain(judged({ checks }, { a: '4 m', b: '3 m', c: '2 m' }).remedies)).toEqual([
    'Below 3 m.',
    'Not 2 m.',
  ]);
  expect(plain(judged({ checks }, { a: '4 m', b: '3 m', c: '1 m' }).remedies)).toEqual(['Below 3 m.']);
  expect(judged({ checks }, { a: '2 m', b: '3 m', c: '2 m' }).remedies).toEqual([]);
});

describe('value and limit as displayed stand to each other as they are', () => {
  const texts = (value: number, limit: number) => {
    const usual = { value: { digits: 3 }, limit: { digits: 3 } };
    const shown = displayJudged(value, limit, { unit: unit('m'), relation: '<=' }, usual);
    return [shown.value.text, shown.limit.text];
  };
  test.each([
    // One side alone takes more where that does, the value before the limit.
    [1.2338, 1.23, '1.234 m', '1.23 m'],
    [1.23, 1.2338, '1.23 m', '1.234 m'],
    // Nobody may read 0.3 % from two numbers that differ by 0.02 %.
    [1.2344, 1.2341, '1.2344 m', '1.2341 m'],
    [2.0001, 2, '2.0001 m', '2.00 m'],
    [1.5, 2, '1.50 m', '2.00 m'],
    // Equal within rounding noise: shown as equal.
    [0.1 + 0.2, 0.3, '0.300 m', '0.300 m'],
  ])('%d and %d', (value, limit, ...expected) => {
    expect(texts(value, limit)).toEqual(expected);
  });

  test('also in the check and in the lines of the steps that it compares', () => {
    const steps = { sum: step('s', 'a + c'), other: step('o', 'b * 1'), rest: step('r', 'a * 1') };
    const checks = { it: check('sum <= other') };
    const found = run({ givens, steps, checks }, { a: '1 m', c: '0.00004 m', b: '1.00001 m' });
    expect(found.check('it')).toMatchObject({
      verdict: 'does-not-comply',
      value: { displayed: { text: '1.00004 m' } },
      limit: { displayed: { text: '1.00001 m' } },
    });
    expect(found.step('sum').result).toMatchObject({ displayed: { text: '1.00004 m' } });
    expect(found.step('other').result).toMatchObject({ displayed: { text: '1.00001 m' } });
    expect(found.step('rest').result).toMatchObject({ displayed: { text: '1.00 m' } });
  });

  test('a side of many digits gives the other none that it does not have where it was found', () => {
    const steps = { sum: step('s', 'a + c'), other: step('o', 'b * 1') };
    const checks = { it: check('sum <= other') };
    const found = run({ givens, steps, checks }, { a: '1234.56 m', c: '100.4 m', b: '345678 m' });
    expect(found.check('it').value).toEqual(found.step('sum').result);
    expect(found.check('it').limit).toEqual(found.step('other').result);
    expect(found.check('it').limit).toMatchObject({ displayed: { text: '345678 m' } });
  });
});
