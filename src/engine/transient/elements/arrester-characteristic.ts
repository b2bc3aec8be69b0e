import { raise } from '../../physics/raise.ts';
import { type CurrentLaw, faultsOfPositive, type ValueFault } from '../element.ts';

/** A point of a V-I characteristic: amperes, volts. */
export type CharacteristicPoint = readonly [current: number, voltage: number];

/**
 * Voltage against current of a gapless arrester: points in rising order, or the power law i = k v^a (`coefficient` in A
 * for v in V, `exponent` a pure number).
 */
export type ArresterCharacteristic =
  | { readonly points: readonly CharacteristicPoint[] }
  | { readonly coefficient: number; readonly exponent: number };

/** Below this current a power law goes on as a straight line to zero, so that its slope never vanishes. */
const smallestPowerLawCurrent = 1e-6;

/** The current at which the share of a power law in the network's matrix is read. */
const powerLawReferenceCurrent = 1e3;

export function faultsOfCharacteristic(characteristic: ArresterCharacteristic): ValueFault[] {
  if ('coefficient' in characteristic) {
    const { coefficient, exponent } = characteristic;
    return faultsOfPositive({ coefficient, exponent });
  }
  const { points } = characteristic;
  if (points.length < 2) return [{ quantity: 'points', value: points.length, requirement: 'two points' }];
  const faults: ValueFault[] = points.flatMap(([current, voltage]) => faultsOfPositive({ current, voltage }));
  for (let index = 1; index < points.length; index++) {
    const [current, voltage] = points[index]!;
    const [currentBefore, voltageBefore] = points[index - 1]!;
    if (!(current > currentBefore))
      faults.push({ quantity: 'current', value: current, requirement: 'rising' });
    if (!(voltage > voltageBefore))
      faults.push({ quantity: 'voltage', value: voltage, requirement: 'rising' });
  }
  return faults;
}

/** The highest current for which the characteristic is known: a table's last, infinite for a power law. */
export function highestKnownCurrent(characteristic: ArresterCharacteristic): number {
  if ('coefficient' in characteristic) return Number.POSITIVE_INFINITY;
  return characteristic.points.at(-1)?.[0] ?? 0;
}

/** The linear share of the current that enters the network's matrix, in siemens. */
export function referenceConductance(characteristic: ArresterCharacteristic): number {
  if ('points' in characteristic) {
    const [current, voltage] = characteristic.points.at(-1)!;
    return current / voltage;
  }
  const { coefficient, exponent } = characteristic;
  return powerLawReferenceCurrent / (powerLawReferenceCurrent / coefficient) ** (1 / exponent);
}

/**
 * The current at a voltage, odd in it. Between points a power law (a straight line on log-log paper); below the first
 * point a straight line to zero; beyond the last the last power law goes on, which the solver reports.
 */
export function characteristicLaw(characteristic: ArresterCharacteristic): CurrentLaw {
  if ('points' in characteristic) return new PiecewisePowerLaw(characteristic.points);
  const { coefficient, exponent } = characteristic;
  const current = smallestPowerLawCurrent;
  const voltage = (current / coefficient) ** (1 / exponent);
  const reference = (powerLawReferenceCurrent / coefficient) ** (1 / exponent);
  const law = new PiecewisePowerLaw([
    [current, voltage],
    [powerLawReferenceCurrent, reference],
  ]);
  // Out of the logarithms it would come with their last digits, and no longer as a whole number.
  law.exponents[0] = exponent;
  return law;
}

class PiecewisePowerLaw implements CurrentLaw {
  current = 0;
  slope = 0;
  readonly referenceVoltage: number;
  private readonly currents: Float64Array;
  private readonly voltages: Float64Array;
  readonly exponents: Float64Array;
  private segment = 0;

  constructor(points: readonly CharacteristicPoint[]) {
    this.currents = Float64Array.from(points, ([current]) => current);
    this.voltages = Float64Array.from(points, ([, voltage]) => voltage);
    this.exponents = new Float64Array(points.length - 1);
    for (let index = 0; index < this.exponents.length; index++) {
      this.exponents[index] =
        Math.log(this.currents[index + 1]! / this.currents[index]!) /
        Math.log(this.voltages[index + 1]! / this.voltages[index]!);
    }
    this.referenceVoltage = this.voltages[0]!;
  }

  evaluate(voltage: number): void {
    const { currents, voltages, exponents } = this;
    const magnitude = Math.abs(voltage);
    if (magnitude <= voltages[0]!) {
      this.slope = currents[0]! / voltages[0]!;
      this.current = this.slope * voltage;
      return;
    }
    let segment = this.segment;
    while (segment < exponents.length - 1 && magnitude > voltages[segment + 1]!) segment++;
    while (segment > 0 && magnitude <= voltages[segment]!) segment--;
    this.segment = segment;
    const exponent = exponents[segment]!;
    const current = currents[segment]! * raise(magnitude / voltages[segment]!, exponent);
    this.slope = (exponent * current) / magnitude;
    this.current = voltage < 0 ? -current : current;
  }
}
