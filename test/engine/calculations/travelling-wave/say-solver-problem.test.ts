import { expect, test } from 'vitest';
import { saySolverProblem } from '../../../../src/engine/calculations/travelling-wave/say-solver-problem.ts';
import type { SolverProblem } from '../../../../src/engine/transient/solver-problem.ts';
import { ENGLISH } from '../../../../src/words/words.ts';

test.each<[SolverProblem, readonly string[]]>([
  [
    {
      code: 'not-converged',
      element: 'SA1',
      time: 1.234e-6,
      voltage: 45.6e3,
      current: 789,
      residual: 12.3,
      iterations: 500,
    },
    ["'SA1'", '1.23 us', '45.6 kV', '789 A', '12.3 V', '500 iterations'],
  ],
  [
    { code: 'energy-imbalance', supplied: 1000, accounted: 900, relative: 0.1, limit: 0.01, step: 5e-9 },
    ['10.0 %', '1.00 %', '5.00 ns', '1000 J', '900 J'],
  ],
  [
    { code: 'step-not-settled', step: 1e-9, halvings: 12, change: 0.02, tolerance: 0.001 },
    ['12 halvings', '1.00 ns', '2.00 %', '0.100 %'],
  ],
])('$0.code names element, time and values', (fault, said) => {
  const words = ENGLISH.word(saySolverProblem(fault));
  for (const part of said) expect(words).toContain(part);
});
