import type { WordedNote } from '../evaluation/evaluated-note.ts';
import type { ProjectSource } from '../source/project-source.ts';
import type { Words } from '../words/words.ts';
import type { ReferenceList } from './reference-list.ts';

/** What the views of one note share. */
export interface NoteContext {
  readonly note: WordedNote;
  readonly project: ProjectSource;
  readonly references: ReferenceList;
  readonly words: Words;
}
