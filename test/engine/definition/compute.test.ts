import { describe, expect, test } from 'vitest';
import type { StepDefinition } from '../../../src/engine/definition/definition.ts';
import { writeTex } from '../../../src/page/math/write-tex.ts';
import { basis, check, length, number, type Parts, run, step } from './made-up.ts';

const kind = {
  type: 'choice',
  symbol: '\\text{kind}',
  meaning: 'kind',
  options: { straight: 'straight', bent: 'bent' },
} as const;

describe('variants', () => {
  const parts: Parts = {
    givens: { kind, a: length('a'), b: length('b') },
    steps: {
      way: {
        symbol: 's',
        meaning: 'way',
        unit: 'm',
        basis,
        variants: [
          { when: 'kind is straight and a > 5 m', formula: 'a - 1 m' },
          { when: 'kind is straight', formula: 'a' },
          { formula: 'a + b', note: 'around the bend' },
        ],
      },
    },
  };

  test('the first whose condition holds is used, and it alone is printed', () => {
    expect(run(parts, { kind: 'straight', a: '6 m' }).result('way')).toBe(5);
    expect(run(parts, { kind: 'straight', a: '4 m' }).result('way')).toBe(4);
    const bent = run(parts, { kind: 'bent', a: '6 m', b: '2 m' });
    expect([bent.result('way'), bent.step('way').note]).toEqual([8, 'around the bend']);
    expect(writeTex(bent.step('way').formula!)).toBe('a + b');
  });

  test('a choice that decides and is missing is asked for, and so is what the variant chosen needs', () => {
    expect(run(parts, { a: '6 m', b: '1 m' }).faults).toEqual([
      expect.stringContaining("'kind' (kind) is missing"),
    ]);
    expect(run(parts, { kind: 'bent', a: '6 m' }).faults).toEqual([
      expect.stringContaining("'b' (length b) is missing"),
    ]);
  });

  test('a step whose variants all fail is left out', () => {
    const none: Parts = {
      ...parts,
      steps: { way: { ...step('s', ''), variants: [{ when: 'a > 5 m', formula: 'a' }] } as StepDefinition },
    };
    expect(run(none, { a: '4 m' }).result('way')).toBeUndefined();
    expect(run(none, { a: '6 m' }).result('way')).toBe(6);
  });
});

describe('what is absent', () => {
  const steps = {
    sum: { ...step('s', 'a + b'), optional: true },
    twice: { ...step('t', '2 * sum'), optional: true },
    own: step('o', 'a'),
  };
  const parts: Parts = { givens: { a: length('a'), b: length('b') }, steps };

  test('an optional step is left out with all that builds on it; another is an error', () => {
    const left = run(parts, { a: '1 m' });
    expect([left.result('sum'), left.result('twice'), left.result('own')]).toEqual([undefined, undefined, 1]);
    expect(run(parts, { a: '1 m', b: '2 m' }).result('twice')).toBe(6);
    expect(run({ ...parts, steps: { sum: step('s', 'a + b') } }, { a: '1 m' }).faults).toHaveLength(1);
  });

  test('of alternatives one is written; a default holds where none is, and a step may find the other', () => {
    const either: Parts = {
      givens: { a: length('a', { default: { value: '7 m', basis } }), b: length('b') },
      alternatives: [{ oneOf: ['a', 'b'] }],
      steps: { a: step('a', '2 * b'), all: step('s', 'a + 1 m') },
    };
    expect(run(either, {}).result('all')).toBe(8);
    expect(run(either, { b: '2 m' }).result('all')).toBe(5);
    const given = run(either, { a: '3 m' });
    expect([given.result('all'), writeTex(given.step('all').formula!)]).toEqual([4, 'a + 1\\,\\mathrm{m}']);
    expect(run(either, { a: '3 m', b: '2 m' }).faults).toEqual([expect.stringContaining('are alternatives')]);
  });

  test('none of alternatives without a default is an error, but where they are not asked for', () => {
    const asked: Parts = {
      givens: { kind, a: length('a'), b: length('b') },
      alternatives: [{ oneOf: ['a', 'b'], when: 'kind is bent' }],
      steps: {
        way: {
          ...step('w', ''),
          variants: [
            { when: 'given a', formula: 'a' },
            { when: 'given b', formula: 'b' },
          ],
        } as StepDefinition,
      },
    };
    expect(run(asked, { kind: 'bent' }).faults).toEqual([expect.stringContaining('one of')]);
    expect(run(asked, { kind: 'straight' }).faults).toEqual([]);
    expect(run(asked, { kind: 'bent', b: '2 m' }).result('way')).toBe(2);
  });
});

