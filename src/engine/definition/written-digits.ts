/** As many as a double can tell. */
export const MOST_DIGITS = 15;

/** With more digits a number is the outcome of a conversion, and not what anybody wrote. */
const MOST_WRITTEN = 7;

/** The significant digits of a number as it would be written down. */
export function digitsIn(value: number): number {
  const [mantissa] = Number(value.toPrecision(MOST_DIGITS)).toExponential().split('e');
  return mantissa!.replace(/[-.]/g, '').length;
}

/** Whether a number has no more digits than somebody may have written. */
export function hasFewDigits(value: number): boolean {
  return digitsIn(value) <= MOST_WRITTEN;
}
