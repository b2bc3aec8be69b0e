import type { WordedBlock, WordedNote } from '../evaluation/evaluated-note.ts';
import type { ProjectSource } from '../source/project-source.ts';
import type { Words } from '../words/words.ts';
import { ALONE, type Numbering } from './numbering.ts';
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
  /** The number of a calculation as it is printed; undefined where there is none of that id. */
  numberOf(id: string): string | undefined;
  /** The first calculation of the note with that purpose. */
  firstFor(purpose: string): ShownBlock | undefined;
}

/** A block with its number in the document. */
export interface NumberedBlock extends WordedBlock {
  /** '3', '201-3' */
  readonly number: string;
}

/** What the views of one note share. */
export interface NoteContext extends BlockContext {
  readonly note: WordedNote;
  /** The blocks of the note, in its order. */
  readonly blocks: readonly NumberedBlock[];
  readonly numbering: Numbering;
  readonly project: ProjectSource;
  readonly references: ReferenceList;
}

export function contextOf(
  note: WordedNote,
  project: ProjectSource,
  words: Words,
  numbering = ALONE,
): NoteContext {
  const blocks = note.blocks.map((block, i) => ({ ...block, number: `${numbering.prefix}${i + 1}` }));
  const numbers = new Map(blocks.map(({ id, number }) => [id, number]));
  const first = new Map<string, ShownBlock>();
  for (const { id, title, evaluated, accepted } of note.blocks) {
    if (!first.has(evaluated.purpose)) first.set(evaluated.purpose, { id, title, evaluated, accepted });
  }
  return {
    note,
    blocks,
    numbering,
    project,
    references: collectReferences(blocks, note.source.references),
    words,
    numberOf: (id) => numbers.get(id),
    firstFor: (purpose) => first.get(purpose),
  };
}
