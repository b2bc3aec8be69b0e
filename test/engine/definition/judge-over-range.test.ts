import { describe, expect, test } from 'vitest';
import type { SolverValues, StepDefinition } from '../../../src/engine/definition/definition.ts';
import { basis, check, length, number, type Parts, run, step } from './made-up.ts';

const NAMES = ['x1', 'x2', 'x3', 'x4', 'x5', 'x6', 'x7', 'x8', 'x9', 'y1', 'y2', 'y3'] as const;
const many = (count: number) => NAMES.slice(0, count);
const numbers = (names: readonly string[]) => Object.fromEntries(names.map((name) => [name, number(name)]));
const all = (names: readonly string[], written: string) =>
  Object.fromEntries(names.map((name) => [name, written]));
const numeric = (symbol: string, formula: string) => ({ ...step(symbol, formula), unit: '1' });

/** The sentences, with plain spaces. */
const sentence = (found: ReturnType<typeof run>, name = 'it') => {
  const { overRange } = found.check(name);
  return overRange ? `${overRange.sentence} ${overRange.examinedHere}`.replace(/[\u00a0\u202f]/g, ' ') : '';
};

describe('many ranges', () => {
  test.each([2, 4, 9, 10, 12])('the far corner of %d ranges is found, whatever the signs', (count) => {
    const names = many(count);
    const sum = names.map((name, i) => (i % 2 === 0 ? name : `(2 - ${name})`)).join(' + ');
    const parts: Parts = {
      givens: numbers(names),
      steps: { s: numeric('s', sum) },
      checks: { it: check(`s <= ${2 * count - 0.001}`) },
    };
    const found = run(parts, all(names, '1; 0 .. 2'));
    expect(found.check('it')).toMatchObject({ verdict: 'does-not-comply', value: { si: 2 * count } });
    expect(
      found.check('it').overRange!.at.map(({ value }) => (value.type === 'number' ? value.si : undefined)),
    ).toEqual(names.map((_, i) => (i % 2 === 0 ? 2 : 0)));
    const loose = run({ ...parts, checks: { it: check(`s <= ${2 * count}`) } }, all(names, '1; 0 .. 2'));
    expect(loose.check('it')).toMatchObject({ verdict: 'complies', atLimit: true });
  });

  test('corners are judged though nothing changes along any range through the stated values', () => {
    const names = many(4);
    const parts: Parts = {
      givens: numbers(names),
      steps: { p: numeric('p', names.join(' * ')) },
      checks: { it: check('p <= 0.9') },
    };
    const found = run(parts, all(names, '0; -1 .. 1'));
    expect(found.check('it')).toMatchObject({ verdict: 'does-not-comply', value: { si: 1 } });
  });

  test('of more ranges than have all their corners judged, those at which all are low or high are', () => {
    const names = many(10);
    const parts: Parts = {
      givens: numbers(names),
      steps: { p: numeric('p', names.join(' * ')) },
      checks: { it: check('p <= 0.9') },
    };
    expect(run(parts, all(names, '0; -1 .. 1')).check('it')).toMatchObject({
      verdict: 'does-not-comply',
      value: { si: 1 },
    });
  });

  test('what was examined is said: all corners of nine, those of ten to which the search led', () => {
    const examined = (count: number) => {
      const names = many(count);
      const parts: Parts = {
        givens: numbers(names),
        steps: { s: numeric('s', names.join(' + ')) },
        checks: { it: check('s <= 100') },
      };
      return /Examined: (.*)\.$/.exec(sentence(run(parts, all(names, '1; 0 .. 2'))))![1]!;
    };
    expect(examined(2)).toMatch(
      /^all 4 corners of the ranges, a grid of 9 by 9 points, 17 points along each range/,
    );
    expect(examined(9)).toMatch(/^all 512 corners of the ranges, 17 points along each range/);
    expect(examined(10)).toMatch(
      /^of the 1024 corners of the ranges only those to which the search led, 17 points/,
    );
    expect(examined(1)).toMatch(/^both ends and 15 points between them, with a closer look/);
  });
});

