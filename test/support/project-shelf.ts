import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Collector } from '../../src/diagnostics/collector.ts';
import type { NoteShelf } from '../../src/evaluation/other-notes/note-shelf.ts';
import type { NoteSource } from '../../src/source/note-source.ts';
import { readNote } from '../../src/source/read-note.ts';

/** Gives the notes of a project folder to one of them, as that one is now; the others are read once. */
export function shelfOfFolder(folder: string): (own: NoteSource) => NoteShelf {
  const paths = readdirSync(folder).filter((name) => name.endsWith('.md'));
  const found = new Map<string, ReturnType<NoteShelf['read']>>();
  const read = (path: string): ReturnType<NoteShelf['read']> => {
    const known = found.get(path);
    if (known) return known;
    const collector = new Collector();
    const note = { source: readNote(path, readFileSync(join(folder, path), 'utf8'), collector), collector };
    found.set(path, note);
    return note;
  };
  return (own) => ({
    paths: [...new Set([...paths, own.path])],
    read: (path) => (path === own.path ? { source: own, collector: new Collector() } : read(path)),
  });
}
