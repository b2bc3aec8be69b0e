import type { Memory } from '../../memory/memory.ts';
import type { NoteSource } from '../../source/note-source.ts';
import { readOtherNoteTarget } from '../../source/reference-target.ts';
import { listReferences, type WrittenReference } from '../list-references.ts';

/** A reference to a value of another note. */
export interface OtherNoteReference extends WrittenReference {
  /** With which the file name of the other note begins. */
  readonly number: string;
  /** What the value is called in its own note. */
  readonly local: string;
}

/** Every reference of a note to values of other notes: those of its blocks in the order of the text, then those of its prose. */
export function listOtherReferences(note: NoteSource, memory: Memory): readonly OtherNoteReference[] {
  return memory.recall('other references', memory.nameOf(note), () =>
    [
      ...[...note.blocks, ...note.schedules.map(({ common }) => common)].flatMap(({ given }) =>
        listReferences(given),
      ),
      ...note.proseValues,
    ].flatMap(({ target, place }) => {
      const other = readOtherNoteTarget(target);
      return other ? [{ target, place, ...other }] : [];
    }),
  );
}

/** Of each other note the first reference, in the order of the text. */
export function firstByNumber(references: readonly OtherNoteReference[]): readonly OtherNoteReference[] {
  const first = new Map<string, OtherNoteReference>();
  for (const reference of references)
    if (!first.has(reference.number)) first.set(reference.number, reference);
  return [...first.values()];
}
