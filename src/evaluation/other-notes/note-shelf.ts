import type { Collector } from '../../diagnostics/collector.ts';
import type { NoteSource } from '../../source/note-source.ts';
import { noteNumberOf } from '../../source/reference-target.ts';

/** The notes of a project that others may take values from; each is read when it is asked for. */
export interface NoteShelf {
  /** Paths of all notes, those that nobody asks for too. */
  readonly paths: readonly string[];
  /** A note with what is to be said of reading it; without a source where nothing can be made of it. */
  read(path: string): { readonly source: NoteSource | undefined; readonly collector: Collector };
}

/** The notes whose file names begin with a number, by that number. */
export function notesByNumber({ paths }: Pick<NoteShelf, 'paths'>): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, string[]>();
  for (const path of [...paths].sort()) {
    const number = noteNumberOf(path);
    if (number !== undefined) found.set(number, [...(found.get(number) ?? []), path]);
  }
  return found;
}
