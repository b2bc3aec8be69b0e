import { areEqual } from '../../formula/compare-values.ts';
import { type Displayed, displaySi, withPowerOfTen } from '../../quantity/display.ts';
import { fromSi } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import type { CheckDefinition } from './definition.ts';
import { marginOf } from './margin.ts';
import { tellMargin } from './tell-margin.ts';

/** How one side of a check is printed where it stands by itself. */
export interface Side {
  readonly digits: number;
  readonly direction?: 'down' | 'up';
  /** It is printed in full: more digits would be noughts. */
  readonly inFull?: true;
}

export interface Sides {
  readonly value: Side;
  readonly limit: Side;
}

/** So many digits more of one side are tried before both get some. */
const ONE_ALONE = 2;
const MOST_DIGITS = 12;

/**
 * Value and limit in one notation, with digits at which they stand to each other as the true values do, and from which the margin can be told. Each has those
 * with which it stands elsewhere; where that does not do, the value takes more, for the limit is the more familiar number; else the limit, or both.
 */
export function displayJudged(
  value: number,
  limit: number,
  { unit, relation }: { readonly unit: Unit; readonly relation: CheckDefinition['relation'] },
  sides: Sides,
): {
  readonly value: Displayed;
  readonly limit: Displayed;
  readonly digits: { readonly value: number; readonly limit: number };
} {
  const isSame = areEqual(value, limit);
  const apart = isSame ? 0 : value - limit;
  const margin = marginOf(value, relation, limit);
  const tries = listTries(sides);
  for (const digits of tries) {
    const l = displaySi(limit, unit, roundingOf(sides.limit, digits.limit));
    // What is the same but for the last digits of a double is rounded to the same side.
    const v = isSame
      ? displaySi(limit, unit, roundingOf(sides.limit, digits.value))
      : displaySi(value, unit, roundingOf(sides.value, digits.value));
    const reads =
      Math.sign(apart) === Math.sign(v.value - l.value) &&
      // Of a scale with a nought of its own, as of degrees Celsius, nobody reads a part.
      (isSame ||
        margin.of !== 'limit' ||
        fromSi(0, unit) !== 0 ||
        tellMargin(margin, v.value, relation, l.value) !== undefined);
    if (reads || digits === tries.at(-1)) return { ...inOneNotation(v, l), digits };
  }
  throw new Error('there is always a last try');
}

/** Numbers that are compared have both a power of ten, or none. */
function inOneNotation(value: Displayed, limit: Displayed): { value: Displayed; limit: Displayed } {
  const hasPower = [value, limit].some(({ number }) => number.exponent !== undefined);
  return hasPower ? { value: withPowerOfTen(value), limit: withPowerOfTen(limit) } : { value, limit };
}

function roundingOf({ direction }: Side, digits: number) {
  return { digits, ...(direction ? { direction } : {}) };
}

function listTries({ value, limit }: Sides): readonly { readonly value: number; readonly limit: number }[] {
  const more = ({ digits, inFull }: Side, by: number) => (inFull ? digits : digits + by);
  const alone = Array.from({ length: ONE_ALONE }, (_, i) => i + 1);
  const both = Array.from({ length: MOST_DIGITS }, (_, i) => i + 1);
  return [
    { value: value.digits, limit: limit.digits },
    ...alone.map((by) => ({ value: more(value, by), limit: limit.digits })),
    ...alone.map((by) => ({ value: value.digits, limit: more(limit, by) })),
    // The side with fewer digits catches up first: what it does not have where it was found, it gets only where it must.
    ...both.map((by) => {
      const to = Math.min(value.digits, limit.digits) + by;
      return {
        value: value.inFull ? value.digits : Math.max(value.digits, to),
        limit: limit.inFull ? limit.digits : Math.max(limit.digits, to),
      };
    }),
  ];
}
