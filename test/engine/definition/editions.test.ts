import { describe, expect, test } from 'vitest';
import type { Edition } from '../../../src/engine/definition/definition.ts';
import { describeCalculation } from '../../../src/engine/handbook/describe-calculation.ts';
import { basis, check, compiled, faultsOf, length, type Parts, run, step } from './made-up.ts';

const choice = (symbol: string, ...options: readonly string[]) => ({
  type: 'choice' as const,
  symbol,
  meaning: symbol,
  options: Object.fromEntries(options.map((option) => [option, option])),
});
const old = { kind: 'derivation', note: 'old' } as const;
const wide = { kind: 'derivation', note: 'wide' } as const;
const { formula: _, ...wording } = step('s', '');

const parts = {
  givens: {
    edition: choice('e', '1990', '2010'),
    shape: choice('f', 'bar', 'ring'),
    a: length('a'),
    b: length('b'),
  },
  editions: {
    by: 'edition',
    of: {
      '1990': {
        basis: old,
        steps: {
          size: [
            { when: 'shape is bar', formula: 'a' },
            { when: 'shape is ring or b > 3 m', formula: '3 * a', basis: wide, note: 'around' },
          ],
          extra: { formula: 'b' },
        },
      },
      '2010': { basis, steps: { size: { when: 'shape is bar', formula: '2 * a' } } },
    } as Readonly<Record<string, Edition>>,
  },
  steps: {
    extra: { ...wording, meaning: 'extra', byEdition: true },
    size: {
      ...wording,
      byEdition: true,
      variants: [{ when: 'b > 1 m', formula: 'b', note: 'in every edition' }],
    },
    whole: { ...step('w', 'size + 0 m') },
  },
  checks: { it: check('whole <= 100 m') },
} satisfies Parts;

describe('formulas that stand with their editions', () => {
  test.each([
    ['1990', 'bar', '2 m', '2 m', 2, old],
    ['1990', 'ring', '2 m', '2 m', 6, wide],
    ['2010', 'bar', '2 m', '2 m', 4, basis],
    // Of no formula of this edition: what holds in every one.
    ['2010', 'ring', '2 m', '5 m', 5, basis],
  ])('%s of a %s', (edition, shape, a, b, size, from) => {
    const found = run(parts, { edition, shape, a, b });
    expect(found.result('size')).toBe(size);
    expect(found.step('size').basis).toEqual(from);
  });

  test('an `or` in a condition stays within its edition', () => {
    // In the edition of 2010 the second formula of 1990 must not apply, though b is above 3 m.
    expect(run(parts, { edition: '2010', shape: 'bar', a: '2 m', b: '5 m' }).result('size')).toBe(4);
  });

  test('a step for which an edition has no formula is left out', () => {
    expect(run(parts, { edition: '1990', shape: 'bar', a: '2 m', b: '7 m' }).result('extra')).toBe(7);
    expect(run(parts, { edition: '2010', shape: 'bar', a: '2 m', b: '7 m' }).result('extra')).toBeUndefined();
  });

  test('the handbook lists them by edition, and behind them what holds in every one', () => {
    const page = describeCalculation(compiled(parts));
    expect(page).toContain(
      [
        '  - 1990:',
        '    - when shape is bar: `size = a` [derived: old]',
        '    - when shape is ring or b > 3 m: `size = 3 * a` [derived: wide]',
        '  - 2010:',
        '    - when shape is bar: `size = 2 * a` [common practice: made up for a test]',
        '  - when b > 1 m: `size = b` [common practice: made up for a test]',
      ].join('\n'),
    );
  });
});

