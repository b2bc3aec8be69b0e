import { interpolateLogarithmic } from './interpolate-log.ts';

/** A point of a characteristic: peak current (A) and residual voltage (V). */
export interface ResidualPoint {
  readonly current: number;
  readonly voltage: number;
}

/** U = U0 (I/I0)^a: residual voltage (V) of a varistor at a current (A), by one point and an exponent. */
export function residualByExponent(point: ResidualPoint, exponent: number): (current: number) => number {
  return (current) => (current <= 0 ? 0 : point.voltage * (current / point.current) ** exponent);
}

/**
 * Residual voltage (V) between points of a table, linear in the logarithms of both. Outside the table NaN: nothing is
 * extrapolated.
 */
export function residualByTable(points: readonly ResidualPoint[]): (current: number) => number {
  const ordered = points
    .map(({ current, voltage }) => [current, voltage] as const)
    .sort(([one], [other]) => one - other);
  return (current) => interpolateLogarithmic(ordered, current);
}
