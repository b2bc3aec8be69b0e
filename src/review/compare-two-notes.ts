import { visit } from 'unist-util-visit';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { FrontMatter } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { ENGLISH } from '../words/words.ts';
import { compareNote } from './compare-notes.ts';
import { compareProject } from './compare-project.ts';
import { addedLines } from './compare-text.ts';
import type { FactChange, NoteChange } from './comparison.ts';

/** A note in one state of its project, with the digests of its images by their addresses. */
export interface ChangedNote {
  readonly project: ProjectSource;
  readonly note: EvaluatedNote;
  readonly images: ReadonlyMap<string, string>;
}

/** What changed in a note, and in what it takes from its project. */
export interface TwoNotes {
  /** Undefined where nothing of the note changed. */
  readonly change: NoteChange | undefined;
  /** Entries of the register that the note uses, and what its title block prints. */
  readonly project: readonly FactChange[];
  /** The entries among these that the register has, by their paths: what takes a value over from one of them has changed with it. */
  readonly entries: ReadonlySet<string>;
  /** On what the title block of the earlier state rests. */
  readonly head: { readonly frontMatter: FrontMatter; readonly project: ProjectSource };
  /** Lines of the later state at which a piece of its text begins that reads otherwise, also for a value in it, or shows another picture. */
  readonly lines: ReadonlySet<number>;
}

export function compareTwoNotes(before: ChangedNote, after: ChangedNote): TwoNotes {
  const stateOf = ({ project, note, images }: ChangedNote) => ({
    project,
    notes: [note],
    imagesOf: () => images,
  });
  const change = compareNote({ before: before.note, after: after.note }, stateOf(before), stateOf(after));
  const renamed = new Map(
    (change?.blocks ?? []).flatMap(({ renamedFrom, id }) =>
      renamedFrom ? [[renamedFrom, id] as const] : [],
    ),
  );
  const lines = new Set([
    ...addedLines(before.note.source, after.note.source, renamed),
    ...linesOfOtherValues(before.note, after.note),
    ...linesOfOtherImages(after.note, new Set(change?.images.map(({ name }) => name))),
  ]);
  const used = new Set([...before.note.usedRegister.keys(), ...after.note.usedRegister.keys()]);
  const project = compareProject(before.project, after.project).filter(({ name }) =>
    concernsNote(name, used),
  );
  const entries = new Set(project.map(({ name }) => entryOf(name)).filter((entry) => used.has(entry)));
  const head = { frontMatter: before.note.source.frontMatter, project: before.project };
  return { change, project, entries, head, lines };
}

/** Lines with a value in the prose that reads otherwise. */
function linesOfOtherValues(before: EvaluatedNote, after: EvaluatedNote): readonly number[] {
  const lines: number[] = [];
  visit(after.source.tree, 'proseValue', ({ target, position }) => {
    const [old, fresh] = [before.proseTexts.get(target), after.proseTexts.get(target)];
    if (!position || (old !== undefined && fresh !== undefined && ENGLISH.word(old) === ENGLISH.word(fresh)))
      return;
    lines.push(position.start.line);
  });
  return lines;
}

/** Lines with a picture that has another content. */
function linesOfOtherImages({ source }: EvaluatedNote, changed: ReadonlySet<string>): readonly number[] {
  const lines: number[] = [];
  visit(source.tree, 'image', ({ url, position }) => {
    if (position && changed.has(url)) lines.push(position.start.line);
  });
  return lines;
}

/** What is printed of a project in every note. */
const PRINTED = /^(?:title|client|site|contract|company\..*|letterhead\..*|distribution|signatures)$/;

function concernsNote(name: string, used: ReadonlySet<string>): boolean {
  return PRINTED.test(name) || used.has(entryOf(name));
}

/** The entry of the register that a fact of the project is about: 'source of equipment.TX1.impulse_withstand in devices.yaml'. */
function entryOf(name: string): string {
  return name.replace(/^source of /, '').split(' in ')[0]!;
}
