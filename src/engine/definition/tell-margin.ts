import { type Margin, marginOf } from './margin.ts';

/** A margin in per cent as it can stand beside the two numbers between which it lies. */
export type ToldMargin =
  | { readonly percent: number; readonly step: number }
  /** Less than one step, and not nought. */
  | { readonly below: number; readonly isInHand: boolean };

/** Below it, in per cent, tenths are told. */
const IS_LARGE = 9.95;
const TENTH = 0.1;
/** So much less than the true margin, in per cent of the limit, may be told; more than the true one never is, but for its own rounding. */
const TOO_LITTLE = 1;

/**
 * The margin as whoever computes it from the two numbers as they are printed finds it: with two significant digits, none of them below tenths of
 * a per cent, and with a third where it is above 100 % and the numbers bear it. Undefined where the numbers as printed are too coarse: where they
 * promise more than is there, or keep back more than a per cent of the limit, or of a larger margin one step.
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
  if (Math.abs(percent) < TENTH / 2) {
    return Math.abs(read) < TENTH ? { below: TENTH, isInHand: percent > 0 } : undefined;
  }
  for (const step of stepsFor(percent)) {
    // 0.15 / 0.1 is 1.4999... in binary numbers.
    const rounded = Number((Math.round(Number((read / step).toPrecision(12))) * step).toPrecision(12));
    const tooMuch = Number((rounded - percent).toPrecision(12));
    if (rounded !== 0 && tooMuch <= step / 2 && tooMuch >= -Math.max(TOO_LITTLE, step)) {
      return { percent: rounded, step };
    }
  }
  return undefined;
}

function stepsFor(percent: number): readonly number[] {
  const size = Math.abs(percent);
  if (size < IS_LARGE) return [TENTH];
  if (size < 100) return [1];
  const third = 10 ** (Math.floor(Math.log10(size)) - 2);
  return [third, 10 * third];
}
