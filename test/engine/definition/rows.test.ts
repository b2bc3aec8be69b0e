import { expect, test } from 'vitest';
import type { GivenDefinition, StepDefinition } from '../../../src/engine/definition/definition.ts';
import { findUnused } from '../../../src/engine/definition/find-unused.ts';
import type { MathPiece } from '../../../src/formula/math-piece.ts';
import { writeTex } from '../../../src/page/math/write-tex.ts';
import { expectRecomputable } from '../../support/expect-recomputable.ts';
import { basis, check, compiled, faultsOf, inputsOf, length, number, run } from './made-up.ts';

function tex(piece: MathPiece | undefined): string | undefined {
  return piece && writeTex(piece);
}

const metal: GivenDefinition = {
  type: 'choice',
  symbol: '\\text{metal}_i',
  meaning: 'metal of the bar',
  options: { copper: 'copper', steel: 'steel' },
};
const strain = { type: 'quantity', unit: '1', meaning: 'strain', symbol: 's_k' } as const;

/** Bars of some metal, loads on all of them, more of the bars in a second table, and one frame around them. */
const givens = {
  bars: {
    type: 'rows',
    meaning: 'bars',
    least: 0,
    columns: { length: length('l_i'), metal },
  },
  more: {
    type: 'rows',
    meaning: 'strains of the bars',
    alongside: 'bars',
    columns: { allowed: { ...strain, symbol: 'a_i' } },
  },
  loads: { type: 'rows', meaning: 'loads', index: 'k', columns: { strain } },
  frame: {
    type: 'rows',
    meaning: 'frame',
    single: true,
    columns: {
      width: length('W', { default: { value: '3 m', basis } }),
      metal: { ...metal, symbol: 'm', default: { value: 'steel', basis } },
    },
  },
} satisfies Record<string, GivenDefinition>;

const words = { meaning: 'made up', basis };
const factors = { copper: '2', steel: '5' };
const steps = {
  factor_: {
    ...words,
    symbol: 'f_i',
    unit: '1',
    over: 'bars',
    table: { by: ['bars.metal'], values: factors },
  },
  frame_factor: {
    ...words,
    symbol: 'f_0',
    unit: '1',
    table: { by: ['frame.metal'], values: factors },
  },
  scaled_: {
    ...words,
    symbol: 'L_i',
    unit: 'm',
    over: 'bars',
    formula: 'factor_ * bars.length + frame.width',
  },
  share_: { ...words, symbol: 'q_i', unit: '1', over: 'bars', formula: 'bars.length / sum(bars.length)' },
  work: {
    ...words,
    symbol: 'w',
    unit: 'm',
    formula: 'sum(scaled_ * sum(loads.strain * more.allowed over loads) over bars)',
  },
  left: { ...words, symbol: 'r', unit: '1', formula: 'product(1 - more.allowed over bars)' },
  copper: {
    ...words,
    symbol: 'c',
    unit: 'm',
    formula: 'sum((bars.length when bars.metal is copper; 0 m otherwise) over bars)',
  },
} satisfies Record<string, StepDefinition>;
const parts = { givens, steps };

const bars = [
  { length: '4 m', metal: 'copper' },
  { length: '1.5 m', metal: 'steel' },
  { length: '2.5 m', metal: 'copper' },
];
const more = [{ allowed: 0.1 }, { allowed: 0.2 }, { allowed: 0.25 }];
const written = {
  bars,
  more,
  loads: [{ strain: 3 }, { strain: 4 }],
  frame: [{ width: '2 m', metal: 'copper' }],
};

const items = (result: ReturnType<ReturnType<typeof run>['step']>['result']) =>
  result.type === 'list' ? result.items.map(({ si }) => si) : result;

test('each row has its factor from the table, its value, and its part of sums and products', () => {
  const ran = run(parts, written);
  expect(items(ran.step('factor_').result)).toEqual([2, 5, 2]);
  expect(ran.result('frame_factor')).toBe(2);
  // By hand: 2·4 + 2, 5·1.5 + 2, 2·2.5 + 2.
  expect(items(ran.step('scaled_').result)).toEqual([10, 9.5, 7]);
  expect(items(ran.step('share_').result)).toEqual([0.5, 0.1875, 0.3125]);
  // (3 + 4)·(10·0.1 + 9.5·0.2 + 7·0.25) = 32.55; 0.9·0.8·0.75 = 0.54; 4 + 2.5.
  expect(ran.result('work')).toBeCloseTo(32.55, 12);
  expect(ran.result('left')).toBeCloseTo(0.54, 12);
  expect(ran.result('copper')).toBe(6.5);
});

