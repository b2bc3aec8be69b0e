import { ENGLISH } from '../words/words.ts';
import type { FactChange } from './comparison.ts';
import type { RecordedNode, RecordedNumber } from './recorded-node.ts';
import { isSameValue, wordDigits, wordNumber } from './recorded-number.ts';

/** A fact: words, or a number with its unit. */
export type Fact = string | RecordedNumber;
export type Facts = ReadonlyMap<string, Fact>;

/** Digits by which a reader tells two values apart; more where they do not. */
const READERS_DIGITS = 6;

/** The facts of a tree by their dotted names. */
export function flattenFacts(node: RecordedNode | undefined, name = ''): Map<string, Fact> {
  const facts = new Map<string, Fact>();
  const under = (key: string | number): string => (name === '' ? String(key) : `${name}.${key}`);
  const take = (more: ReadonlyMap<string, Fact>): void => {
    for (const [key, fact] of more) facts.set(key, fact);
  };
  if (node?.type === 'text') facts.set(name, node.text);
  else if (node?.type === 'sentence') facts.set(name, ENGLISH.word(node.sentence));
  else if (node?.type === 'number') facts.set(name, node.number);
  else if (node?.type === 'list')
    for (const [i, item] of node.items.entries()) take(flattenFacts(item, under(i)));
  else for (const [key, value] of node?.entries ?? []) take(flattenFacts(value, under(key)));
  return facts;
}

/** What differs between two sets of facts, in the order of the new one; what went stands at the end. */
export function compareFacts(before: Facts, after: Facts): FactChange[] {
  const names = new Set([...after.keys(), ...before.keys()]);
  return [...names].flatMap((name) => {
    const [old, fresh] = [before.get(name), after.get(name)];
    if (old !== undefined && fresh !== undefined && isSameFact(old, fresh)) return [];
    return [wordChange(name, old, fresh)];
  });
}

export function isSameFact(a: Fact, b: Fact): boolean {
  if (typeof a === 'string' || typeof b === 'string') return a === b;
  const tolerance = Math.max(a.precision.tolerance, b.precision.tolerance);
  return a.unit === b.unit && a.before === b.before && isSameValue(a.value, b.value, tolerance);
}

function wordChange(name: string, before: Fact | undefined, after: Fact | undefined): FactChange {
  const digits = needMoreDigits(before, after) ? undefined : READERS_DIGITS;
  const percent = percentBetween(before, after);
  return {
    name,
    ...(before === undefined ? {} : { before: wordFact(before, digits) }),
    ...(after === undefined ? {} : { after: wordFact(after, digits) }),
    ...(percent === undefined ? {} : { percent }),
  };
}

function wordFact(fact: Fact, digits: number | undefined): string {
  if (typeof fact === 'string') return fact;
  return wordNumber(digits === undefined ? fact : { ...fact, precision: { ...fact.precision, digits } });
}

function needMoreDigits(before: Fact | undefined, after: Fact | undefined): boolean {
  if (typeof before !== 'object' || typeof after !== 'object') return false;
  return wordDigits(before.value, READERS_DIGITS) === wordDigits(after.value, READERS_DIGITS);
}

/** Nothing for values in different units, from zero, and for temperatures, whose zero is a convention. */
function percentBetween(before: Fact | undefined, after: Fact | undefined): number | undefined {
  if (typeof before !== 'object' || typeof after !== 'object' || before.unit !== after.unit) return undefined;
  if (before.value === 0 || /^(?:°|deg)C\b/.test(before.unit)) return undefined;
  return Number((((after.value - before.value) / Math.abs(before.value)) * 100).toPrecision(6));
}
