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
  return shiftShort(value, exponent) ?? shiftText(value, exponent);
}

/**
 * The same of a number with few decimals, as people write them: a whole number of thousandths, with a power of ten, both exact, takes one operation,
 * which rounds once. Undefined of others.
 */
function shiftShort(value: number, exponent: number): number | undefined {
  const thousandths = Math.round(value * 1e3);
  const power = exponent - 3;
  if (Math.abs(thousandths) > 1e15 || power > 22 || power < -22 || thousandths / 1e3 !== value)
    return undefined;
  return power < 0 ? thousandths / TENS[-power]! : thousandths * TENS[power]!;
}

/** The powers of ten that a double holds exactly. */
const TENS = Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));

function shiftText(value: number, exponent: number): number {
  // The decimal number that a double stands for, with its point moved, and the double nearest to that.
  const [digits, power = '0'] = String(value).split('e') as [string, string?];
  return Number(`${digits}e${Number(power) + exponent}`);
}