describe('givens that are asked for whatever was chosen', () => {
  const requiredOf = (more: object) => [...compiled({ ...parts, ...more } as Parts).required].sort();

  test('are not those of a step that one edition alone has', () => {
    // The size asks for the shape in both editions; only the edition of 1990 has the extra step, which needs b.
    expect(requiredOf({})).toEqual(['edition', 'shape']);
  });

  test('are those that each edition needs, though by different steps', () => {
    const { '1990': older, '2010': newer } = parts.editions.of;
    const of = {
      '1990': older,
      '2010': { ...newer!, steps: { ...newer!.steps, other: { formula: 'b / 2' } } },
    };
    const other = { ...wording, symbol: 'o', meaning: 'other', byEdition: true };
    expect(requiredOf({ editions: { by: 'edition', of }, steps: { ...parts.steps, other } })).toContain('b');
    const narrow = { ...step('n', 'b + 1 m'), when: 'edition is 2010' };
    expect(requiredOf({ steps: { ...parts.steps, narrow } })).toContain('b');
  });
});

describe('mistakes in editions', () => {
  const withEditions = (more: object): Parts => ({ ...parts, editions: { ...parts.editions, ...more } });
  const withPart = (name: string, part: object): Parts =>
    withEditions({ of: { ...parts.editions.of, [name]: part } });

  test.each<[string, Parts, readonly RegExp[]]>([
    ['none', parts, []],
    [
      'by what is no choice',
      withEditions({ by: 'editon' }),
      [/^editions\.by: 'editon' is not a choice.*'edition'/, /'editon' is not declared/],
    ],
    [
      'an edition that is no option',
      withPart('201', { basis, steps: {} }),
      [/^editions\.of: '201' is not an option of edition.*'2010'/],
    ],
    [
      'an option without its part',
      withEditions({ of: { '1990': parts.editions.of['1990'] } }),
      [/^editions\.of: nothing is said of the edition '2010'/],
    ],
    [
      'a step that does not go by edition',
      withPart('2010', { basis, steps: { whole: { formula: 'a' } } }),
      [/^editions\.2010: 'whole' is not a step that goes by edition/],
    ],
    [
      'a misspelt step',
      withPart('2010', { basis, steps: { szie: { formula: 'a' } } }),
      [/^editions\.2010: 'szie'.*'size'/],
    ],
    [
      'a step of no edition',
      { ...parts, steps: { ...parts.steps, more: { ...wording, byEdition: true } } },
      [/^steps\.more: 'more' goes by edition, and no edition/],
    ],
    [
      'a step by edition without editions',
      { givens: parts.givens, steps: { more: { ...wording, byEdition: true } } },
      [/^steps\.more: /],
    ],
    [
      'a formula of another dimension',
      withPart('1990', {
        basis,
        steps: {
          ...parts.editions.of['1990']!.steps,
          size: [{ when: 'shape is bar', formula: 'a' }, { formula: 'a * b' }],
        },
      }),
      [/^editions\.1990\.size\.1: 'a \* b' gives/],
    ],
    [
      'a misspelt name',
      withPart('2010', { basis, steps: { size: { when: 'shpae is bar', formula: 'a' } } }),
      [/^editions\.2010\.size\.0: 'shpae'.*'shape'/],
    ],
    [
      'a formula that is never reached',
      withPart('2010', {
        basis,
        steps: { size: [{ formula: 'a' }, { when: 'shape is bar', formula: 'b' }] },
      }),
      [
        /^editions\.2010\.size\.1: the formula 'b' is never reached/,
        /^steps\.size\.4: the formula 'b' is never reached/,
      ],
    ],
    [
      'a part of no option, whose formulas are not told one by one',
      withPart('2031', { basis, steps: parts.editions.of['1990']!.steps }),
      [/^editions\.of: '2031' is not an option of edition/],
    ],
    [
      'a condition on the edition itself',
      withPart('2010', { basis, steps: { size: { when: 'edition is 1990', formula: 'a' } } }),
      [/^editions\.2010\.size\.0: .*can never be true/],
    ],
  ])('%s', (_name, definition, expected) => {
    const found = faultsOf(definition);
    for (const pattern of expected) expect(found).toContainEqual(expect.stringMatching(pattern));
    expect(found.filter((fault) => !expected.some((pattern) => pattern.test(fault)))).toEqual([]);
  });
});
