import type { WordedGiven } from '../engine/definition/evaluated.ts';
import type { BlockContext, ShownBlock } from './note-context.ts';

export interface SplitGivens {
  /** What the table of the calculation sets out. */
  readonly own: readonly WordedGiven[];
  /** What other calculations set out, by the id of the one where it stands. */
  readonly elsewhere: ReadonlyMap<string, readonly WordedGiven[]>;
}

/** Fewer than this are no shorter as a sentence than as rows. */
const FEWEST = 3;

/**
 * Tells the givens of a calculation that stand in another one: those that an earlier calculation has alike, in name, meaning, value
 * and source, and those that are taken over from where they mean the same. They need not be set out again, and what is new here
 * can be seen.
 */
export function splitGivens(context: BlockContext, { id, evaluated }: ShownBlock): SplitGivens {
  const elsewhere = new Map<string, WordedGiven[]>();
  for (const given of evaluated.givens) {
    const block = standsIn(context, id, given);
    if (block !== undefined) elsewhere.set(block, [...(elsewhere.get(block) ?? []), given]);
  }
  const all = [...elsewhere.values()].flat();
  if (all.length < FEWEST) return { own: evaluated.givens, elsewhere: new Map() };
  return { own: evaluated.givens.filter((given) => !all.includes(given)), elsewhere };
}

/** The calculation that sets a given out, where that is another one. */
function standsIn(context: BlockContext, id: string, given: WordedGiven): string | undefined {
  // A list may be longer than a line, and stays where it can be read; a table is named alone.
  const short = given.value.type === 'quantity' || given.value.type === 'choice' || given.table !== undefined;
  if (!short) return undefined;
  const [block, name] = given.origin === 'reference' ? splitTarget(given.written ?? '') : [];
  const there = block === undefined ? undefined : context.valueIn(block, name!);
  if (there) {
    const isAlike =
      there.name === given.name && there.symbol === given.symbol && there.meaning === given.meaning;
    return isAlike && there.print === given.print && there.range === given.range?.print ? block : undefined;
  }
  const first = context.firstGivenLike(likeness(given));
  return first === id ? undefined : first;
}

function splitTarget(written: string): readonly [string, string] | readonly [] {
  const [block, name, ...more] = written.split('.');
  return block === undefined || name === undefined || more.length > 0 ? [] : [block, name];
}

/** What two givens have in common that need not be told apart, as one text. */
export function likeness(given: WordedGiven): string {
  const known = LIKENESSES.get(given);
  if (known !== undefined) return known;
  const { name, symbol, meaning, print, range, source, origin, written } = given;
  const text = JSON.stringify([name, symbol, meaning, print, range?.print, source, origin, written]);
  LIKENESSES.set(given, text);
  return text;
}

/** As long as somebody holds the given: what is remembered of a calculation is the same object from page to page. */
const LIKENESSES = new WeakMap<WordedGiven, string>();
