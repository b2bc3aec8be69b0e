import { piecewiseLinear } from '../../src/engine/physics/piecewise-linear.ts';
import type { Waveform } from '../../src/engine/physics/waveform.ts';

export { ramp } from '../../src/engine/physics/piecewise-linear.ts';

/** Constant `value` from time zero for `duration` seconds. */
export function rectangle(value: number, duration: number): Waveform {
  return piecewiseLinear([
    [0, value],
    [duration, value],
    [duration, 0],
  ]);
}

/** The same course, later by `delay` seconds. */
export function delayWaveform(waveform: Waveform, delay: number): Waveform {
  return {
    at: (time) => waveform.at(time - delay),
    jumps: waveform.jumps.map((jump) => jump + delay),
    corners: waveform.corners.map((corner) => corner + delay),
    shortestTime: waveform.shortestTime,
  };
}

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
