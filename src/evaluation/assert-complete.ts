import { visit } from 'unist-util-visit';
import type { NoteSource } from '../source/note-source.ts';
import type { EvaluatedNote } from './evaluated-note.ts';

type Counts = Record<
  'calculation blocks' | 'schedules' | 'comparisons' | 'photos' | 'assumptions' | 'holds' | 'references',
  number
>;

/**
 * Holds that nothing of a note was lost on the way: without an error, every block that stands in the text is evaluated with
 * every given that it writes, every item of a register is listed, and every value in the prose has its text.
 *
 * @throws {Error} where something is missing: then a reader left out what it did not report, which is a fault of the program
 */
export function assertComplete(note: EvaluatedNote): void {
  const { source, blocks, schedules, proseTexts } = note;
  const written = countWritten(source);
  const found: Counts = {
    'calculation blocks': blocks.length,
    schedules: schedules.length,
    comparisons: source.comparisons.length,
    photos: source.photos.length,
    assumptions: source.assumptions.length,
    holds: source.holds.length,
    references: source.references.length,
  };
  for (const what of Object.keys(written) as (keyof Counts)[]) {
    if (written[what] === found[what]) continue;
    throw new Error(
      `${source.path}: ${written[what]} ${what} are written, ${found[what]} were read, and no error was reported`,
    );
  }
  for (const { id, source: block, evaluated } of blocks) {
    const names = new Set(evaluated.givens.map(({ name }) => name));
    const lost = block.given.find(({ name }) => !names.has(name));
    if (lost) throw new Error(`${source.path}: '${lost.name}' of block '${id}' was lost without an error`);
  }
  const silent = source.proseValues.find(({ target }) => !proseTexts.has(target));
  if (silent) throw new Error(`${source.path}: '${silent.target}' has no text, and no error was reported`);
}

/** What the tree of the note holds, counted before anything was read from it. */
function countWritten({ tree }: NoteSource): Counts {
  const counts: Counts = {
    'calculation blocks': 0,
    schedules: 0,
    comparisons: 0,
    photos: 0,
    assumptions: 0,
    holds: 0,
    references: 0,
  };
  visit(tree, 'noteBlock', ({ kind, items }) => {
    if (kind === 'calc' || kind === 'formula') counts['calculation blocks'] += 1;
    else if (kind === 'schedule') counts.schedules += 1;
    else if (kind === 'comparison') counts.comparisons += 1;
    else if (kind === 'photo') counts.photos += 1;
    else counts[kind] += items ?? 0;
  });
  return counts;
}