describe('inside the ranges', () => {
  const givens = { x: number('x'), y: number('y') };
  const at = (formula: string, limit: number, given: Readonly<Record<string, string>>) =>
    run({ givens, steps: { v: numeric('v', formula) }, checks: { it: check(`v <= ${limit}`) } }, given);

  test('a peak between two of the points is found', () => {
    // Greatest 1 at x = 2.3, above 0.99995 only within 0.008 of it; the points are 0.5 apart.
    const found = at('1 - (x - 2.3)^2', 0.99995, { x: '1; 0 .. 8' });
    expect(found.check('it').verdict).toBe('does-not-comply');
    expect(found.check('it').value).toMatchObject({ si: expect.closeTo(1, 9) });
    expect(sentence(found)).toMatch(
      /^Met at the stated values \(-?−?0\.690\), but not over the range of number x \(0 to 8\); the value shown is the least favourable, at 2\.30\. Within the range it is met in parts\./,
    );
  });

  test('a value that swings several times is followed', () => {
    // sin(pi x) is nought at every whole number: at both ends, in the middle, and at the quarters.
    const found = at('sin(pi * x)', 0.6, { x: '0; 0 .. 4' });
    expect(found.check('it').value).toMatchObject({ si: expect.closeTo(1, 6) });
  });

  test('the worst of two ranges that lies at no corner and on no line through the stated values', () => {
    // Greatest 1 at x = y = 0.65; along x alone or y alone from any point of the ridge x = y it only falls.
    const found = at('1 - 50 * (x - y)^2 - (x + y - 1.3)^2', 0.999, { x: '0.1; 0 .. 1', y: '0.95; 0 .. 1' });
    expect(found.check('it').verdict).toBe('does-not-comply');
    expect(found.check('it').value).toMatchObject({ si: expect.closeTo(1, 5) });
    const points = found
      .check('it')
      .overRange!.at.map(({ value }) => (value.type === 'number' ? value.si : 0));
    expect(points[0]).toBeCloseTo(0.65, 3);
    expect(points[1]).toBeCloseTo(0.65, 3);
  });

  test('a worst place far from the stated values, where the worst of their lines leads elsewhere', () => {
    // Along the lines and at the corners greatest 0.5, at x = y = 1; a peak of 1 stands at 0.27.
    const peak = '1 - 30 * ((x - 0.27)^2 + (y - 0.27)^2)';
    const found = at(`max(0.5 * x * y, ${peak})`, 0.99, { x: '1; 0 .. 1', y: '1; 0 .. 1' });
    expect(found.check('it')).toMatchObject({
      verdict: 'does-not-comply',
      value: { si: expect.closeTo(1, 6) },
    });
  });

  test('both sides of a change of formula are judged', () => {
    const variants = (change: string): StepDefinition => ({
      ...numeric('v', ''),
      variants: [{ when: change, formula: 'x' }, { formula: '0 * x' }],
    });
    const parts = (change: string): Parts => ({
      givens: { x: number('x') },
      steps: { v: variants(change) },
      checks: { it: check('v <= 2.36') },
    });
    // The points are 0.5 apart: at 2 the value is 2, at 2.5 it is nought, just below 2.37 it is 2.37.
    const found = run(parts('x <= 2.37'), { x: '1; 0 .. 8' });
    expect(found.check('it')).toMatchObject({
      verdict: 'does-not-comply',
      value: { si: expect.closeTo(2.37, 6) },
    });
    expect(run(parts('x <= 2.35'), { x: '1; 0 .. 8' }).check('it').verdict).toBe('complies');
  });

  test('the change from one competing value to another, or to another force, is such a change', () => {
    const competing = [{ meaning: 'the other', value: 'x', when: 'x <= 2.37' }];
    const parts: Parts = {
      givens: { x: number('x') },
      steps: { v: numeric('v', '0 * x') },
      checks: { it: check('v <= 2.36', { competing }) },
    };
    expect(run(parts, { x: '1; 0 .. 8' }).check('it')).toMatchObject({
      verdict: 'does-not-comply',
      judgedOn: 'the other',
    });
    const force = [{ when: 'x > 2.37', force: 'recommendation' }, { force: 'requirement' }] as const;
    // Beyond 2.37 it is a recommendation, and fails by more; the requirement fails just below.
    const forced: Parts = {
      givens: { x: number('x') },
      steps: { v: numeric('v', '1 * x') },
      checks: { it: check('v <= 2.36', { force }) },
    };
    expect(run(forced, { x: '1; 0 .. 8' }).check('it')).toMatchObject({
      verdict: 'does-not-comply',
      value: { si: expect.closeTo(2.37, 6) },
    });
    expect(run(forced, { x: '1; 0 .. 2' }).check('it').verdict).toBe('complies');
  });
});

