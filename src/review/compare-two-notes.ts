import { visit } from 'unist-util-visit';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { ENGLISH } from '../words/words.ts';
import { compareNote } from './compare-notes.ts';
import { addedLines } from './compare-text.ts';
import type { NoteChange } from './comparison.ts';

/** A note in one state of its project, with the digests of its images by their addresses. */
export interface ChangedNote {
  readonly project: ProjectSource;
  readonly note: EvaluatedNote;
  readonly images: ReadonlyMap<string, string>;
}

/**
 * What changed in a note between two states, undefined where nothing did; and the lines of the later one at which a piece of its text begins
 * that reads otherwise, also for a value in it.
 */
export function compareTwoNotes(
  before: ChangedNote,
  after: ChangedNote,
): { readonly change: NoteChange | undefined; readonly lines: ReadonlySet<number> } {
  const stateOf = ({ project, note, images }: ChangedNote) => ({
    project,
    notes: [note],
    imagesOf: () => images,
  });
  const change = compareNote({ before: before.note, after: after.note }, stateOf(before), stateOf(after));
  const renamed = new Map(
    (change?.blocks ?? []).flatMap(({ renamedFrom, id }) =>
      renamedFrom ? [[renamedFrom, id] as const] : [],
    ),
  );
  const lines = new Set([
    ...addedLines(before.note.source, after.note.source, renamed),
    ...linesOfOtherValues(before.note, after.note),
  ]);
  return { change, lines };
}

/** Lines with a value in the prose that reads otherwise. */
function linesOfOtherValues(before: EvaluatedNote, after: EvaluatedNote): readonly number[] {
  const lines: number[] = [];
  visit(after.source.tree, 'proseValue', ({ target, position }) => {
    const [old, fresh] = [before.proseTexts.get(target), after.proseTexts.get(target)];
    if (!position || (old !== undefined && fresh !== undefined && ENGLISH.word(old) === ENGLISH.word(fresh)))
      return;
    lines.push(position.start.line);
  });
  return lines;
}
