import { doubleExponential } from './double-exponential.ts';
import type { Waveform } from './waveform.ts';

/** IEEE C62.41.2 / C62.45 (from memory): i = A I t^3 exp(-t/T), A in 1/s^3. */
const unipolarCurrent = { factor: 0.01243e18, constant: 3.911e-6 };

/** IEEE C62.41.2 / C62.45 (from memory): v = A V (1 - exp(-t/T1)) exp(-t/T2). */
const impulses = {
  '1.2/50': { factor: 1.037, front: 0.4074e-6, tail: 68.22e-6 },
  '10/1000': { factor: 1.019, front: 3.827e-6, tail: 1404e-6 },
} as const;

/**
 * The same impulse as a difference of two exponentials, as textbooks of high-voltage engineering write it:
 * v = A V (exp(-t/T2) - exp(-t/T1)). Kuffel, Zaengl and Kuffel, High Voltage Engineering: Fundamentals (from memory).
 */
const voltageDifference = { factor: 1.037, front: 0.405e-6, tail: 68.2e-6 };

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
export function dampedSine(peak: number, damping: number, angularFrequency: number): Waveform {
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

/** Impulse 1.2/50 or 10/1000 of double-exponential form, `peak` in volts or amperes. IEEE C62.41.2 / C62.45 (from memory). */
export function impulse(shape: keyof typeof impulses, peak: number): Waveform {
  const { factor, front, tail } = impulses[shape];
  return {
    at: (time) => (time > 0 ? factor * peak * (1 - Math.exp(-time / front)) * Math.exp(-time / tail) : 0),
    jumps: [],
    corners: [0],
    shortestTime: front,
  };
}

/** Impulse voltage 1.2/50 as a difference of two exponentials, `peak` in volts. Kuffel, Zaengl and Kuffel (from memory). */
export function differenceImpulse1by50(peak: number): Waveform {
  const { factor, front, tail } = voltageDifference;
  return doubleExponential(factor * peak, 1 / tail, 1 / front);
}
