import { compareValues } from './compare-values.ts';
import type { Comparison } from './formula.ts';

/**
 * How a value goes while one quantity rises over a stretch and all else stays: between which values it lies, and whether it only
 * rises (1), only falls (-1) or stays (0); NaN where it may do both.
 *
 * **Invariant:** it holds of the values as they are computed, in binary fractions: an operation whose result is the nearest fraction to
 * the true one never falls where the true one does not. Of functions for which that is not promised (powers, exponentials, angles) only
 * the ends are told, with more room than such a function errs.
 */
export interface Trend {
  readonly low: number;
  readonly high: number;
  readonly slope: Slope;
}

export type Slope = number;

/** Whether a condition holds: all over the stretch the same, or turning at most once, to true (1) or to false (-1). */
export interface TruthTrend {
  /** Undefined where it may turn. */
  readonly always: boolean | undefined;
  readonly slope: Slope;
}

export const ALWAYS: TruthTrend = { always: true, slope: 0 };
export const NEVER: TruthTrend = { always: false, slope: 0 };

export function level(value: number): Trend | undefined {
  return trend(value, value, 0);
}

/** Undefined where an end is no number. */
export function trend(low: number, high: number, slope: Slope): Trend | undefined {
  return Number.isFinite(low) && Number.isFinite(high) ? { low, high, slope } : undefined;
}

/** What comes of two influences together. */
export function together(a: Slope, b: Slope): Slope {
  if (a === 0) return b;
  return b === 0 || a === b ? a : Number.NaN;
}

/** The influence of a factor that goes as told, beside another factor. */
function beside(slope: Slope, { low, high }: Trend): Slope {
  if (slope === 0 || (low === 0 && high === 0)) return 0;
  if (low >= 0) return slope;
  return high <= 0 ? -slope : Number.NaN;
}

export function sum(a: Trend, b: Trend): Trend | undefined {
  return trend(a.low + b.low, a.high + b.high, together(a.slope, b.slope));
}

export function difference(a: Trend, b: Trend): Trend | undefined {
  return trend(a.low - b.high, a.high - b.low, together(a.slope, -b.slope));
}

export function product(a: Trend, b: Trend): Trend | undefined {
  const [p, q, r, s] = [a.low * b.low, a.low * b.high, a.high * b.low, a.high * b.high];
  const slope = together(beside(a.slope, b), beside(b.slope, a));
  return trend(Math.min(p, q, r, s), Math.max(p, q, r, s), slope);
}

/** Undefined too where the divisor may be nought. */
export function quotient(a: Trend, b: Trend): Trend | undefined {
  if (b.low <= 0 && b.high >= 0) return undefined;
  const [p, q, r, s] = [a.low / b.low, a.low / b.high, a.high / b.low, a.high / b.high];
  const slope = together(beside(a.slope, b), beside(-b.slope, a));
  return trend(Math.min(p, q, r, s), Math.max(p, q, r, s), slope);
}

/** What a function that never falls makes of a trend. */
export function rising(of: (value: number) => number, { low, high, slope }: Trend): Trend | undefined {
  return trend(of(low), of(high), slope);
}

/** So much, as a part of its size, the value of no function errs. */
const ROOM = 1e-12;

/** What is known of a function whose values are the true ones but for some of their last digits. */
export function about(a: Trend | undefined): Trend | undefined {
  if (!a || a.low === a.high) return a;
  return trend(
    a.low - ROOM * Math.abs(a.low),
    a.high + ROOM * Math.abs(a.high),
    a.slope === 0 ? 0 : Number.NaN,
  );
}

/** Of numbers above nought alone. */
export function power(a: Trend, b: Trend): Trend | undefined {
  const isFixed = a.low === a.high && b.low === b.high;
  if (isFixed) return trend(a.low ** b.low, a.low ** b.low, 0);
  if (a.low < 0 || (a.low === 0 && b.low <= 0)) return undefined;
  const corners = [a.low ** b.low, a.low ** b.high, a.high ** b.low, a.high ** b.high];
  return about(trend(Math.min(...corners), Math.max(...corners), together(a.slope, b.slope)));
}

export function absolute(a: Trend): Trend | undefined {
  if (a.low >= 0) return a;
  if (a.high <= 0) return trend(-a.high, -a.low, -a.slope);
  return trend(0, Math.max(-a.low, a.high), Number.NaN);
}

export function leastOf(trends: readonly Trend[]): Trend | undefined {
  return extremeOf(trends, Math.min);
}

export function largestOf(trends: readonly Trend[]): Trend | undefined {
  return extremeOf(trends, Math.max);
}

function extremeOf(trends: readonly Trend[], of: (...values: number[]) => number): Trend | undefined {
  const slope = trends.map((one) => one.slope).reduce(together);
  return trend(of(...trends.map(({ low }) => low)), of(...trends.map(({ high }) => high)), slope);
}

/** A comparison of two values that go as told. Two values that are not fixed and may be equal: nothing is said of `=` and `!=`. */
export function compareTrends(a: Trend, operator: Comparison, b: Trend): TruthTrend | undefined {
  const areFixed = a.low === a.high && b.low === b.high;
  if (areFixed) return compareValues(a.low, operator, b.low) ? ALWAYS : NEVER;
  if (operator === '=' || operator === '!=') {
    const apart = compareValues(a.high, '<', b.low) || compareValues(a.low, '>', b.high);
    return apart ? (operator === '!=' ? ALWAYS : NEVER) : undefined;
  }
  const isBelow = operator === '<' || operator === '<=';
  const [likely, unlikely] = isBelow ? [a.low, a.high] : [a.high, a.low];
  const [high, low] = isBelow ? [b.high, b.low] : [b.low, b.high];
  if (compareValues(unlikely, operator, low)) return ALWAYS;
  if (!compareValues(likely, operator, high)) return NEVER;
  const slope = together(a.slope, -b.slope);
  return { always: undefined, slope: isBelow ? -slope : slope };
}
