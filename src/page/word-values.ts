import type { Verdict, WordedCheck, WordedGiven } from '../engine/definition/evaluated.ts';
import type { ResultValue } from '../engine/definition/value.ts';
import { displaySi } from '../quantity/display.ts';
import { isWithinNumbers, type Quantity } from '../quantity/quantity.ts';
import { unit } from '../quantity/unit.ts';
import { withKind } from '../quantity/voltage-kind.ts';

export const DASH = '–';

/** A result as running text. */
export function printResult(result: ResultValue<string> | undefined): string {
  if (result === undefined) return DASH;
  switch (result.type) {
    case 'number':
      return result.displayed.print;
    case 'words':
      return result.words;
    case 'choice':
      return result.choice;
    case 'list':
      return result.items.map((item) => item.displayed.print).join('; ');
  }
}

/** The value of a given, each voltage and current with its kind, and its range below it. */
export function printGiven(given: WordedGiven): readonly string[] {
  return [printWithKind(given), ...(given.range ? [`(${given.range.print})`] : [])];
}

function printWithKind({ value, print, items }: WordedGiven): string {
  if (value.type === 'quantity') return withKind(print, value.quantity.kind);
  if (value.type !== 'list' || !items) return print;
  return items.map((item, i) => keepTogether(withKind(item.print, value.items[i]?.kind))).join('; ');
}

/** An item of a list is not broken. */
function keepTogether(item: string): string {
  return item.replaceAll(' ', '\u00a0');
}

/** The units in which a given was written. */
export function unitsOfGiven({ value }: WordedGiven): readonly string[] {
  if (value.type === 'quantity') return [printUnit(value.quantity)];
  if (value.type === 'list') return value.items.map(printUnit);
  return [];
}

export function unitsOfResult(result: ResultValue<string>): readonly string[] {
  return result.type === 'choice' ? [] : [result.unit.print || '1'];
}

function printUnit(quantity: Quantity): string {
  return quantity.unit.print || '1';
}

export const RELATIONS = { '<=': '≤', '>=': '≥', '<': '<', '>': '>' } as const;
const OPPOSITES = { '<=': '>', '>=': '<', '<': '>=', '>': '<=' } as const;

/** How the two values stand to each other: the relation where it holds, else its opposite. */
export function actualRelation(check: WordedCheck): WordedCheck['relation'] {
  return isAdverse(check.verdict) ? OPPOSITES[check.relation] : check.relation;
}

function isAdverse(verdict: Verdict): boolean {
  return verdict === 'does-not-comply' || verdict === 'not-met';
}

/** True for the verdicts that a reader must not overlook. */
export function isToBeNoticed(verdict: Verdict): boolean {
  return isAdverse(verdict) || verdict === 'cannot-be-judged';
}

const PERCENT = unit('%');

/** The margin in per cent of the limit, on the safe side rounded down; negative where the check is not met. */
export function printMargin({ margin, atLimit }: Pick<WordedCheck, 'margin' | 'atLimit'>): string {
  if (margin === undefined) return DASH;
  if (atLimit) return '0 %';
  // Of a limit that is nought, or next to nothing: no part of it says anything.
  if (margin.of !== 'limit' || !isWithinNumbers(margin.value, PERCENT)) return DASH;
  const { print } = displaySi(margin.value, PERCENT, { digits: 2, direction: 'down' });
  return margin.value > 0 ? `+${print}` : print;
}

export function capitalise(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
