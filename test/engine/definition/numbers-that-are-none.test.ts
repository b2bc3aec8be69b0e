import { expect, test } from 'vitest';
import { wordMessage } from '../../../src/diagnostics/messages.ts';
import { commonPractice } from '../../../src/engine/definition/basis.ts';
import { defineCalculation } from '../../../src/engine/definition/define-calculation.ts';
import type { SolverResult } from '../../../src/engine/definition/definition.ts';
import type { FigureView } from '../../../src/engine/definition/figure-view.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import { drawChart } from '../../../src/engine/figures/chart.ts';

const basis = commonPractice();

interface Parts {
  readonly solve?: (lengths: readonly number[]) => SolverResult;
  readonly gives?: 'list';
  readonly unit?: string;
  readonly formula?: string;
  readonly draw?: (view: FigureView) => string;
}

/** A calculation of one solver step over lengths, and of one formula over its drop. */
function trial({ solve = () => 1, gives, unit = 'kV', formula = 'length * 1 V/m', draw }: Parts) {
  const calculation = defineCalculation({
    name: 'trial',
    title: 'Trial',
    purpose: 'Tries values that are no numbers.',
    givens: {
      lengths: { type: 'list', symbol: 'l_i', meaning: 'lengths of the leads', unit: 'm' },
      length: { type: 'quantity', symbol: 'l', meaning: 'length of the lead', unit: 'm' },
    },
    steps: {
      drop: {
        symbol: 'U',
        meaning: 'drop along the leads',
        unit,
        basis,
        needs: ['lengths'],
        method: 'trial',
        solve: (values) => solve(values.list('lengths')),
        ...(gives ? { gives } : {}),
      },
      whole: { symbol: 'W', meaning: 'drop along the lead', unit, basis, formula },
    },
    ...(draw ? { figure: { caption: 'Trial', draw } } : {}),
    evidence: [],
  });
  return (lengths: readonly string[], length = '2 m') =>
    runCalculation(calculation, evidenceInputs(calculation, { lengths, length }));
}

const messages = (outcome: ReturnType<ReturnType<typeof trial>>): string[] =>
  outcome.ok
    ? []
    : outcome.faults.map(({ problem }) => wordMessage(problem.code, problem.data as never).message);

test.each<[string, Parts, string]>([
  [
    'no number',
    { solve: () => Number.NaN },
    'no solution was found for drop along the leads (from lengths = 3 m; 4 m)',
  ],
  [
    'an item of a list that is none',
    { gives: 'list', solve: (l) => l.map((x) => (x === 4 ? Number.NaN : x)) },
    'no solution was found for item 2 of drop along the leads (from lengths = 3 m; 4 m)',
  ],
  [
    'an infinite item',
    { gives: 'list', solve: (l) => l.map((x) => 1 / (x - 3)) },
    'item 1 of drop along the leads is beyond the numbers that can be computed with (from lengths = 3 m; 4 m)',
  ],
  [
    'minus infinity',
    { solve: () => Number.NEGATIVE_INFINITY },
    'drop along the leads is beyond the numbers that can be computed with (from lengths = 3 m; 4 m)',
  ],
  [
    'a number that its unit makes infinite',
    { unit: 'uV', solve: () => 1e305 },
    'drop along the leads is beyond the numbers that can be computed with (from lengths = 3 m; 4 m)',
  ],
])('a solver step that gives %s is a fault with its values', (_, parts, message) => {
  expect(messages(trial(parts)(['3 m', '4 m']))).toEqual([message]);
});

test.each([
  ['length * 1e200 V/m', '1e120 m'],
  ['length * 1e300 V/m / 1e10', '2 m'],
])('so is the formula %s at %s', (formula, length) => {
  const [message, ...others] = messages(trial({ formula })(['1 m'], length));
  expect(others).toEqual([]);
  expect(message).toMatch(/beyond the numbers that can be computed with/);
  expect(message).not.toMatch(/NaN|Infinity/);
});

test('a long list of values is abridged in a message', () => {
  const many = Array.from({ length: 90 }, (_, i) => `${i + 1} m`);
  expect(messages(trial({ solve: () => Number.NaN })(many))).toEqual([
    'no solution was found for drop along the leads (from lengths = 1 m; 2 m; 3 m; ... (90 items))',
  ]);
});

test.each<[string, (view: FigureView) => string]>([
  [
    'cannot be shown on an axis',
    (view) =>
      drawChart({
        title: 'Trial',
        x: { label: 'x' },
        y: { label: 'y' },
        curves: [{ label: 'c', points: [{ x: 0, y: view.number('length') / 0 }] }],
      }),
  ],
  ['are not there', (view) => `${view.number('count')}`],
])('a figure whose values %s is left out, and the note says so', (_, draw) => {
  const outcome = trial({ draw })(['1 m']);
  expect(outcome.ok && outcome.evaluated.figure).toBe(undefined);
  expect(outcome.ok && outcome.evaluated.cautions.map(({ id }) => id)).toEqual(['figure-left-out']);
});

test('a mistake of the figure itself is not hidden', () => {
  const draw = (): string => {
    throw new TypeError('a mistake');
  };
  expect(() => trial({ draw })(['1 m'])).toThrow('a mistake');
});
