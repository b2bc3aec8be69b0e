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
 * Residual voltage (V) between points of a table, straight in the logarithms of both. Outside the table NaN: nothing is
 * extrapolated.
 */
export function residualByTable(points: readonly ResidualPoint[]): (current: number) => number {
  const ordered = [...points].sort((one, other) => one.current - other.current);
  return (current) => {
    const above = ordered.findIndex((point) => point.current >= current);
    if (above < 0) return Number.NaN;
    const high = ordered[above]!;
    if (high.current === current) return high.voltage;
    const low = ordered[above - 1];
    if (!low) return Number.NaN;
    const share = Math.log(current / low.current) / Math.log(high.current / low.current);
    return low.voltage * (high.voltage / low.voltage) ** share;
  };
}
