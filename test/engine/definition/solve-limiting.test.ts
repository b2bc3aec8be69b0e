import { describe, expect, test } from 'vitest';
import type { SolverValues, StepDefinition } from '../../../src/engine/definition/definition.ts';
import { basis, check, length, number, type Parts, run, step } from './made-up.ts';

const largest = { given: 'x', seek: 'largest', meaning: 'largest' } as const;
const smallest = { given: 'x', seek: 'smallest', meaning: 'smallest' } as const;
const plain = (text: string) => text.replace(/[\u00a0\u202f]/g, ' ');
const limit = (parts: Parts, given: Readonly<Record<string, string>>) =>
  plain(run(parts, given).limiting('x'));

describe('the value at which every check is met', () => {
  const parts: Parts = {
    givens: { x: length('x'), a: length('a'), b: length('b'), c: length('c') },
    steps: { sum: step('s', 'x + 1 m'), twice: step('t', '2 * x') },
    checks: { first: check('sum <= a'), second: check('twice <= b', { force: 'recommendation' }) },
    limiting: [largest],
  };

  test('is set by the one that fails first, which is named; a recommendation counts as well', () => {
    const byFirst = run(parts, { x: '1 m', a: '4 m', b: '10 m' });
    expect([plain(byFirst.limiting('x')), byFirst.governing('x')]).toEqual([
      '3.00 m',
      { check: 'first', words: 'sum <= a' },
    ]);
    const bySecond = run(parts, { x: '1 m', a: '4 m', b: '5 m' });
    expect([plain(bySecond.limiting('x')), bySecond.governing('x')!.check]).toEqual(['2.50 m', 'second']);
    // Found too where the stated value lies beyond it.
    expect(limit(parts, { x: '7 m', a: '4 m', b: '5 m' })).toBe('2.50 m');
  });

  test('that nothing limits it is not said as long as a check that may limit it cannot be judged', () => {
    const open: Parts = {
      givens: { x: length('x'), a: length('a'), b: length('b') },
      steps: { most: { ...step('m', 'b'), optional: true } },
      checks: { other: check('a >= 0 * a'), own: check('x <= most') },
      limiting: [largest],
    };
    expect(run(open, { x: '1 m', a: '2 m' }).evaluated!.limiting).toEqual([]);
    expect(limit(open, { x: '1 m', a: '2 m', b: '3 m' })).toBe('3.00 m');
  });

  test('stands in the unit of the value that is given, where it is as exact there', () => {
    // 4.375 m less 1 m are 3.375 m: 3.37 m on the safe side.
    expect(limit(parts, { x: '800 mm', a: '4.375 m', b: '10 m' })).toBe('3370 mm');
    expect(limit(parts, { x: '0.0021 km', a: '4.375 m', b: '10 m' })).toBe('0.00337 km');
    // In feet 3.37 m have no end.
    expect(limit(parts, { x: '3 ft', a: '4.375 m', b: '10 m' })).toBe('3.37 m');
    // Both ends of a stretch too.
    const window: Parts = {
      givens: { x: length('x'), a: length('a'), b: length('b') },
      checks: { low: check('x >= a'), high: check('x <= b') },
      limiting: [largest],
    };
    expect(limit(window, { x: '350 mm', a: '0.24 m', b: '0.41 m' })).toBe('between 240 mm and 410 mm only');
    expect(limit(window, { x: '1 ft', a: '0.24 m', b: '0.41 m' })).toBe('between 0.240 m and 0.410 m only');
    // What is recorded is in the unit of the method.
    const [found] = run(parts, { x: '800 mm', a: '4.375 m', b: '10 m' }).evaluated!.limiting;
    expect(found!.result).toMatchObject({ si: 3.37, unit: { text: 'm' } });
  });

  test('of the checks that are named, where they are', () => {
    expect(
      limit({ ...parts, limiting: [{ ...largest, checks: ['first'] }] }, { x: '1 m', a: '4 m', b: '5 m' }),
    ).toBe('3.00 m');
  });

  test('leaves out what cannot be judged, and says so', () => {
    const found = run(
      { ...parts, checks: { ...parts.checks, third: check('x <= c') } },
      { x: '1 m', a: '4 m', b: '5 m' },
    );
    expect(found.evaluated!.limiting[0]).toMatchObject({ checks: ['first', 'second'], unjudged: ['third'] });
  });

  test('heeds a check that is asked beyond a value only', () => {
    const late = { ...parts, checks: { ...parts.checks, late: check('x <= 1.5 m', { when: 'x > 2 m' }) } };
    const found = run(late, { x: '1 m', a: '4 m', b: '10 m' });
    expect([plain(found.limiting('x')), found.governing('x')!.check]).toEqual(['2.00 m', 'late']);
    const early = { ...parts, checks: { ...parts.checks, early: check('x <= 1.5 m', { when: 'x < 1 m' }) } };
    expect(limit(early, { x: '1 m', a: '4 m', b: '10 m' })).toBe('3.00 m');
  });

  test('is the least for a value that must be large', () => {
    const least: Parts = { ...parts, checks: { first: check('sum >= a') }, limiting: [smallest] };
    expect(limit(least, { x: '1 m', a: '4 m' })).toBe('3.00 m');
    expect(limit(least, { x: '8 m', a: '4 m' })).toBe('3.00 m');
  });

  test('is printed in the unit of the stated value, where it is as short a number there', () => {
    const third: Parts = { ...parts, checks: { first: check('3 * x <= a'), second: check('x <= 100 m') } };
    expect(limit(third, { x: '30 mm', a: '1.41 m' })).toBe('470 mm');
    // 8.3 km over 3 is 2766.67 m.
    expect(
      limit(
        { ...third, checks: { first: check('3 * x <= a'), second: check('x <= 9 km') } },
        { x: '0.5 km', a: '8.3 km' },
      ),
    ).toBe('2.766 km');
    // 5 m over 3 is 1.66 m, which is 5.446194... feet.
    expect(limit(third, { x: '1 ft', a: '5 m' })).toBe('1.66 m');
    // What is recorded stays in the declared unit.
    expect(run(third, { x: '30 mm', a: '1.41 m' }).evaluated!.limiting[0]!.result).toMatchObject({
      si: 0.47,
      unit: { text: 'm' },
    });
  });

  test('is rounded to the safe side, and as printed it complies', () => {
    const third: Parts = { ...parts, checks: { first: check('3 * x <= a'), second: check('x <= 100 m') } };
    expect(limit(third, { x: '1 m', a: '5 m' })).toBe('1.66 m');
    expect(
      limit(
        { ...third, checks: { first: check('3 * x >= a') }, limiting: [smallest] },
        { x: '1 m', a: '5 m' },
      ),
    ).toBe('1.67 m');
    // A limit that is itself a short number is printed as that number.
    expect(limit(third, { x: '1 m', a: '5.01 m' })).toBe('1.67 m');
  });
});

