import { Decimal } from 'decimal.js';
import { fromSi, type Quantity } from './quantity.ts';
import type { Unit } from './unit.ts';

/** How a value is rounded for print. */
export interface Rounding {
  /** Significant digits; digits left of the decimal point are never rounded away. */
  readonly digits: number;
  /** To the nearest (half away from zero), or always down or up: for limiting values. */
  readonly direction?: 'nearest' | 'down' | 'up';
}

/** The digits of a number as they are printed, with an ASCII minus; empty where a power of ten stands alone. */
export interface PrintedNumber {
  readonly mantissa: string;
  /** Of ten, where the number is written with a power. */
  readonly exponent?: number;
}

/** A value as it is printed: the rounded number and its unit, apart and as text. */
export interface Displayed {
  /** The printed number in the printed unit: what a reader would type into a pocket calculator. */
  readonly value: number;
  readonly unit: Unit;
  /** '126 kV', with ASCII units: for records and machines. */
  readonly text: string;
  /** '126 kV' with the unit's printed form (µ, Ω, ²). */
  readonly print: string;
  readonly number: PrintedNumber;
  /** One unit of the last printed digit, in the printed unit. */
  readonly lastDigit: number;
}

export const USUAL_DIGITS = 3;

/** Displays a value given in SI in the declared unit, never in another. */
export function displaySi(si: number, unit: Unit, rounding: Rounding = { digits: USUAL_DIGITS }): Displayed {
  return displayValue(fromSi(si, unit), unit, rounding);
}

/** Displays a quantity as it was entered: all its digits, and in print the noughts that the author wrote behind them. */
export function displayEntered(entered: Quantity): Displayed {
  const { value, unit, places } = entered;
  const number = new Decimal(value);
  if (isScientific(number, unit)) {
    return compose(number, new Decimal(10).pow(number.e - number.precision() + 1), unit);
  }
  const displayed = compose(number, new Decimal(10).pow(Math.min(0, -number.decimalPlaces())), unit);
  if (places === undefined || places <= number.decimalPlaces() || places > MOST_PLACES) return displayed;
  const written = { mantissa: number.toFixed(places) };
  const lastDigit = new Decimal(10).pow(-places).toNumber();
  return { ...displayed, print: joinUnit(printNumber(written), unit), number: written, lastDigit };
}

/** Nobody means more noughts than these; a table has to hold them. */
const MOST_PLACES = 6;

export function displayValue(value: number, unit: Unit, rounding: Rounding): Displayed {
  // 15 digits hold what a double can tell; beyond them stands the noise of the binary representation.
  const number = new Decimal(value.toPrecision(15));
  if (number.isZero()) return compose(new Decimal(0), new Decimal(1), unit);
  const coarse = lastDigitOf(number, rounding.digits, unit);
  const rounded = number
    .div(coarse)
    .toDecimalPlaces(0, MODES[rounding.direction ?? 'nearest'])
    .times(coarse);
  // A number rounded to the next power of ten (99.96 to 100) has one place more before the point, so one less behind it.
  return compose(rounded, rounded.isZero() ? coarse : lastDigitOf(rounded, rounding.digits, unit), unit);
}

/** One unit of the last digit that is printed; only where a power of ten is written is it above 1. */
function lastDigitOf(number: Decimal, digits: number, unit: Unit): Decimal {
  const last = new Decimal(10).pow(number.e + 1 - digits);
  return isScientific(number, unit) ? last : Decimal.min(last, 1);
}

const MODES = {
  nearest: Decimal.ROUND_HALF_UP,
  down: Decimal.ROUND_FLOOR,
  up: Decimal.ROUND_CEIL,
} as const;

/**
 * Numbers that are written with a power of ten. Of units put together of several, to which nobody sets a prefix for their size (kA² s can be
 * read in two ways), these are those of six digits too.
 */
function isScientific(number: Decimal, unit: Unit): boolean {
  return !number.isZero() && (number.abs().gte(isComposed(unit) ? 1e5 : 1e6) || number.abs().lt(1e-3));
}

function isComposed(unit: Unit): boolean {
  return /[\s*/^]/.test(unit.text);
}

function compose(number: Decimal, lastDigit: Decimal, unit: Unit): Displayed {
  const scientific = isScientific(number, unit);
  const places = Math.max(0, -lastDigit.e);
  const mantissaPlaces = Math.max(0, number.e - lastDigit.e);
  const text = scientific ? number.toExponential(mantissaPlaces).replace('e+', 'e') : number.toFixed(places);
  const [mantissa, exponent] = text.split('e') as [string, string?];
  const split = exponent === undefined ? { mantissa } : { mantissa, exponent: Number(exponent) };
  return {
    value: number.toNumber(),
    unit,
    text: unit.text === '1' ? text : `${text} ${unit.text}`,
    print: joinUnit(printNumber(split), unit),
    number: split,
    lastDigit: lastDigit.toNumber(),
  };
}

function joinUnit(number: string, unit: Unit): string {
  if (unit.print === '') return number;
  return unit.print === '°' ? `${number}°` : `${number}\u00a0${countedUnit(unit, number).print}`;
}

/** A unit that is a word, behind its number: '1 year', '50 years'. */
export function countedUnit(unit: Unit, number: string): Unit {
  if (unit.text !== 'year' || number === '1') return unit;
  return { ...unit, print: `${unit.print}s`, tex: unit.tex.replace('year', 'years') };
}

/** How many significant digits a number is printed with. */
export function digitsShown({ value, lastDigit }: Displayed): number {
  return value === 0 ? 1 : Math.floor(Math.log10(Math.abs(value) / lastDigit) + 1e-9) + 1;
}

/** A number as running text: a true minus, and a power of ten as such. */
export function printNumber({ mantissa, exponent }: PrintedNumber): string {
  const written = mantissa.replace('-', '−');
  if (exponent === undefined) return written;
  const raised = [...String(exponent)].map((c) => (c === '-' ? '⁻' : '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(c)])).join('');
  return `${written} × 10${raised}`;
}