test('the formula is printed once with its index, and a row for each item with its numbers; every line recomputes', () => {
  const ran = run(parts, written);
  const { formula, numbers, rows } = ran.step('scaled_');
  expect({
    formula: tex(formula),
    numbers,
    rows: rows!.map(({ symbol, numbers: one }) => ({ symbol, numbers: tex(one) })),
  }).toEqual({
    formula: 'f_i\\,l_i + W',
    numbers: undefined,
    rows: [
      { symbol: 'L_1', numbers: '2.00 \\cdot 4\\,\\mathrm{m} + 2\\,\\mathrm{m}' },
      { symbol: 'L_2', numbers: '5.00 \\cdot 1.5\\,\\mathrm{m} + 2\\,\\mathrm{m}' },
      { symbol: 'L_3', numbers: '2.00 \\cdot 2.5\\,\\mathrm{m} + 2\\,\\mathrm{m}' },
    ],
  });
  expect(tex(ran.step('work').formula)).toBe('\\sum_{i} L_i\\,\\sum_{k} s_k\\,a_i');
  expect(tex(ran.step('left').formula)).toBe(
    '\\prod_{i} \\left(1 - a_i\\right)'.replace(/\\left|\\right/g, ''),
  );
  expect(tex(ran.step('left').numbers)).toBe('(1 - 0.1) \\cdot (1 - 0.2) \\cdot (1 - 0.25)');
  expect(tex(ran.step('copper').numbers)).toBe('4\\,\\mathrm{m} + 0\\,\\mathrm{m} + 2.5\\,\\mathrm{m}');
  expect(ran.step('factor_').origin).toBe('from the table, by metal of the bar: copper; steel; copper');
  const recomputed = ran.evaluated!.steps.map((step) => expectRecomputable(step));
  expect(recomputed.filter(Boolean)).toHaveLength(5);
});

test('one row beside another table holds for all its rows', () => {
  const ran = run(parts, { ...written, more: [{ allowed: 0.5 }] });
  expect(ran.result('left')).toBe(0.125);
  expect(tex(ran.step('left').numbers)).toBe('(1 - 0.5) \\cdot (1 - 0.5) \\cdot (1 - 0.5)');
});

test('tables that may be left out have no rows, or their one row of defaults', () => {
  const { bars: _, frame: __, more: ___, ...rest } = written;
  const ran = run(parts, { ...rest, more: [{ allowed: 0.5 }] });
  expect([ran.result('work'), ran.result('left'), ran.result('frame_factor')]).toEqual([0, 1, 5]);
  expect(ran.evaluated!.steps.map(({ name }) => name)).not.toContain('scaled_');
  const framed = ran.evaluated!.givens.find(({ name }) => name === 'frame');
  expect(framed).toMatchObject({ origin: 'default', print: 'width 3\u00a0m, metal steel' });
  expect(ran.evaluated!.givens.find(({ name }) => name === 'bars')?.print).toBe('none');
});

test('a wrong number of rows is told with what to write', () => {
  const ran = run(parts, { ...written, more: more.slice(1), frame: [...written.frame, ...written.frame] });
  expect(ran.faults).toEqual([
    "'more' has 2 rows, and 'bars' has 3",
    "'frame' takes one row, and 2 are written",
  ]);
});

test('an option without a line in the table is refused, and a row whose formula has no value is named', () => {
  const { copper: _, ...table } = factors;
  const narrow = { ...steps.factor_, table: { by: ['bars.metal'], values: table } };
  expect(faultsOf({ givens, steps: { ...steps, factor_: narrow } }).join()).toContain(
    "no value for 'copper'",
  );
  const odd = { ...words, symbol: 'o_i', unit: '1', over: 'bars', formula: '1 m / (bars.length - 1.5 m)' };
  const divided = run({ givens, steps: { odd } }, written).outcome;
  expect(divided.ok || divided.faults[0]).toMatchObject({ given: 'bars', item: 1 });
});

test('conditions of limits and cautions are asked of each row, and name those concerned', () => {
  const limited = {
    ...parts,
    validity: {
      'long-steel': {
        requires: 'not bars.metal is steel or bars.length < 1 m',
        over: 'bars',
        otherwise: 'error' as const,
        text: 'bar {rows} is of steel and long',
        given: 'bars.length',
        instead: 'cut it',
      },
    },
    cautions: {
      few: { when: 'more.allowed < 0.22', over: 'bars', text: 'Strained little: bar {rows}.' },
    },
  };
  const refused = run(limited, written);
  expect(refused.faults).toEqual(['bar 2 is of steel and long']);
  expect(refused.outcome.ok || refused.outcome.faults[0]).toMatchObject({
    given: 'bars',
    column: 'length',
    item: 1,
  });
  const ran = run(limited, { ...written, bars: bars.with(1, { length: '0.5 m', metal: 'steel' }) });
  expect(ran.evaluated!.cautions).toEqual([{ id: 'few', text: 'Strained little: bars 1 and 2.' }]);
});