describe('in words', () => {
  const given = (permitted: object = {}) => ({
    x: length('x', { permitted }),
    a: length('a'),
    b: length('b'),
  });
  const window: Parts = {
    givens: given(),
    steps: { v: step('v', 'x * 1') },
    checks: { low: check('v >= a'), high: check('v <= b') },
    limiting: [largest],
  };

  test('only from one value to another where the favourable end does not comply', () => {
    expect(limit(window, { x: '3 m', a: '2.0004 m', b: '5.0004 m' })).toBe('between 2.01 m and 5.00 m only');
    expect(limit({ ...window, limiting: [smallest] }, { x: '3 m', a: '2 m', b: '5 m' })).toBe(
      'between 2.00 m and 5.00 m only',
    );
    // The stated value lies beyond the window.
    expect(limit(window, { x: '5.5 m', a: '2 m', b: '5 m' })).toBe('between 2.00 m and 5.00 m only');
  });

  test('none, any, and none up to the end that was looked at', () => {
    expect(limit(window, { x: '3 m', a: '5 m', b: '2 m' })).toBe('no value examined complies');
    expect(run(window, { x: '3 m', a: '5 m', b: '2 m' }).governing('x')!.check).toBe('high');
    const free: Parts = { ...window, checks: { it: check('a <= b + 0 * v') } };
    expect(limit(free, { x: '3 m', a: '1 m', b: '2 m' })).toBe('no limit up to 3.00 × 10⁶ m');
    expect(
      limit({ ...free, givens: given({ above: '0 m', to: '9 m' }) }, { x: '3 m', a: '1 m', b: '2 m' }),
    ).toBe('every permitted value examined complies');
    expect(limit({ ...free, limiting: [smallest] }, { x: '3 m', a: '1 m', b: '2 m' })).toBe(
      'no limit down to 0 m',
    );
    expect(
      limit(
        { ...free, limiting: [smallest], givens: given({ from: '0 m' }) },
        { x: '3 m', a: '1 m', b: '2 m' },
      ),
    ).toBe('every permitted value examined complies');
  });

  test('a stated nought is looked at from there up to what is usual and far beyond', () => {
    const at = (x: string, a: string) => limit({ ...window, checks: { high: check('v <= a') } }, { x, a });
    expect([at('0 m', '0.003 m'), at('0 m', '7 m'), at('0 m', '20000 m')]).toEqual([
      '0.00300 m',
      '7.00 m',
      '20000 m',
    ]);
  });

  test('where nought is at the limit already, nothing is left, however little the given does to what is judged', () => {
    const slight: Parts = {
      ...window,
      steps: { v: step('v', 'a + x / 40') },
      checks: { high: check('v <= b'), fixed: check('a <= a') },
    };
    const at = (x: string, a: string, b: string) => limit(slight, { x, a, b });
    // x / 40 stays within 1e-9 of 3 m, at which values count as equal, up to some 1.2e-7 m.
    expect(at('0.2 m', '3 m', '3 m')).toBe('0 m');
    expect(at('0 m', '3 m', '3 m')).toBe('0 m');
    // A check at its limit on which the given has no effect takes nothing from it.
    expect(at('0.2 m', '3 m', '3.01 m')).toBe('0.400 m');
    expect(at('0.2 m', '3 m', '2.9 m')).toBe('no value examined complies');
  });

  test('a negative stated value is among those tried', () => {
    expect(limit({ ...window, checks: { high: check('v <= a') } }, { x: '-4 m', a: '-2 m' })).toMatch(
      /^[-−]2\.00 m$/,
    );
  });

  test('where values beyond comply again it does not claim to be the only stretch', () => {
    const twice: Parts = {
      ...window,
      steps: { v: step('v', '(x - 4 m)^2 / 1 m') },
      checks: { it: check('v >= 1 m') },
      givens: given({ from: '0 m', to: '10 m' }),
    };
    expect(limit(twice, { x: '1 m', a: '1 m', b: '1 m' })).toBe(
      'between 0 m and 3.00 m; some values outside comply too',
    );
    expect(limit(twice, { x: '6 m', a: '1 m', b: '1 m' })).toBe(
      'between 5.00 m and 10.0 m; some values outside comply too',
    );
  });

  test('that the method ends on the favourable side takes nothing from the value', () => {
    const long = { long: { requires: 'x <= 40 m', otherwise: 'error', text: 'up to 40 m' } } as const;
    const least: Parts = {
      ...window,
      checks: { low: check('v >= a') },
      limiting: [smallest],
      validity: long,
    };
    expect(limit(least, { x: '3 m', a: '2.5 m' })).toBe('2.50 m');
    expect(
      limit(
        { ...least, checks: { low: check('v >= a'), high: check('v <= b') } },
        { x: '3 m', a: '2.5 m', b: '30 m' },
      ),
    ).toBe('between 2.50 m and 30.0 m only');
  });

  test('where the method ends before any check fails, its limit is named', () => {
    const parts: Parts = {
      ...window,
      checks: { high: check('v <= b') },
      validity: { short: { requires: 'x <= 4 m', otherwise: 'error', text: 'up to 4 m' } },
    };
    const found = run(parts, { x: '3 m', b: '5 m' });
    expect([plain(found.limiting('x')), found.governing('x')]).toEqual([
      '4.00 m',
      { check: undefined, words: 'limit of the method: up to 4 m' },
    ]);
    const refusing: Parts = {
      ...parts,
      validity: {},
      steps: {
        v: {
          symbol: 'v',
          meaning: 'v',
          unit: 'm',
          basis,
          needs: ['x'],
          method: 'm',
          solve: (v: SolverValues) => (v.number('x') > 4 ? { refused: 'no' } : v.number('x')),
        },
      },
    };
    expect(run(refusing, { x: '3 m', b: '5 m' }).governing('x')).toEqual({
      check: undefined,
      words: 'the method gives no value there',
    });
  });
});