describe('what is shown', () => {
  test('an end of a range stands as it was entered, a point between in the unit of the given', () => {
    const ends: Parts = { givens: { a: length('a'), b: length('b') }, checks: { it: check('a <= b') } };
    expect(sentence(run(ends, { a: '250 mm; 200 mm .. 350 mm', b: '0.5 m' }))).toMatch(
      /\(200 mm to 350 mm\).*, at 350 mm\./,
    );
    expect(sentence(run(ends, { a: '0.3 m; 0.2 m .. 0.7 m', b: '0.5 m' }))).toMatch(
      /, at 0\.7 m\. .* met up to 0\.500 m\./,
    );
    expect(sentence(run(ends, { a: '300 mm; 200 mm .. 700 mm', b: '0.5 m' }))).toMatch(
      /, at 700 mm\. .* met up to 500 mm\./,
    );
    // Least where a is 0.3 m, which is no end.
    const hill: Parts = {
      givens: { a: length('a'), b: length('b') },
      steps: { s: step('s', 'b - (a - b * 0.3) * (a - b * 0.3) / b') },
      checks: { it: check('s <= b') },
    };
    expect(sentence(run(hill, { a: '250 mm; 100 mm .. 500 mm', b: '1 m' }))).toMatch(/, at 300 mm\./);
  });

  const parts: Parts = {
    givens: { a: length('a'), b: length('b'), c: length('c') },
    steps: { v: step('v', 'a * (b / 1 m)') },
    checks: {
      it: check('v <= 10 m', {
        remedies: [
          '{a} is too much.',
          { when: 'a > 4 m', text: 'far too much' },
          { when: 'a <= 4 m', text: 'near' },
        ],
      }),
    },
    cautions: { wide: { when: 'a > 4.5 m', text: 'Wide: {a}.' } },
  };

  test('the values, remedies and cautions are those of the least favourable point', () => {
    const found = run(parts, { a: '3 m; 2 m .. 5 m', b: '3 m; 1 m .. 4 m' });
    expect(found.check('it')).toMatchObject({ verdict: 'does-not-comply', value: { si: 20 } });
    expect(found.check('it').remedies.map((text) => text.replace(/\W/g, ' '))).toEqual([
      '5 m is too much ',
      'At the least favourable values  far too much',
    ]);
    expect(found.evaluated!.cautions.map(({ text }) => text.replace(/[\u00a0\u202f]/g, ' '))).toEqual([
      'Within the stated ranges: Wide: 5 m.',
    ]);
    // The lines of the calculation stay those of the stated values.
    expect(found.result('v')).toBe(9);
    expect(run(parts, { a: '3 m', b: '3 m' }).check('it').overRange).toBeUndefined();
  });

  test('up to where a single range is met is told within the range, and as it is printed it is met', () => {
    const turn = (given: string) =>
      /it is met (up to|from) (.*?)( on)?\. Examined/.exec(sentence(run(parts, { a: given, b: '3 m' })))![2];
    expect(turn('2 m; 1 m .. 5 m')).toBe('3.33 m');
    // Rounded down to three digits it would lie below the range.
    expect(turn('3.3332 m; 3.3331 m .. 5 m')).toBe('3.3333 m');
    const least: Parts = { ...parts, checks: { it: check('v >= 10 m') } };
    expect(sentence(run(least, { a: '4 m; 1 m .. 5 m', b: '3 m' }))).toContain('it is met from 3.34 m on');
  });

  test('a range that changes nothing, one that fails throughout, and one that fails in part', () => {
    const spare: Parts = { ...parts, steps: { ...parts.steps, w: step('w', 'c') } };
    expect(sentence(run(spare, { a: '2 m', b: '3 m', c: '1 m; 0 m .. 2 m' }))).toMatch(
      /^It came out the same at every point examined/,
    );
    const throughout = run(parts, { a: '6 m; 5 m .. 7 m', b: '3 m' });
    expect(sentence(throughout)).toMatch(/^Met at no point examined/);
    expect(throughout.check('it')).toMatchObject({
      verdict: 'does-not-comply',
      value: { si: 21 },
      overRange: { holds: true },
    });
    const part = run(parts, { a: '4 m; 2 m .. 7 m', b: '3 m' });
    expect(sentence(part)).toMatch(/^Not met at the stated values \(12\.0 m\), though met in a part/);
    expect(part.check('it').overRange!.holds).toBe(false);
    expect(run(parts, { a: '2 m; 1 m .. 3 m', b: '3 m' }).check('it').overRange!.holds).toBe(true);
  });
});

