import type { Collector } from '../diagnostics/collector.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import { relatedNote } from '../diagnostics/related-note.ts';
import { noteNumberOf } from './reference-target.ts';
import type { ListedNote, SubmittalSource } from './submittal-source.ts';

/** A listed note with the file that it means. */
export interface FoundNote {
  readonly listed: ListedNote;
  readonly path: string;
}

/**
 * The notes that a submittal lists, in its order. What names none, or one that stands in the list already, is reported.
 *
 * @param paths of all notes of the project
 */
export function findListedNotes(
  { notes }: SubmittalSource,
  paths: readonly string[],
  collector: Collector,
): readonly FoundNote[] {
  const found = new Map<string, FoundNote>();
  for (const listed of notes) {
    const { written, place } = listed;
    const meant = paths.filter((path) => path === written || noteNumberOf(path) === written);
    const [path, other] = meant;
    if (path === undefined) {
      const known = paths.map((one) => noteNumberOf(one) ?? one);
      const nearest = nearestName(written, [...known, ...paths]);
      collector.error('submittal-unknown-note', place, { written, known, nearest });
    } else if (other !== undefined) {
      collector.error('submittal-note-ambiguous', place, { written, files: meant });
    } else if (found.has(path)) {
      const related = [{ place: found.get(path)!.listed.place, note: relatedNote('first-written', {}) }];
      collector.error('submittal-note-twice', place, { file: path }, related);
    } else found.set(path, { listed, path });
  }
  return [...found.values()];
}
