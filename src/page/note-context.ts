import type { WordedBlock, WordedNote } from '../evaluation/evaluated-note.ts';
import type { ProjectSource } from '../source/project-source.ts';
import type { Words } from '../words/words.ts';
import { collectReferences, type ReferenceList } from './reference-list.ts';

/** What is shown of a block: its result and what the author says beside it, not its text. */
export type ShownBlock = Pick<WordedBlock, 'id' | 'title' | 'evaluated' | 'accepted'>;

/**
 * What the views of one calculation may know of its note. What they find by asking is all that they learn of other blocks, so that
 * the page of a calculation can be remembered by it.
 */
export interface BlockContext {
  readonly project: Pick<ProjectSource, 'people'>;
  readonly references: Pick<ReferenceList, 'phrases'>;
  readonly words: Words;
  /** The number of a calculation in the note, from 1; undefined where there is none of that id. */
  numberOf(id: string): number | undefined;
  /** The first calculation of the note with that purpose. */
  firstFor(purpose: string): ShownBlock | undefined;
}

/** What the views of one note share. */
export interface NoteContext extends BlockContext {
  readonly note: WordedNote;
  readonly project: ProjectSource;
  readonly references: ReferenceList;
}

export function contextOf(note: WordedNote, project: ProjectSource, words: Words): NoteContext {
  const numbers = new Map(note.blocks.map(({ id }, i) => [id, i + 1]));
  const first = new Map<string, ShownBlock>();
  for (const { id, title, evaluated, accepted } of note.blocks) {
    if (!first.has(evaluated.purpose)) first.set(evaluated.purpose, { id, title, evaluated, accepted });
  }
  return {
    note,
    project,
    references: collectReferences(note),
    words,
    numberOf: (id) => numbers.get(id),
    firstFor: (purpose) => first.get(purpose),
  };
}
