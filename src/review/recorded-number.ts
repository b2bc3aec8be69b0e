import type { RecordedNumber } from './recorded-node.ts';

/** The text of a number to its recorded digits: '14.85 m', '1e-7 s', 'at least 1.15'. */
export function wordNumber({ value, unit, precision, before }: RecordedNumber): string {
  const number = wordDigits(value, precision.digits);
  return [before, number, unit === '1' ? undefined : unit].filter((part) => part !== undefined).join(' ');
}

/** A number to so many significant digits, in the shortest form that says them; the same on every machine. */
export function wordDigits(value: number, digits: number): string {
  return String(Number(value.toPrecision(digits))).replace('e+', 'e');
}

/**
 * Whether the recorded text says the same number as a new value: in the same words and unit, as this program would write
 * it, and no further away than the tolerance. What rounding to the recorded digits took away counts as equal.
 */
export function saysSame(recorded: string, fresh: RecordedNumber): boolean {
  const { value, unit, precision, before } = fresh;
  const head = before === undefined ? '' : `${before} `;
  const tail = unit === '1' ? '' : ` ${unit}`;
  if (!recorded.startsWith(head) || !recorded.endsWith(tail)) return false;
  const written = recorded.slice(head.length, recorded.length - tail.length);
  const old = Number(written);
  if (written === '' || !Number.isFinite(old) || wordDigits(old, precision.digits) !== written) return false;
  return (
    Math.abs(old - value) <= precision.tolerance * Math.abs(value) + halfLastDigit(old, precision.digits)
  );
}

/** Half a unit of the last recorded digit. */
function halfLastDigit(value: number, digits: number): number {
  if (value === 0) return 0;
  const exponent = Number(value.toExponential(digits - 1).split('e')[1]);
  return 0.5 * 10 ** (exponent - digits + 1);
}

/** Whether two values are equal but for the noise of computing: within 1e-9 relative. */
export function isSameValue(a: number, b: number, tolerance = 1e-9): boolean {
  return a === b || Math.abs(a - b) <= tolerance * Math.max(Math.abs(a), Math.abs(b));
}
