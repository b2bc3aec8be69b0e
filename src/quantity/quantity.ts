import type { Unit } from './unit.ts';
import type { VoltageKind } from './voltage-kind.ts';

/** A number with its unit, as written or computed. The value counts in `unit`; `si` is the same in SI units. */
export interface Quantity {
  readonly value: number;
  readonly unit: Unit;
  readonly si: number;
  /** What the author stated about a voltage or current; absent where nothing was stated. */
  readonly kind?: VoltageKind;
  /** Places behind the point as the author wrote them, where they end with a nought, as in 1.50 kV: for print alone. */
  readonly places?: number;
}

/** A quantity from a value in a unit. Powers of ten are exact: 3.3 uH is the double nearest to 3.3e-6 H. */
export function quantity(value: number, unit: Unit, kind?: VoltageKind): Quantity {
  return { value, unit, si: toSi(value, unit), ...(kind ? { kind } : {}) };
}

/** A quantity from its SI value, counted in the given unit. */
export function quantityFromSi(si: number, unit: Unit, kind?: VoltageKind): Quantity {
  return { value: fromSi(si, unit), unit, si, ...(kind ? { kind } : {}) };
}

export function toSi(value: number, unit: Unit): number {
  const scaled = shiftDecimal(value, unit.exponent10);
  return scaled * unit.multiplier + unit.offset;
}

export function fromSi(si: number, unit: Unit): number {
  return shiftDecimal((si - unit.offset) / unit.multiplier, -unit.exponent10);
}

/** Far beyond every quantity of the trade, and far enough below the largest double that no scaling or rounding for print overflows. */
const LARGEST = 1e250;

/** In whatever unit such an SI value is far from the largest: asked of every value of every step, it must be quick. */
const CERTAIN = 1e200;

/** Whether an SI value can be computed with further and printed in the unit: never NaN or Infinity. */
export function isWithinNumbers(si: number, unit: Unit): boolean {
  const size = Math.abs(si);
  return size <= CERTAIN || (size <= LARGEST && Math.abs(fromSi(si, unit)) <= LARGEST);
}

/** value * 10^exponent, rounded once. */
function shiftDecimal(value: number, exponent: number): number {
  if (exponent === 0 || value === 0 || !Number.isFinite(value)) return value;
  // The decimal number that a double stands for, with its point moved, and the double nearest to that.
  const [digits, power = '0'] = String(value).split('e') as [string, string?];
  return Number(`${digits}e${Number(power) + exponent}`);
}
