/** A point of a voltage-current characteristic: volts, amperes. */
export interface CharacteristicPoint {
  readonly voltage: number;
  readonly current: number;
}

/** Points of a table in rising order, or one point with the exponent a of i = k v^a. */
export type Characteristic =
  | readonly CharacteristicPoint[]
  | { readonly exponent: number; readonly point: CharacteristicPoint };

/**
 * The voltage at which a characteristic meets the load line of a source (volts) behind an impedance (ohms). Between the
 * points of a table the characteristic is a power law, a straight line on log-log paper. Undefined where they meet
 * outside the table: nothing is extrapolated.
 */
export function solveOnLoadLine(
  characteristic: Characteristic,
  sourceVoltage: number,
  impedance: number,
): number | undefined {
  const spare = (voltage: number): number =>
    (sourceVoltage - voltage) / impedance - currentAtVoltage(characteristic, voltage);
  let [low, high] = isTable(characteristic)
    ? [characteristic[0]!.voltage, characteristic.at(-1)!.voltage]
    : [0, sourceVoltage];
  // The load line falls and the characteristic rises: they meet once or not at all.
  if (spare(low) < 0 || spare(high) > 0) return undefined;
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) return Math.abs(spare(low)) <= Math.abs(spare(high)) ? low : high;
    if (spare(middle) >= 0) low = middle;
    else high = middle;
  }
}

/** The voltage at a current; undefined outside a table. */
export function voltageAtCurrent(characteristic: Characteristic, current: number): number | undefined {
  if (!isTable(characteristic)) {
    const { exponent, point } = characteristic;
    return point.voltage * (current / point.current) ** (1 / exponent);
  }
  const after = characteristic.findIndex((point) => point.current >= current);
  if (after < 0 || current < characteristic[0]!.current) return undefined;
  const [one, other] = [characteristic[Math.max(0, after - 1)]!, characteristic[Math.max(1, after)]!];
  return one.voltage * (current / one.current) ** (1 / slope(one, other));
}

function currentAtVoltage(characteristic: Characteristic, voltage: number): number {
  if (!isTable(characteristic)) {
    const { exponent, point } = characteristic;
    return point.current * (voltage / point.voltage) ** exponent;
  }
  const found = characteristic.findIndex((point) => point.voltage >= voltage);
  const after = Math.max(1, found);
  const [one, other] = [characteristic[after - 1]!, characteristic[after]!];
  return voltage === other.voltage
    ? other.current
    : one.current * (voltage / one.voltage) ** slope(one, other);
}

function slope(one: CharacteristicPoint, other: CharacteristicPoint): number {
  return Math.log(other.current / one.current) / Math.log(other.voltage / one.voltage);
}

function isTable(characteristic: Characteristic): characteristic is readonly CharacteristicPoint[] {
  return Array.isArray(characteristic);
}
