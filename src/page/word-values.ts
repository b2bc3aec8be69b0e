import type { Verdict, WordedCheck, WordedGiven } from '../engine/definition/evaluated.ts';
import { printResult } from '../engine/definition/print-result.ts';
import type { ResultValue } from '../engine/definition/value.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { withKind } from '../quantity/voltage-kind.ts';
import type { Text } from '../words/sentence.ts';
import { type JudgedNumbers, wordMargin } from './word-margin.ts';

export const DASH = '–';

/** A result as running text; a dash where there is none. */
export function printResultOrDash(result: ResultValue<string> | undefined): string {
  return result === undefined ? DASH : printResult(result);
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

/** The margin in per cent of the limit, negative where the check is not met; a dash where there is none to tell. */
export function printMargin<T extends Text>(check: JudgedNumbers<T>): string {
  return wordMargin(check) ?? DASH;
}

/** What is judged, its limit with the relation, and the margin between the two as they are printed. */
export function printJudged(check: JudgedNumbers<string>): {
  readonly value: string;
  readonly limit: string;
  readonly margin: string;
} {
  const { value, limit } = check;
  return {
    value: printResultOrDash(value),
    limit: limit === undefined ? DASH : `${RELATIONS[check.relation]} ${printResult(limit)}`,
    margin: printMargin(check),
  };
}

export function capitalise(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
