import type { Collector } from '../diagnostics/collector.ts';
import { listNotes } from './load-project.ts';
import { readSource, type SourceText } from './read-source.ts';

export interface OtherNotesRequest {
  /** The notes that are read already. */
  readonly notes: readonly SourceText[];
  /** The numbers of other notes to which a note refers. */
  numbersIn(file: SourceText): readonly string[];
  /** The number that a note has by its name; undefined where it has none. */
  numberOf(name: string): string | undefined;
}

/** What notes take from the rest of their project. */
export interface OtherNoteTexts {
  readonly notes: readonly SourceText[];
  /** The names of notes that nobody refers to, and of those that cannot be read: these are reported. */
  readonly unread: readonly string[];
}

/** Reads the notes from which others take values, and those from which these do, to the end. The folder is read only where one does. */
export async function loadOtherNotes(
  folder: string,
  { notes, numbersIn, numberOf }: OtherNotesRequest,
  collector: Collector,
): Promise<OtherNoteTexts> {
  const known = new Set(notes.map(({ path }) => path));
  const found: SourceText[] = [];
  let names: readonly string[] | undefined;
  const open = [...notes];
  for (let note = open.shift(); note; note = open.shift()) {
    for (const number of numbersIn(note)) {
      names ??= await listNotes(folder);
      for (const name of names.filter((one) => numberOf(one) === number && !known.has(one))) {
        known.add(name);
        const text = await readSource(folder, name, collector);
        if (!text) continue;
        found.push(text);
        open.push(text);
      }
    }
  }
  const read = new Set([...notes, ...found].map(({ path }) => path));
  return { notes: found, unread: (names ?? []).filter((name) => !read.has(name)) };
}