test('formulas that leave open which row is meant are refused', () => {
  const step = (formula: string, over?: string, unit = 'm') => ({
    ...words,
    symbol: 'x_i',
    unit,
    formula,
    ...(over === undefined ? {} : { over }),
  });
  const fault = (formula: string, over?: string, unit?: string) =>
    faultsOf({ givens, steps: { x: step(formula, over, unit) } }).join();
  expect(fault('bars.length')).toContain("'bars.length' is a list");
  expect(fault('loads.strain * bars.length', 'bars')).toContain("'loads.strain' is a list");
  expect(fault('sum(bars.length * loads.strain)')).toContain(
    'over which rows it runs, as in sum(... over bars)',
  );
  // Within a step over bars, the loads alone are left to run over.
  expect(fault('sum(bars.length * loads.strain)', 'bars')).toBe('');
  expect(fault('sum(bars.length over bar)')).toContain("did you mean 'bars'?");
  expect(fault('sum(frame.width over bars)')).toContain('runs over a list');
  expect(fault('product(bars.length over bars)')).toContain("'product' takes a pure number");
  expect(fault('sqrt(bars.length over bars)')).toContain("'sqrt' does not run over the rows");
  expect(fault('1 m when bars.metal is copper; 2 m otherwise')).toContain('an option for each row');
  expect(fault('1 m', 'frame')).toContain("no table 'frame'");
  expect(faultsOf({ givens, steps: { x: { ...steps.factor_, over: 'loads' } } }).join()).toContain(
    'option for each row',
  );
});

test('a table of which no column is looked at is written for nothing', () => {
  const calculation = compiled({ givens, steps: { left: steps.left }, checks: { left: check('left <= 1') } });
  const unused = findUnused(calculation, inputsOf(calculation, written));
  expect(unused).toEqual(['bars', 'loads', 'frame']);
});

test('a method may work the steps before it again with other givens', () => {
  const again: StepDefinition = {
    ...words,
    symbol: 'n',
    unit: '1',
    needs: ['frame_factor'],
    method: 'again',
    solve: (values) => {
      const steel = values.again({ 'frame.metal': 'steel' });
      return 10 * steel.number('frame_factor') + steel.again({ 'frame.width': 1 }).number('frame_factor');
    },
  };
  const ran = run(
    {
      givens,
      steps: {
        frame_factor: steps.frame_factor,
        again,
        after: { ...words, symbol: 'z', unit: '1', formula: 'again + 1' },
      },
    },
    written,
  );
  expect([ran.result('frame_factor'), ran.result('again'), ran.result('after')]).toEqual([2, 55, 56]);
});

test('numbers put in get digits until each row recomputes', () => {
  const third = { ...words, symbol: 't_i', unit: 'm', over: 'bars', formula: 'bars.length / 3' };
  const apart = {
    ...words,
    symbol: 'd_i',
    unit: 'm',
    over: 'bars',
    formula: 'third_ - 0.333 * bars.length',
  };
  const ran = run({ givens, steps: { third_: third, apart } }, written);
  expect(expectRecomputable(ran.step('apart'))).toBe(true);
  expect(tex(ran.step('apart').rows![0]!.numbers)).toContain('1.333');
});

test('number() columns keep the digits that were written', () => {
  const two = { ...words, symbol: 'u_i', unit: '1', over: 'bars', formula: 'more.allowed * 2' };
  const ran = run(
    { givens: { ...givens, x: number('x') }, steps: { two } },
    { ...written, more: [{ allowed: '0.123456' }] },
  );
  expect(ran.step('two').rows!.map(({ numbers }) => tex(numbers))).toEqual(
    Array(3).fill('0.123456 \\cdot 2'),
  );
});

test('of twenty rows every term is printed, and the line recomputes', () => {
  const total = { ...words, symbol: 't', unit: 'm', formula: 'sum(third_ * bars.length / (1 m))' };
  const third_ = { ...words, symbol: 't_i', unit: 'm', over: 'bars', formula: 'bars.length / 3' };
  const many = Array.from({ length: 20 }, (_, i) => ({ length: `${1.1 * (i + 1)} m`, metal: 'steel' }));
  const ran = run({ givens, steps: { third_, total } }, { ...written, bars: many, more: [{ allowed: 0.1 }] });
  expect(expectRecomputable(ran.step('total'))).toBe(true);
  // By hand: 1.1² / 3 times the sum of the squares from 1 to 20, which is 2870.
  expect(ran.result('total')).toBeCloseTo((1.21 / 3) * 2870, 9);
});
