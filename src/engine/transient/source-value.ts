import type { Waveform } from '../physics/waveform.ts';

/** A value read this share of a step early is the one from before a jump at the very end of the step. */
const early = 1e-9;

/** The waveform's value at the end of a step, before a jump that lies there. */
export function sourceValue(waveform: Waveform, end: number, gridStep: number): number {
  return waveform.at(end - early * gridStep);
}

/** Whether a jump of the waveform lies within the grid step that ends at the sample (its begin included). */
export function jumpsWithin(waveform: Waveform, sample: number, gridStep: number): boolean {
  for (let index = 0; index < waveform.jumps.length; index++) {
    const position = waveform.jumps[index]! / gridStep + early;
    if (position >= sample - 1 && position < sample) return true;
  }
  return false;
}
