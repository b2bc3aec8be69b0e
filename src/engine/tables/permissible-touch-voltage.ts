import { recall } from '../definition/basis.ts';
import { interpolateLogarithmic } from '../physics/interpolate-log.ts';

export const permissibleTouch = recall('en-50522-2010', 'Annex B, Table B.3, permissible touch voltage');

/** Permissible touch voltage, bare hands and feet, by duration of the fault: s and V. EN 50522:2010, Table B.3, from memory. */
export const PERMISSIBLE_TOUCH: readonly (readonly [number, number])[] = [
  [0.05, 716],
  [0.1, 654],
  [0.2, 537],
  [0.5, 220],
  [1, 117],
  [2, 96],
  [5, 86],
  [10, 85],
];

/** Permissible current through the body by duration: s and A. EN 50522:2010, Table B.1, from memory. */
const PERMISSIBLE_BODY_CURRENT: readonly (readonly [number, number])[] = [
  [0.05, 0.9],
  [0.1, 0.75],
  [0.2, 0.6],
  [0.5, 0.2],
  [1, 0.08],
  [2, 0.06],
  [5, 0.051],
  [10, 0.05],
];

/** Permissible touch voltage in V for a duration in s of at least 0.05 s: linear in the logarithms, and level beyond 10 s. */
export function permissibleTouchVoltage(duration: number): number {
  return interpolateLogarithmic(PERMISSIBLE_TOUCH, Math.min(duration, 10));
}

/** Permissible current through the body in A for a duration in s of at least 0.05 s: linear in the logarithms, and level beyond 10 s. */
export function permissibleBodyCurrent(duration: number): number {
  return interpolateLogarithmic(PERMISSIBLE_BODY_CURRENT, Math.min(duration, 10));
}
