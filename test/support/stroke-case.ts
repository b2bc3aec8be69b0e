import type { StrokeCase } from '../../src/engine/calculations/travelling-wave/simulate-strokes.ts';

/**
 * Strokes to the line before an arrester on a pole, with the distribution of peak and steepness of negative first strokes of CIGRE Technical
 * Brochure 63 (from memory). The pole is invented.
 */
export function strokeCase(
  path: Partial<StrokeCase['path']> = {},
  changed: Partial<Omit<StrokeCase, 'path'>> = {},
): StrokeCase {
  return {
    path: {
      arrangement: 'common-earth',
      lineLead: 1,
      earthLead: 6,
      bondPosition: 2,
      arresterHeight: 0.3,
      tailLength: 0,
      leadInductance: 1e-6,
      earthResistance: 15,
      lineImpedance: 400,
      distance: 8,
      velocity: 3e8,
      connectionImpedance: 400,
      connectionReturn: 'earth',
      capacitance: 1e-9,
      characteristic: { exponent: 30, coefficient: 10e3 / 33e3 ** 30 },
      tolerance: 0.01,
      ...path,
    },
    distribution: {
      lowCurrent: { median: 61e3, deviation: 1.33 },
      highCurrent: { median: 33.3e3, deviation: 0.605 },
      turn: 20e3,
      steepness: { median: 24.3e9, deviation: 0.599 },
      correlation: 0.38,
    },
    size: 8,
    seed: 1,
    tailTime: 75e-6,
    flashover: 300e3,
    ...changed,
  };
}
