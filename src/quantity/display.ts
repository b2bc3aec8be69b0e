import {
  type DecimalDigits,
  type Direction,
  digitsOf,
  roundDigits,
  writeFixed,
  writeMantissa,
} from './decimal-digits.ts';
import { fromSi, type Quantity } from './quantity.ts';
import type { Unit } from './unit.ts';

/** How a value is rounded for print. */
export interface Rounding {
  /** Significant digits; digits left of the decimal point are never rounded away. */
  readonly digits: number;
  /** To the nearest (half away from zero), or always down or up: for limiting values. */
  readonly direction?: Direction;
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
export function displayEntered({ value, unit, places }: Quantity): Displayed {
  const number = digitsOf(value);
  const last = number.exponent - number.digits.length + 1;
  if (isScientific(number, unit) || isSmallRate(number, unit)) return compose(number, last, unit, true);
  const displayed = compose(number, Math.min(0, last), unit);
  if (places === undefined || places <= Math.max(0, -last) || places > MOST_PLACES) return displayed;
  const written = { mantissa: writeFixed(number, places) };
  return {
    ...displayed,
    print: joinUnit(printNumber(written), unit),
    number: written,
    lastDigit: Number(`1e${-places}`),
  };
}

/** Nobody means more noughts than these; a table has to hold them. */
const MOST_PLACES = 6;

export function displayValue(
  value: number,
  unit: Unit,
  { digits, direction = 'nearest' }: Rounding,
): Displayed {
  // Beyond what a double can tell stands the noise of the binary representation.
  const number = digitsOf(value, DIGITS_OF_DOUBLE);
  if (isNought(number)) return compose(number, 0, unit);
  const place = lastPlaceOf(number, digits, unit);
  const rounded = roundDigits(number, place, direction);
  // A number rounded to the next power of ten (99.96 to 100) has one place more before the point, so one less behind it.
  return compose(rounded, isNought(rounded) ? place : lastPlaceOf(rounded, digits, unit), unit);
}

const DIGITS_OF_DOUBLE = 15;

/** The power of ten of the last digit that is printed; only where the number is written with one is it above 0. */
function lastPlaceOf(number: DecimalDigits, digits: number, unit: Unit): number {
  const last = number.exponent + 1 - digits;
  return isScientific(number, unit) ? last : Math.min(last, 0);
}

function isNought({ digits }: DecimalDigits): boolean {
  return digits === '0';
}

/**
 * Numbers that are written with a power of ten: from a million on, and below a thousandth. Of units with a power, to which nobody sets a
 * prefix for their size (kA² s can be read in two ways), these are those of six digits too.
 */
function isScientific(number: DecimalDigits, unit: Unit): boolean {
  if (isNought(number)) return false;
  return number.exponent >= (hasPower(unit) ? 5 : 6) || number.exponent < -3;
}

/** Whether a number is written with a power of ten by itself. */
export function hasPowerOfTen(value: number, unit: Unit): boolean {
  return isScientific(digitsOf(value, DIGITS_OF_DOUBLE), unit);
}

/** What somebody tolerates a year is mostly stated as a power of ten, and stands beside others: 0.001 beside 1e-5. */
function isSmallRate({ exponent }: DecimalDigits, unit: Unit): boolean {
  return exponent < -2 && /^1\/.*\byear$/.test(unit.text);
}

function hasPower(unit: Unit): boolean {
  return unit.text.includes('^');
}

/** The same digits written with a power of ten, as beside another number that has one; nought has none. */
export function withPowerOfTen(displayed: Displayed): Displayed {
  const number = digitsOf(displayed.value);
  if (isNought(number) || displayed.number.exponent !== undefined) return displayed;
  return compose(number, Math.round(Math.log10(displayed.lastDigit)), displayed.unit, true);
}

/** @param lastPlace the power of ten of the last digit, of which the number is a multiple */
function compose(
  number: DecimalDigits,
  lastPlace: number,
  unit: Unit,
  hasPowerOfTen = isScientific(number, unit),
): Displayed {
  const split: PrintedNumber = hasPowerOfTen
    ? { mantissa: writeMantissa(number, Math.max(0, number.exponent - lastPlace)), exponent: number.exponent }
    : { mantissa: writeFixed(number, Math.max(0, -lastPlace)) };
  const text = split.exponent === undefined ? split.mantissa : `${split.mantissa}e${split.exponent}`;
  return {
    value: Number(text),
    unit,
    text: unit.text === '1' ? text : `${text} ${unit.text}`,
    print: joinUnit(printNumber(split), unit),
    number: split,
    lastDigit: Number(`1e${lastPlace}`),
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
