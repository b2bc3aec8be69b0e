import { expect, test } from 'vitest';
import { saySolverProblem } from '../../../src/engine/calculations/travelling-wave/say-solver-problem.ts';
import { piecewiseLinear } from '../../../src/engine/physics/piecewise-linear.ts';
import { stepWaveform } from '../../../src/engine/physics/waveform.ts';
import { chooseStep } from '../../../src/engine/transient/choose-step.ts';
import type { SurgeElement } from '../../../src/engine/transient/element.ts';
import { incomingWave } from '../../../src/engine/transient/elements/incoming-wave.ts';
import { line } from '../../../src/engine/transient/elements/line.ts';
import { resistor } from '../../../src/engine/transient/elements/resistor.ts';
import { simulate } from '../../../src/engine/transient/simulate.ts';
import { simulateToTolerance } from '../../../src/engine/transient/simulate-to-tolerance.ts';
import type { SolverProblem } from '../../../src/engine/transient/solver-problem.ts';
import { ENGLISH } from '../../../src/words/words.ts';
import { voltageAt } from './solved.ts';

// What a network asks for is told before memory or time is spent on it: without that the cases here would not end, or find no memory.

const wordSolverProblem = (fault: SolverProblem): string => ENGLISH.word(saySolverProblem(fault));

const wave = (surgeImpedance = 400) =>
  incomingWave({ name: 'W', node: 'a', reference: 'earth', surgeImpedance, waveform: stepWaveform(1e5) });
const stretch = (name: string, from: string, to: string, delay: number) =>
  line({ name, from, to, surgeImpedance: 300, delay });
const ohms = (name: string, node: string, resistance = 50) =>
  resistor({ name, from: node, to: 'earth', resistance });

const wordsOf = (
  elements: readonly SurgeElement[],
  duration: number,
  step: number,
  observed = 1,
): string[] => {
  const observe = Array.from({ length: observed }, () => voltageAt('a'));
  const outcome = simulate({ elements }, { duration, step, observe });
  return outcome.ok ? [] : outcome.problems.map((problem) => wordSolverProblem(problem));
};

test('a line whose waves would fill the memory names the line, its time and the step', () => {
  const [words, ...others] = wordsOf(
    [wave(), stretch('short', 'a', 'b', 1e-7), stretch('long', 'b', 'c', 3.7)],
    1e-6,
    1e-9,
  );
  expect(others).toEqual([]);
  expect(words).toMatch(/^a wave needs 3\.70e6 us along 'long', or 3700000000 steps of 1\.00 ns; /);
});

test('many observed values, and many elements over many steps', () => {
  expect(wordsOf([wave(), ohms('R', 'a')], 4e-3, 1e-9, 9)[0]).toMatch(
    /^4000000 steps of 1\.00 ns with 9 voltages/,
  );
  const many = Array.from({ length: 700 }, (_, i) => ohms(`R${i}`, 'a'));
  expect(wordsOf([wave(), ...many], 2e-3, 1e-9)[0]).toMatch(/^2000000 steps of 1\.00 ns with 701 elements/);
});

test('the search for a step ends where the shortest line is long against the duration', () => {
  expect(chooseStep([stretch('L', 'a', 'b', 1e250)], 1e-6)).toBe(5e-9);
  const outcome = simulateToTolerance(
    { elements: [wave(), stretch('L', 'a', 'b', 1e30)] },
    { duration: 1e-6, observe: [voltageAt('a')] },
  );
  expect(outcome.ok ? [] : outcome.problems.map(({ code }) => code)).toEqual(['line-too-long']);
});

test.each([
  ['one unknown voltage', [wave(1e-310), ohms('R', 'a')]],
  [
    'several',
    [wave(), resistor({ name: 'tiny', from: 'a', to: 'b', resistance: 1e-14 }), ohms('huge', 'b', 1e9)],
  ],
])('values too far apart are named, of a part of the network with %s', (_, elements) => {
  const [words] = wordsOf(elements, 1e-6, 1e-8);
  expect(words).toMatch(/^the values of .* are too far apart|beyond the numbers that can be computed with$/);
});

test('a value that is infinite is not said to be one that must be above zero', () => {
  const words = wordsOf([wave(), ohms('R', 'a', Number.POSITIVE_INFINITY), ohms('Q', 'a', -3)], 1e-6, 1e-8);
  expect(words).toEqual([
    "'R': its resistance is beyond the numbers that can be computed with",
    "'Q': resistance of -3 must be above zero",
  ]);
});

test('no problem of the solver is worded with NaN or Infinity', () => {
  const [nan, infinite] = [Number.NaN, Number.POSITIVE_INFINITY];
  const words = [
    wordSolverProblem({ code: 'step-not-settled', step: 1e-9, halvings: 12, change: nan, tolerance: 1e-3 }),
    wordSolverProblem({ code: 'too-many-steps', steps: infinite, limit: 5, step: 1e-300 }),
    wordSolverProblem({
      code: 'energy-imbalance',
      supplied: infinite,
      accounted: nan,
      relative: nan,
      limit: 0.01,
      step: 1e-9,
    }),
  ];
  for (const line of words) expect(line).not.toMatch(/NaN|Infinity/);
});

test('a network that stays within the bounds runs as before', () => {
  const corner = piecewiseLinear([
    [0, 0],
    [1e-6, 1e5],
  ]);
  const source = incomingWave({
    name: 'W',
    node: 'a',
    reference: 'earth',
    surgeImpedance: 400,
    waveform: corner,
  });
  expect(wordsOf([source, stretch('L', 'a', 'b', 1e-6), ohms('R', 'b')], 5e-6, 1e-8)).toEqual([]);
});
