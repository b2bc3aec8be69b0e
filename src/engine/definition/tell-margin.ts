import { type Margin, marginOf } from './margin.ts';

/** A margin in per cent as it can stand beside the two numbers between which it lies. */
export type ToldMargin =
  | { readonly percent: number; readonly step: number }
  /** Less than one step, and not nought. */
  | { readonly below: number; readonly isInHand: boolean };

/** Below it, in per cent, tenths are told where the printed numbers bear them. */
const IS_LARGE = 9.95;
const TENTH = 0.1;

/**
 * The margin as whoever computes it from the two numbers as they are printed finds it, in the finest step by which that differs from the true
 * one by no more than the step: tenths of a per cent where it is small, else whole ones, and three digits of what is larger. Undefined where
 * the numbers are too coarse even for that.
 *
 * @param value as printed, in the same unit as `limit`
 */
export function tellMargin(
  margin: Margin,
  value: number,
  relation: Parameters<typeof marginOf>[1],
  limit: number,
): ToldMargin | undefined {
  if (margin.of !== 'limit' || limit === 0) return undefined;
  const percent = margin.value * 100;
  const read = marginOf(value, relation, limit).value * 100;
  for (const step of stepsFor(percent)) {
    if (Math.abs(percent) < step / 2) {
      if (Math.abs(read) < step) return { below: step, isInHand: percent > 0 };
    } else {
      // 0.15 / 0.1 is 1.4999... in binary numbers.
      const rounded = Number((Math.round(Number((read / step).toPrecision(12))) * step).toPrecision(12));
      if (rounded !== 0 && Math.abs(rounded - percent) <= step) return { percent: rounded, step };
    }
  }
  return undefined;
}

function stepsFor(percent: number): readonly number[] {
  const size = Math.abs(percent);
  if (size < IS_LARGE) return [TENTH, 1];
  return [size < 100 ? 1 : 10 ** (Math.floor(Math.log10(size)) - 2)];
}