describe('words in place of a number', () => {
  const parts: Parts = {
    givens: { a: length('a'), b: length('b') },
    steps: {
      part: { ...step('p', 'a / (b / 1 m)'), words: [{ when: 'b = 0 m', says: 'endless' }] },
      twice: step('t', '2 * part'),
    },
    checks: {
      enough: check('twice >= 4 m', { verdictOfWords: { endless: true } }),
      silent: check('twice <= 4 m'),
    },
  };

  test('go on to what builds on them, and speak where the check knows them', () => {
    const endless = run(parts, { a: '1 m', b: '0 m' });
    expect([endless.result('part'), endless.result('twice')]).toEqual(['endless', 'endless']);
    expect(endless.check('enough')).toMatchObject({
      verdict: 'complies',
      value: { type: 'words', words: 'endless' },
    });
    expect(endless.check('silent').verdict).toBe('cannot-be-judged');
    expect(run(parts, { a: '1 m', b: '0.2 m' }).check('enough')).toMatchObject({
      verdict: 'complies',
      value: { si: 10 },
    });
  });
});

describe('words in place of a number, where formulas are chosen', () => {
  const parts: Parts = {
    givens: { kind, a: length('a'), b: length('b') },
    steps: {
      part: { ...step('p', 'a * 1'), words: [{ when: 'a > 9 m', says: 'too long' }] },
      way: {
        ...step('w', ''),
        variants: [{ when: 'kind is bent', formula: 'part' }, { formula: 'b' }],
      } as StepDefinition,
      size: {
        ...step('s', ''),
        variants: [
          { when: 'part > 2 m', formula: 'a' },
          { when: 'part <= 2 m', formula: 'b' },
        ],
      } as StepDefinition,
    },
  };

  test('go on by the formula that applies, not by one that does not', () => {
    expect(run(parts, { kind: 'bent', a: '10 m', b: '1 m' }).result('way')).toBe('too long');
    expect(run(parts, { kind: 'straight', a: '10 m', b: '1 m' }).result('way')).toBe(1);
  });

  test('go on also where only the conditions look at them', () => {
    expect(run(parts, { kind: 'bent', a: '10 m', b: '1 m' }).result('size')).toBe('too long');
    expect(run(parts, { kind: 'bent', a: '2 m', b: '1 m' }).result('size')).toBe(1);
  });
});

