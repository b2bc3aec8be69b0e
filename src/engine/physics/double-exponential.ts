import type { Waveform } from './waveform.ts';

/** The instant of the crest of exp(-a t) - exp(-b t) with a < b (rates in 1/s), in seconds. */
export function doubleExponentialCrestTime(tailRate: number, frontRate: number): number {
  return Math.log(frontRate / tailRate) / (frontRate - tailRate);
}

/**
 * amplitude (exp(-a t) - exp(-b t)), rates in 1/s. The crest is lower than the amplitude; divide the wanted
 * crest by the value that the function has at `doubleExponentialCrestTime` with amplitude 1.
 */
export function doubleExponential(amplitude: number, tailRate: number, frontRate: number): Waveform {
  return {
    at: (time) => (time > 0 ? amplitude * (Math.exp(-tailRate * time) - Math.exp(-frontRate * time)) : 0),
    jumps: [],
    corners: [0],
    shortestTime: 1 / Math.max(tailRate, frontRate),
  };
}
