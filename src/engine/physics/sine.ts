import type { Waveform } from './waveform.ts';

/**
 * peak sin(2 pi f t + phase) from time zero on, frequency in hertz, phase in radians. Switched on away from its
 * zero it begins with a jump.
 */
export function sine(peak: number, frequency: number, phase = 0): Waveform {
  const rate = 2 * Math.PI * frequency;
  return {
    at: (time) => (time > 0 ? peak * Math.sin(rate * time + phase) : 0),
    jumps: Math.sin(phase) === 0 ? [] : [0],
    corners: [0],
    shortestTime: 1 / rate,
  };
}
