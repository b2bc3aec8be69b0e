import { type SurgeShape, surgeCurrent, surgeSpan, unitSurgeProperties } from './surge-shapes.ts';

/** Instants on the course of a surge; the front, where the voltage peaks, holds most of them. */
const SAMPLES = 4000;

/**
 * Peak (V) over time of the residual voltage of a device in series with its leads: u(t) = residual(i) + L di/dt, for a
 * current of the shape with the peak (A) and an inductance (H). SI throughout.
 */
export function peakOfMountedDevice(
  shape: SurgeShape,
  peak: number,
  inductance: number,
  residual: (current: number) => number,
): number {
  const wave = surgeCurrent(shape, peak);
  const span = Math.min(surgeSpan(shape), 3 * unitSurgeProperties(shape).peakTime);
  const step = span / SAMPLES;
  let largest = 0;
  for (let index = 1; index < SAMPLES; index++) {
    const time = index * step;
    const slope = (wave.at(time + step / 2) - wave.at(time - step / 2)) / step;
    largest = Math.max(largest, residual(Math.max(0, wave.at(time))) + inductance * slope);
  }
  return largest;
}
