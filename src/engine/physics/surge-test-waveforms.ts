import type { Waveform } from './waveform.ts';

/** IEEE C62.41.2 / C62.45 (from memory): i = A I t^3 exp(-t/T), A in 1/s^3. */
const unipolarCurrent = { factor: 0.01243e18, constant: 3.911e-6 };

/** Damping (1/s) and angular frequency (rad/s) for which a damped sine has T1 8 us and T2 20 us. */
const dampedSineCurrent = { damping: 41628, angularFrequency: 120023 };

/** Impulse current 8/20 without undershoot, `peak` in amperes. IEEE C62.41.2 / C62.45 (from memory). */
export function unipolarCurrent8by20(peak: number): Waveform {
  const { factor, constant } = unipolarCurrent;
  return {
    at: (time) => (time > 0 ? factor * peak * time ** 3 * Math.exp(-time / constant) : 0),
    jumps: [],
    corners: [],
    shortestTime: constant,
  };
}

/** Impulse current 8/20 of an R-L-C generator (damped sine, undershoot 34 %), `peak` in amperes. */
export function dampedSineCurrent8by20(peak: number): Waveform {
  return dampedSine(peak, dampedSineCurrent.damping, dampedSineCurrent.angularFrequency);
}

/** A sine that dies away, scaled to its first crest: damping in 1/s, angular frequency in rad/s. */
function dampedSine(peak: number, damping: number, angularFrequency: number): Waveform {
  const crestTime = Math.atan(angularFrequency / damping) / angularFrequency;
  const course = (time: number): number => Math.exp(-damping * time) * Math.sin(angularFrequency * time);
  const amplitude = peak / course(crestTime);
  return {
    at: (time) => (time > 0 ? amplitude * course(time) : 0),
    jumps: [],
    corners: [0],
    shortestTime: 1 / Math.hypot(damping, angularFrequency),
  };
}
