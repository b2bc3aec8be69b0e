import type { EvaluatedCheck } from '../engine/definition/evaluated.ts';
import { marginOf } from '../engine/definition/margin.ts';
import type { NumberResult, ResultValue } from '../engine/definition/value.ts';
import { areEqual } from '../formula/compare-values.ts';
import { displaySi } from '../quantity/display.ts';
import { isWithinNumbers, toSi } from '../quantity/quantity.ts';
import { unit } from '../quantity/unit.ts';
import type { Text } from '../words/sentence.ts';

type Judged<T extends Text> = Pick<EvaluatedCheck<T>, 'value' | 'limit' | 'margin' | 'atLimit' | 'relation'>;

const PERCENT = unit('%');
/** Of a margin. */
const DIGITS = 2;
/** So many digits more of the value are tried before the limit gets some too. */
const VALUE_ALONE = 3;
/** Beyond them nobody reads a value. */
const MOST_DIGITS = 12;

/**
 * A margin in per cent: what is in hand is rounded down, so that it is never overstated; what is lacking to the nearest. Undefined where it
 * is no part of the limit, or where the limit is next to nothing.
 */
export function displayMargin({ margin, atLimit }: Pick<Judged<Text>, 'margin' | 'atLimit'>) {
  if (margin?.of !== 'limit' || atLimit || !isWithinNumbers(margin.value, PERCENT)) return undefined;
  return displaySi(margin.value, PERCENT, {
    digits: DIGITS,
    direction: margin.value > 0 ? 'down' : 'nearest',
  });
}

/**
 * The value of a check and its limit, for a line in which the margin stands beside them: with so many digits that the margin as a reader
 * computes it from the two printed numbers differs from the printed one by less than one unit of its last digit.
 */
export function showBesideMargin<T extends Text>(
  check: Judged<T>,
): { readonly value: ResultValue<T> | undefined; readonly limit: ResultValue<T> | undefined } {
  const { value, limit, relation } = check;
  const margin = displayMargin(check);
  if (!margin || value?.type !== 'number' || limit?.type !== 'number') return { value, limit };
  const agrees = (v: NumberResult, l: NumberResult): boolean => {
    const read = marginOf(readBack(v), relation, readBack(l));
    return read.of === 'limit' && Math.abs(read.value * 100 - margin.value) < margin.lastDigit;
  };
  // The limit is the more familiar number, and stays as it is wherever the value alone can do.
  const tries = [
    ...countTo(VALUE_ALONE).map((more) => ({ value: withMoreDigits(value, more), limit })),
    ...countTo(MOST_DIGITS).map((more) => ({
      value: withMoreDigits(value, more),
      limit: withMoreDigits(limit, more),
    })),
  ];
  return tries.find((one) => agrees(one.value, one.limit)) ?? { value, limit };
}

/** 0, 1 and so on. */
function countTo(most: number): readonly number[] {
  return Array.from({ length: most + 1 }, (_, i) => i);
}

/** What a reader types into a pocket calculator, in SI. */
function readBack({ displayed }: NumberResult): number {
  return toSi(displayed.value, displayed.unit);
}

/** A number that is printed in full stays as it is. */
function withMoreDigits(result: NumberResult, more: number): NumberResult {
  const { si, displayed } = result;
  if (more === 0 || areEqual(readBack(result), si)) return result;
  const { value, lastDigit } = displayed;
  const digits = Math.floor(Math.log10(Math.abs(value) / lastDigit) + 1e-9) + 1 + more;
  return { ...result, displayed: displaySi(si, displayed.unit, { digits }) };
}
