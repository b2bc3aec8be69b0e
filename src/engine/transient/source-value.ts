import type { Waveform } from '../physics/waveform.ts';

/** A value read this share of a step early is the one from before a jump at the very end of the step. */
const early = 1e-9;

/** An instant within this share of a step of a sample lies on it. */
const onSample = 1e-6;

/** The waveform's value at the end of a step, before a jump that lies there. */
export function sourceValue(waveform: Waveform, end: number, gridStep: number): number {
  return waveform.at(end - early * gridStep);
}

/**
 * Numbers of the samples whose step needs damping: the step that begins with a jump or corner; where one lies inside a
 * step that step and the next.
 */
export function dampedSamples({ jumps, corners }: Waveform, gridStep: number): ReadonlySet<number> {
  const samples = new Set<number>();
  for (const instant of [...jumps, ...corners]) {
    const position = instant / gridStep;
    const nearest = Math.round(position);
    if (Math.abs(position - nearest) <= onSample) {
      samples.add(nearest + 1);
    } else {
      samples.add(Math.floor(position) + 1);
      samples.add(Math.floor(position) + 2);
    }
  }
  return samples;
}