describe('whole numbers', () => {
  /** Like a table: nothing between whole numbers. */
  const solve = (v: SolverValues) => (Number.isInteger(v.number('x')) ? 3 * v.number('x') : Number.NaN);
  const parts: Parts = {
    givens: { x: number('x', { whole: true, permitted: { from: '1' } }), a: number('a') },
    steps: { v: { symbol: 'v', meaning: 'v', unit: '1', basis, needs: ['x'], method: 'm', solve } },
    checks: { it: check('v <= a') },
    limiting: [largest],
  };

  test.each([
    ['2', '100', '33'],
    ['2', '99', '33'],
    ['3', '120', '40'],
    ['60', '100', '33'],
    ['2', '7', '2'],
    ['2', '2', 'no value examined complies'],
  ])('from %s with a limit of %s: %s', (x, a, expected) => {
    expect(limit(parts, { x, a })).toBe(expected);
  });

  test('the least is rounded up', () => {
    expect(
      limit({ ...parts, checks: { it: check('v >= a') }, limiting: [smallest] }, { x: '50', a: '100' }),
    ).toBe('34');
  });
});

describe('with ranges', () => {
  const parts: Parts = {
    givens: { x: length('x', { permitted: { above: '0 m' } }), a: number('a'), b: number('b') },
    steps: { v: step('v', 'x * a * b') },
    checks: { it: check('v <= 12 m') },
    limiting: [largest],
  };

  test('of other givens it holds at their least favourable points', () => {
    expect(limit(parts, { x: '1 m', a: '2', b: '1' })).toBe('6.00 m');
    expect(limit(parts, { x: '1 m', a: '2; 1 .. 3', b: '1; 1 .. 2' })).toBe('2.00 m');
  });

  test('its own range does not bind it', () => {
    expect(limit(parts, { x: '1 m; 0.5 m .. 50 m', a: '2', b: '1' })).toBe('6.00 m');
    expect(limit(parts, { x: '1 m; 0.5 m .. 50 m', a: '2; 1 .. 3', b: '1' })).toBe('4.00 m');
  });

  test('the least favourable point is looked for again at the limiting value', () => {
    // 20 m + 2 a + x (3 - a): at x = 1 m greatest with a = 3, which gives 26 m whatever x; beyond x = 2 m with a = 1.
    const turning: Parts = {
      ...parts,
      steps: { v: step('v', '20 m + a * (2 m - x) + 3 * x') },
      checks: { it: check('v <= 41 m') },
    };
    // 22 m + 2 x <= 41 m up to 9.5 m.
    expect(limit(turning, { x: '1 m', a: '2; 1 .. 3', b: '1' })).toBe('9.50 m');
  });

  test('a limit at an interior point of another range is found', () => {
    const variants = [{ when: 'a <= 2.3', formula: 'x * a' }, { formula: 'x * 1' }];
    const inner: Parts = { ...parts, steps: { v: { ...step('v', ''), variants } as StepDefinition } };
    // 12 m / 2.3 = 5.217 m.
    expect(limit(inner, { x: '1 m', a: '1; 0 .. 8', b: '1' })).toBe('5.21 m');
  });
});