describe('where a check is not asked, or the method does not hold', () => {
  const parts: Parts = {
    givens: { a: length('a') },
    steps: { v: step('v', 'a * 1') },
    checks: { it: check('v <= 6 m', { when: 'a > 4 m' }) },
  };

  test('a check that is asked beyond a value of the range only is judged there', () => {
    expect(run(parts, { a: '3 m' }).hasCheck('it')).toBe(false);
    expect(run(parts, { a: '3 m; 2 m .. 3.9 m' }).hasCheck('it')).toBe(false);
    const beyond = run(parts, { a: '3 m; 2 m .. 8 m' });
    expect(beyond.check('it')).toMatchObject({ verdict: 'does-not-comply', value: { si: 8 } });
    expect(sentence(beyond)).toMatch(/^Does not apply at the stated values, but applies within the range/);
    const kept = run(parts, { a: '3 m; 2 m .. 5 m' });
    expect(kept.check('it').verdict).toBe('complies');
    expect(sentence(kept)).toMatch(
      /^Does not apply at the stated values; met at every point examined at which it applies/,
    );
  });

  test('points at which it is not asked take nothing from the others', () => {
    expect(run(parts, { a: '5 m; 2 m .. 5.5 m' }).check('it')).toMatchObject({
      verdict: 'complies',
      value: { si: 5.5 },
    });
  });

  test('where the method does not hold within the range the check cannot be judged, unless it fails elsewhere', () => {
    const limited: Parts = {
      ...parts,
      checks: { it: check('v <= 6 m') },
      validity: { short: { requires: 'a <= 5 m', otherwise: 'error', text: 'up to 5 m' } },
    };
    const unknown = run(limited, { a: '4 m; 3 m .. 5.5 m' });
    expect(unknown.check('it').verdict).toBe('cannot-be-judged');
    expect(sentence(unknown)).toContain('it cannot be judged: the method is not valid there');
    const failing = run({ ...limited, checks: { it: check('v <= 4.5 m') } }, { a: '4 m; 3 m .. 5.5 m' });
    expect(failing.check('it').verdict).toBe('does-not-comply');
  });

  test('a condition on what the method could not find does not pass the check over', () => {
    const found: Parts = {
      givens: { a: length('a') },
      steps: {
        r: {
          symbol: 'r',
          meaning: 'r',
          unit: 'm',
          basis,
          needs: ['a'],
          method: 'm',
          solve: (v: SolverValues) => (v.number('a') > 5 ? { refused: 'too long' } : v.number('a')),
        },
      },
      checks: { it: check('r <= 6 m', { when: 'r > 1 m' }) },
    };
    expect(run(found, { a: '4 m; 3 m .. 6 m' }).check('it').verdict).toBe('cannot-be-judged');
    expect(run(found, { a: '4 m; 3 m .. 4.9 m' }).check('it').verdict).toBe('complies');
  });

  test('words that fail within the range outweigh that nothing can be said at the stated values', () => {
    const steps = {
      v: {
        ...step('v', 'a * 1'),
        words: [
          { when: 'a > 6 m', says: 'melts' },
          { when: 'a > 4 m', says: 'soft' },
        ],
      },
    };
    const worded: Parts = {
      ...parts,
      steps,
      checks: { it: check('v <= 9 m', { verdictOfWords: { melts: false } }) },
    };
    expect(run(worded, { a: '5 m; 4.5 m .. 5.5 m' }).check('it').verdict).toBe('cannot-be-judged');
    expect(run(worded, { a: '5 m; 3 m .. 7 m' }).check('it').verdict).toBe('does-not-comply');
  });
});

