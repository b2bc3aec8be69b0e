import { raise } from './raise.ts';
import type { Waveform } from './waveform.ts';

/** Constants of a Heidler function: times in seconds, `exponent` and `correction` pure numbers. */
export interface HeidlerConstants {
  readonly exponent: number;
  readonly frontConstant: number;
  readonly tailConstant: number;
  /** The factor k by which the peak is divided; computed from the other constants where it is absent. */
  readonly correction?: number;
}

export type LightningStroke = '10/350' | '1/200' | '0.25/100';

/** IEC 62305-1, Annex B (from memory): first positive, first negative and subsequent stroke. */
export const lightningStrokes: Readonly<Record<LightningStroke, Required<HeidlerConstants>>> = {
  '10/350': { exponent: 10, frontConstant: 19e-6, tailConstant: 485e-6, correction: 0.93 },
  '1/200': { exponent: 10, frontConstant: 1.82e-6, tailConstant: 285e-6, correction: 0.986 },
  '0.25/100': { exponent: 10, frontConstant: 0.454e-6, tailConstant: 143e-6, correction: 0.993 },
};

/** Peak correction k = exp(-(T1/T2) (n T2/T1)^(1/n)) with front constant T1 and tail constant T2, a pure number. */
export function heidlerCorrection({ exponent, frontConstant, tailConstant }: HeidlerConstants): number {
  const ratio = frontConstant / tailConstant;
  return Math.exp(-ratio * (exponent / ratio) ** (1 / exponent));
}

/**
 * Heidler function i = (I/k) x/(1 + x) exp(-t/T2), x = (t/T1)^n.
 *
 * Where k is the standard's rounded one the peak differs from `peak` by about 0.1 %; without k it is computed, and
 * the peak then misses by the error of that formula alone (a few parts in a thousand at most for n = 10).
 */
export function heidler(peak: number, constants: HeidlerConstants): Waveform {
  const { exponent, frontConstant, tailConstant } = constants;
  const amplitude = peak / (constants.correction ?? heidlerCorrection(constants));
  const at = (time: number): number => {
    if (time <= 0) return 0;
    const x = raise(time / frontConstant, exponent);
    // For large x the quotient is 1, also where x itself overflows.
    return (amplitude / (1 + 1 / x)) * Math.exp(-time / tailConstant);
  };
  return { at, jumps: [], corners: [], shortestTime: frontConstant / exponent };
}

/** Lightning stroke of the standard's three shapes, `peak` in amperes. */
export function lightningStroke(stroke: LightningStroke, peak: number): Waveform {
  return heidler(peak, lightningStrokes[stroke]);
}