describe('a condition that cannot be decided is a fault, wherever it stands; only what is absent does not hold', () => {
  const BAD = 'a / b > 2';
  const base: Parts = {
    givens: { a: length('a'), b: length('b'), c: length('c') },
    steps: { sum: step('s', 'a + b') },
  };
  const withAbsent = BAD.replace('b', 'c');
  test.each<[string, (when: string) => Parts]>([
    ['a step', (when) => ({ ...base, steps: { ...base.steps, more: { ...step('m', 'a'), when } } })],
    [
      'words',
      (when) => ({ ...base, steps: { sum: { ...step('s', 'a + b'), words: [{ when, says: 'so' }] } } }),
    ],
    [
      'a variant',
      (when) => ({
        ...base,
        steps: {
          sum: {
            ...step('s', ''),
            variants: [
              { when: `${when} or a > 100 m`, formula: 'a' },
              { when: 'not given c', formula: 'b' },
              { formula: 'b' },
            ],
            optional: true,
          } as StepDefinition,
        },
      }),
    ],
    ['a check', (when) => ({ ...base, checks: { x: check('sum <= 100 m', { when }) } })],
    [
      'a competing value',
      (when) => ({
        ...base,
        checks: { x: check('sum <= 100 m', { competing: [{ meaning: 'm', value: 'a', when }] }) },
      }),
    ],
    [
      'a remedy',
      (when) => ({ ...base, checks: { x: check('sum <= 0.5 m', { remedies: [{ when, text: 'r' }] }) } }),
    ],
    [
      'a force',
      (when) => ({
        ...base,
        checks: {
          x: check('sum <= 1 m', { force: [{ when, force: 'recommendation' }, { force: 'requirement' }] }),
        },
      }),
    ],
    ['a caution', (when) => ({ ...base, cautions: { x: { when, text: 't' } } })],
    [
      'a limit of validity',
      (when) => ({ ...base, validity: { x: { requires: when, otherwise: 'caution', text: 't' } } }),
    ],
    [
      'a limit of validity that is an error',
      (when) => ({ ...base, validity: { x: { requires: `not (${when})`, otherwise: 'error', text: 't' } } }),
    ],
    [
      'a limiting value',
      (when) => ({
        ...base,
        checks: { x: check('sum <= 100 m') },
        limiting: [{ given: 'a', seek: 'largest', meaning: 'm', when }],
      }),
    ],
  ])('%s', (_, parts) => {
    expect(run(parts(BAD), { a: '1 m', b: '0 m' }).faults.join()).toMatch(/a \/ b|divi|infinite|finite/);
    expect(run(parts(BAD), { a: '1 m', b: '2 m' }).faults).toEqual([]);
    expect(run(parts(withAbsent), { a: '1 m', b: '2 m' }).faults).toEqual([]);
  });

  test('a caution whose condition cannot be decided within the ranges is a fault too', () => {
    const parts: Parts = {
      ...base,
      checks: { x: check('sum <= 100 m') },
      cautions: { x: { when: '1 m / b > 2', text: 't' } },
    };
    expect(run(parts, { a: '1 m', b: '2 m; 0 m .. 3 m' }).faults.join()).toMatch(/1 m \/ b/);
    expect(run(parts, { a: '1 m', b: '2 m; 1 m .. 3 m' }).faults).toEqual([]);
  });
});

test('a table gives the value of its key, and a number counts in the unit of an empirical formula', () => {
  const parts: Parts = {
    givens: { kind, n: number('n'), d: length('d', { unit: 'mm' }) },
    steps: {
      factor: {
        symbol: 'k',
        meaning: 'k',
        unit: '1',
        basis,
        table: { by: ['kind'], values: { straight: '1', bent: '0.5' } },
      },
      gap: { ...step('g', 'n * d^0.5'), unit: 'mm', numeric: { d: 'mm', n: '1' } },
      both: { ...step('b', 'factor * gap'), unit: 'mm' },
    },
  };
  const found = run(parts, { kind: 'bent', n: '3', d: '16 mm' });
  // 3 * sqrt(16) = 12, and half of it.
  expect(found.result('gap')).toBeCloseTo(0.012, 12);
  expect(found.result('both')).toBeCloseTo(0.006, 12);
});

test('a step that needs one left out by its condition is a mistake of the definition; the condition is named', () => {
  const parts: Parts = {
    givens: { kind, a: length('a') },
    steps: { way: { ...step('s', '2 * a'), when: 'kind is straight' }, whole: step('w', 'way + a') },
  };
  expect(run(parts, { kind: 'straight', a: '1 m' }).result('whole')).toBe(3);
  expect(() => run(parts, { kind: 'bent', a: '1 m' })).toThrow(
    "'whole' needs 'way', which its condition left out: 'kind is straight'",
  );
});
