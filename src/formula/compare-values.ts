import type { Comparison } from './formula.ts';

/** Values nearer to each other than this part of the larger are equal; the noise of binary fractions lies below. */
export const RELATIVE_EQUALITY = 1e-9;

/** Whether two values are equal: within 1e-9 of the larger. */
export function areEqual(a: number, b: number): boolean {
  return a === b || Math.abs(a - b) <= RELATIVE_EQUALITY * Math.max(Math.abs(a), Math.abs(b));
}

/** Compares two values: at equality `<=` and `>=` hold, and `<` and `>` do not. */
export function compareValues(left: number, operator: Comparison, right: number): boolean {
  const equal = areEqual(left, right);
  switch (operator) {
    case '=':
      return equal;
    case '!=':
      return !equal;
    case '<':
      return left < right && !equal;
    case '<=':
      return left < right || equal;
    case '>':
      return left > right && !equal;
    case '>=':
      return left > right || equal;
  }
}
