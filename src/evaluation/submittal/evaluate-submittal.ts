import type { Collector } from '../../diagnostics/collector.ts';
import { checkStatus } from '../../source/document-states.ts';
import type { FoundNote } from '../../source/find-listed-notes.ts';
import type { FrontMatter, ProseValue } from '../../source/note-source.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { valuesIn } from '../../source/read-text-with-values.ts';
import { noteNumberOf, readOtherNoteTarget } from '../../source/reference-target.ts';
import type { SubmittalSource } from '../../source/submittal-source.ts';
import type { Text } from '../../words/sentence.ts';
import type { EvaluatedNote } from '../evaluated-note.ts';
import type { OtherTarget } from '../other-notes/other-notes.ts';
import type { Resolution } from '../resolve-target.ts';
import type { EvaluatedSubmittal, SubmittalNote } from './evaluated-submittal.ts';

/** A submittal that is to be put together. */
export interface SubmittalRequest {
  readonly source: SubmittalSource;
  /** The notes that it lists, as far as there are such. */
  readonly found: readonly FoundNote[];
}

/** What a submittal asks of the notes of its project. */
export interface NotesOfProject {
  readonly project: ProjectSource;
  /** A note, evaluated; undefined where nothing could be made of it. */
  noteOf(path: string): EvaluatedNote | undefined;
  /** Whether something is wrong with a note: that has been reported. */
  isFaulty(path: string): boolean;
  resolve(target: OtherTarget): Resolution;
}

/** Puts a submittal together of its notes. Reports whatever keeps them from being one document. */
export function evaluateSubmittal(
  { source, found }: SubmittalRequest,
  world: NotesOfProject,
  collector: Collector,
): EvaluatedSubmittal {
  checkStatus(world.project, source, collector);
  for (const { listed, path } of found) {
    if (world.isFaulty(path)) collector.error('submittal-note-at-fault', listed.place, { file: path });
  }
  const notes = found.flatMap(({ listed, path }): SubmittalNote[] => {
    const note = world.noteOf(path);
    return note ? [{ note, listed, label: noteNumberOf(path) ?? note.source.frontMatter.number }] : [];
  });
  reportDifferences(notes, collector);
  const [first] = notes;
  const { pageSize, locale } = first?.note.source.frontMatter ?? source.frontMatter;
  return {
    source: { ...source, frontMatter: { ...source.frontMatter, pageSize, locale } },
    notes,
    texts: readTexts(source, notes, world, collector),
  };
}

const SHARED: readonly (readonly [what: 'page size' | 'language', (front: FrontMatter) => string])[] = [
  ['page size', ({ pageSize }) => pageSize],
  ['language', ({ locale }) => locale],
];

/** One document has one paper and one language, and each note in it a name of its own. */
function reportDifferences([first, ...rest]: readonly SubmittalNote[], collector: Collector): void {
  if (!first) return;
  const before = [first];
  for (const one of rest) {
    const { note, listed, label } = one;
    const file = note.source.path;
    for (const [what, read] of SHARED) {
      const [value, otherValue] = [read(note.source.frontMatter), read(first.note.source.frontMatter)];
      if (value === otherValue) continue;
      const other = first.note.source.path;
      collector.error('submittal-notes-differ', listed.place, { file, what, value, other, otherValue });
    }
    const alike = before.find((earlier) => earlier.label === label);
    if (alike) {
      const other = alike.note.source.path;
      collector.error('submittal-notes-alike', listed.place, { name: label, file, other });
    }
    before.push(one);
  }
}

function readTexts(
  { introduction }: SubmittalSource,
  notes: readonly SubmittalNote[],
  world: NotesOfProject,
  collector: Collector,
): ReadonlyMap<string, Text> {
  const texts = new Map<string, Text>();
  for (const value of valuesIn(introduction)) {
    const text = readText(value, notes, world, collector);
    if (text !== undefined) texts.set(value.target, text);
  }
  return texts;
}

function readText(
  { target, place }: ProseValue,
  notes: readonly SubmittalNote[],
  world: NotesOfProject,
  collector: Collector,
): Text | undefined {
  const read = readOtherNoteTarget(target);
  if (!read) {
    collector.error('submittal-value-without-note', place, { target });
    return undefined;
  }
  if (!notes.some(({ label }) => label === read.number)) {
    const known = notes.map(({ label }) => label);
    collector.error('submittal-value-elsewhere', place, { number: read.number, known });
    return undefined;
  }
  const resolution = world.resolve(read);
  if (resolution.ok) return resolution.target.print;
  const { problem } = resolution;
  if (problem) collector.error(problem.code, place, problem.data as never);
  return undefined;
}
