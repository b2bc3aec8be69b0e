import type { NoteSource } from '../../source/note-source.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { noteNumberOf } from '../../source/reference-target.ts';

/** A project as its texts are now, without anything being evaluated. Whatever an editor asks at a keystroke is answered from it. */
export interface Reading {
  /** The last one of which something could be made. */
  readonly project: ProjectSource | undefined;
  /** Paths of the notes, sorted. */
  readonly notes: readonly string[];
  /** Paths of the submittals. */
  readonly submittals: readonly string[];
  /** Paths of the tables that lie in the project. */
  readonly tables: readonly string[];
  /** Without byte order mark. */
  textOf(path: string): string | undefined;
  noteOf(path: string): NoteSource | undefined;
}

/** The notes that have a number, with it. */
export function numberedNotes({ notes }: Reading): { readonly number: string; readonly path: string }[] {
  return notes.flatMap((path) => {
    const number = noteNumberOf(path);
    return number === undefined ? [] : [{ number, path }];
  });
}
