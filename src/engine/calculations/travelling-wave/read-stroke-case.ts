import type { SolverValues } from '../../definition/definition.ts';
import { readTerminalPath } from './read-terminal-surge.ts';
import type { StrokeCase } from './simulate-strokes.ts';

/** Where the two branches of the current's distribution meet, amperes. CIGRE TB 63 (from memory). */
const TURN = 20e3;

/** The values of the calculation as a sample of strokes to simulate. */
export function readStrokeCase(values: SolverValues): StrokeCase {
  const number = (name: string): number => values.number(name);
  return {
    path: readTerminalPath(values),
    distribution: {
      lowCurrent: { median: number('low_median'), deviation: number('low_deviation') },
      highCurrent: { median: number('high_median'), deviation: number('high_deviation') },
      turn: TURN,
      steepness: { median: number('median_steepness'), deviation: number('steepness_deviation') },
      correlation: number('correlation'),
    },
    size: number('strokes'),
    seed: number('seed'),
    tailTime: number('tail_time'),
    flashover: values.optionalNumber('line_flashover') ?? Number.POSITIVE_INFINITY,
  };
}
