import { Collector } from '../diagnostics/collector.ts';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import { oneByOne } from '../engine/definition/piece-task.ts';
import { Memory } from '../memory/memory.ts';
import { checkStatus } from '../source/document-states.ts';
import type { NoteSource } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { noteNumberOf } from '../source/reference-target.ts';
import { assertComplete } from './assert-complete.ts';
import { checkConfirmedSources } from './check-confirmed-sources.ts';
import type { EvaluationTools } from './evaluate-block.ts';
import { finishNote } from './evaluate-note.ts';
import type { EvaluatedNote, EvaluatedProject } from './evaluated-note.ts';
import { RegisterKinds } from './kinds/register-kinds.ts';
import { type ItemReference, orderByReferences } from './order-by-references.ts';
import { firstByNumber, listOtherReferences } from './other-notes/list-other-references.ts';
import { type NoteShelf, notesByNumber } from './other-notes/note-shelf.ts';
import { type FinishedNote, OtherNotesOf } from './other-notes/other-notes.ts';
import type { TakenValue } from './other-notes/taken-value.ts';
import { noTables, type TableText } from './schedule/evaluate-schedule.ts';
import {
  evaluateSubmittal,
  type NotesOfProject,
  type SubmittalRequest,
} from './submittal/evaluate-submittal.ts';

export interface ProjectEvaluationOptions extends Partial<EvaluationTools> {
  /** The notes from which others may take values: those that are asked for where absent. */
  readonly shelf?: NoteShelf;
  /** The texts of tables that schedules name. */
  readonly tables?: (path: string) => TableText;
  /** What is to be put together of the notes. */
  readonly submittals?: readonly SubmittalRequest[];
}

/**
 * Evaluates the notes of a project, and those from which they take values. What the collector already holds of reading them comes out
 * with the rest; of a note that nobody asks for no fault is told but where its values are used.
 */
export function evaluateProject(
  project: ProjectSource,
  notes: readonly NoteSource[],
  collector: Collector,
  {
    memory = new Memory(),
    spread = oneByOne,
    shelf = shelfOf(notes),
    tables = noTables,
    submittals = [],
  }: ProjectEvaluationOptions = {},
): EvaluatedProject {
  checkConfirmedSources(project, collector);
  const evaluation = new ProjectEvaluation(project, { shelf, tables }, { memory, spread }, collector);
  const { asked, others } = evaluation.run(notes);
  const world = evaluation.notesOfProject();
  const documents = submittals.map((one) => evaluateSubmittal(one, world, collector));
  if (!collector.hasErrors) for (const note of [...asked, ...others]) assertComplete(note);
  return { project, notes: asked, others, submittals: documents, diagnostics: collector.list() };
}

function shelfOf(notes: readonly NoteSource[]): NoteShelf {
  return {
    paths: notes.map(({ path }) => path),
    read: (path) => ({ source: notes.find((note) => note.path === path), collector: new Collector() }),
  };
}

/** A note as an item that refers to others of its kind. */
interface NoteItem {
  readonly id: string;
  readonly name: string;
  readonly source: NoteSource;
}

class ProjectEvaluation {
  readonly #project: ProjectSource;
  readonly #shelf: NoteShelf;
  readonly #tables: (path: string) => TableText;
  readonly #tools: EvaluationTools;
  readonly #collector: Collector;
  readonly #numbers: ReadonlyMap<string, readonly string[]>;
  readonly #kinds = new RegisterKinds();
  readonly #finished = new Map<string, FinishedNote>();
  /** Paths of notes that refer to one another in a circle. */
  readonly #circles = new Set<string>();
  /** Paths of notes at fault only because others are. */
  readonly #follows = new Set<string>();

  constructor(
    project: ProjectSource,
    { shelf, tables }: Required<Pick<ProjectEvaluationOptions, 'shelf' | 'tables'>>,
    tools: EvaluationTools,
    collector: Collector,
  ) {
    this.#tables = tables;
    this.#project = project;
    this.#shelf = shelf;
    this.#tools = tools;
    this.#collector = collector;
    this.#numbers = notesByNumber(shelf);
  }

