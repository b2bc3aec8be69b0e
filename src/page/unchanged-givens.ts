import type { WordedGiven } from '../engine/definition/evaluated.ts';
import { viewGiven } from './given-view.ts';
import type { BlockContext, ShownBlock } from './note-context.ts';

export interface SplitGivens {
  /** What the table of the calculation sets out. */
  readonly own: readonly WordedGiven[];
  /** What an earlier calculation of the same kind has set out already, with the same value and the same source. */
  readonly unchanged: readonly WordedGiven[];
}

/** Fewer than this are no shorter as a sentence than as rows. */
const FEWEST = 3;

/**
 * Tells the givens of a calculation that repeats an `earlier` one: those that stand there word for word, or that are taken
 * over from there, need not be set out again, and what was changed can be seen.
 */
export function splitGivens(
  context: BlockContext,
  { evaluated }: ShownBlock,
  earlier: ShownBlock | undefined,
): SplitGivens {
  const { givens } = evaluated;
  const unchanged = earlier ? givens.filter((given) => isUnchanged(context, given, earlier)) : [];
  if (unchanged.length < FEWEST) return { own: givens, unchanged: [] };
  return { own: givens.filter((given) => !unchanged.includes(given)), unchanged };
}

function isUnchanged(context: BlockContext, given: WordedGiven, earlier: ShownBlock): boolean {
  const before = earlier.evaluated.givens.find(({ name }) => name === given.name);
  // A list may be longer than a line, and stays where it can be read; a table is named alone.
  const short = given.value.type === 'quantity' || given.value.type === 'choice' || given.table !== undefined;
  if (before === undefined || !short) return false;
  const takenOver = given.origin === 'reference' && given.written === `${earlier.id}.${given.name}`;
  if (takenOver) return given.print === before.print && given.range?.print === before.range?.print;
  return JSON.stringify(viewGiven(context, given)) === JSON.stringify(viewGiven(context, before));
}