test('a range of whole numbers is judged at whole numbers', () => {
  const solve = (values: SolverValues) =>
    Number.isInteger(values.number('n')) ? values.number('n') ** 2 : Number.NaN;
  const parts: Parts = {
    givens: { n: number('n', { whole: true }) },
    steps: { v: { symbol: 'v', meaning: 'v', unit: '1', basis, needs: ['n'], method: 'm', solve } },
    checks: { it: check('v <= 40') },
  };
  const met = run(parts, { n: '3; 2 .. 6' });
  expect(met.check('it')).toMatchObject({ verdict: 'complies', value: { si: 36 } });
  expect(sentence(met)).toMatch(/Examined: every whole number of the range\.$/);
  const failing = run(parts, { n: '3; 2 .. 8' });
  expect(failing.check('it').verdict).toBe('does-not-comply');
  expect(sentence(failing)).toContain('it is met up to 6. Examined');
  const wide = run({ ...parts, checks: { it: check('v <= 3600') } }, { n: '3; 2 .. 60' });
  expect(sentence(wide)).toMatch(/Examined: 17 whole numbers of the range/);
  expect(wide.check('it')).toMatchObject({ verdict: 'complies', value: { si: 3600 } });
});

describe('a calculation whose evaluation is slow', () => {
  let worked = 0;
  const solve = (values: SolverValues) => {
    worked++;
    const [a, b] = [values.number('a'), values.number('b')];
    return { results: { v: 10 - (a - 2) ** 2 - (b - 3) ** 2 } };
  };
  const parts: Parts = {
    givens: { a: length('a'), b: length('b') },
    solutions: { run: { needs: ['a', 'b'], solve, pointsOfRanges: 30 } },
    steps: { v: { symbol: 'v', meaning: 'v', unit: 'm', basis, resultOf: 'run', method: 'm' } },
    checks: { it: check('v <= 9.9 m') },
    cautions: { high: { when: 'a > 3.9 m', text: 'High.' } },
  };

  test.each([
    ['1 m; 0 m .. 4 m', '1 m', 1],
    ['1 m; 0 m .. 4 m', '1 m; 0 m .. 4 m', 2],
  ] as const)(
    'is evaluated no more often than it allows, and so many points are named: %s and %s',
    (a, b, ranges) => {
      worked = 0;
      const found = run(parts, { a, b });
      expect(worked).toBeLessThanOrEqual(30);
      const said = Number(/Examined: (\d+) points, since each is a simulation/.exec(sentence(found))![1]);
      expect(worked).toBe(said);
      expect(said).toBeGreaterThanOrEqual(10 * ranges);
      expect(found.cautions).toEqual(['high']);
    },
  );

  test('finds what lies at the halves and quarters of its ranges', () => {
    const found = run(parts, { a: '1 m; 0 m .. 4 m', b: '1 m; 0 m .. 4 m' });
    expect(found.check('it')).toMatchObject({
      verdict: 'does-not-comply',
      value: { si: expect.closeTo(10, 9) },
    });
  });
});