  run(notes: readonly NoteSource[]): Record<'asked' | 'others', readonly EvaluatedNote[]> {
    const asked = new Set(notes.map(({ path }) => path));
    const sources = new Map(notes.map((note) => [note.path, note]));
    const { items, circles } = orderByReferences(
      notes.map(itemOf),
      (path) => itemOf(sources.get(path) ?? this.#shelf.read(path).source!),
      (item) => this.#referencesOf(item),
    );
    // An error that concerns a note may stand in one that nobody asked for.
    for (const { id } of items) this.#collector.keepTextsOf(this.#shelf.read(id).collector);
    for (const { ids, place, chain, related } of circles) {
      this.#collector.error('notes-in-circle', place, { chain }, related);
      for (const id of ids) this.#circles.add(id);
    }
    for (const { source } of items) this.#evaluate(source, asked.has(source.path));
    const others = items.map(({ id }) => id).filter((path) => !asked.has(path));
    const noteOf = (path: string): EvaluatedNote => this.#finished.get(path)!.note;
    return { asked: notes.map(({ path }) => noteOf(path)), others: others.sort().map(noteOf) };
  }

  /** What submittals ask of the notes that were run. */
  notesOfProject(): NotesOfProject {
    const others = new OtherNotesOf('', this.#numbers, this.#finished);
    return {
      project: this.#project,
      noteOf: (path) => this.#finished.get(path)?.note,
      isFaulty: (path) => this.#finished.get(path)?.failed !== false,
      resolve: (target) => others.resolve(target),
    };
  }

  /** Only to what can be read, and by one name: all else is reported where the note itself is evaluated. */
  #referencesOf({ source }: NoteItem): ItemReference[] {
    return firstByNumber(listOtherReferences(source, this.#tools.memory)).flatMap(({ number, place }) => {
      const [path, second] = this.#numbers.get(number) ?? [];
      const mayBeTaken = path !== undefined && second === undefined && path !== source.path;
      return mayBeTaken && this.#shelf.read(path).source ? [{ id: path, place }] : [];
    });
  }

  #evaluate(source: NoteSource, isAsked: boolean): void {
    const { path } = source;
    const own = new Collector();
    const others = new OtherNotesOf(path, this.#numbers, this.#finished);
    checkStatus(this.#project, source, own);
    this.#reportNotes(source, own);
    const options = { ...this.#tools, kinds: this.#kinds, others, tables: this.#tables };
    const { note, values } = finishNote(this.#project, source, own, options);
    if (isAsked) this.#collector.addAll(own);
    const taken = new Map<string, TakenValue>();
    for (const reference of listOtherReferences(source, this.#tools.memory)) {
      const value = taken.has(reference.target) ? undefined : others.taken(reference);
      if (value) taken.set(reference.target, value);
    }
    const readFaults = this.#shelf.read(path).collector.hasErrors;
    const failed = readFaults || own.hasErrors || this.#circles.has(path);
    // Of one that was asked for, it is told which note is at fault; those behind it need not hear of it again.
    if (isAsked && !readFaults && own.list().every(isOfOtherNote)) this.#follows.add(path);
    this.#finished.set(path, { note: { ...note, taken: [...taken.values()] }, failed, values });
  }

  /** Whether a note is at fault, and that does not merely follow from what is told of it or of others in this run. */
  #isUntold(path: string): boolean {
    if (this.#circles.has(path)) return false;
    return this.#finished.get(path)?.failed !== false && !this.#follows.has(path);
  }

  /** Says of each other note once why none of its values can be taken. */
  #reportNotes(source: NoteSource, collector: Collector): void {
    for (const { number, place } of firstByNumber(listOtherReferences(source, this.#tools.memory))) {
      const paths = this.#numbers.get(number) ?? [];
      const [path] = paths;
      if (path === undefined || path === source.path) continue;
      if (paths.length > 1) collector.error('note-number-twice', place, { number, files: paths });
      else if (this.#isUntold(path)) collector.error('note-at-fault', place, { number, file: path });
    }
  }
}

function isOfOtherNote({ severity, code }: Diagnostic): boolean {
  return severity !== 'error' || code === 'note-at-fault';
}

function itemOf(source: NoteSource): NoteItem {
  return { id: source.path, name: noteNumberOf(source.path) ?? source.path, source };
}
