import { Collector } from '../diagnostics/collector.ts';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { SourceTexts } from '../diagnostics/positions.ts';
import { oneByOne } from '../engine/definition/piece-task.ts';
import { checkNumbers, type NumberedDocument } from '../evaluation/check-numbers.ts';
import type { EvaluationTools } from '../evaluation/evaluate-block.ts';
import { evaluateProject } from '../evaluation/evaluate-project.ts';
import type { EvaluatedBlock, EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { firstByNumber, listOtherReferences } from '../evaluation/other-notes/list-other-references.ts';
import type { TableText } from '../evaluation/schedule/evaluate-schedule.ts';
import type { SubmittalRequest } from '../evaluation/submittal/evaluate-submittal.ts';
import type { EvaluatedSubmittal } from '../evaluation/submittal/evaluated-submittal.ts';
import { contentKey } from '../memory/content-key.ts';
import { Memory } from '../memory/memory.ts';
import { checkMath, checkOwnFormulas } from '../page/check-math.ts';
import { checkSheets } from '../page/check-sheets.ts';
import { checkTargets } from '../page/check-targets.ts';
import { type RenderedNote, type RenderOptions, renderNote } from '../page/render-note.ts';
import { findListedNotes } from '../source/find-listed-notes.ts';
import type { FrontMatter, NoteSource } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { headOf, readHead } from '../source/read-head.ts';
import { readNote } from '../source/read-note.ts';
import { type IncludedText, readProject } from '../source/read-project.ts';
import { readSubmittal } from '../source/read-submittal.ts';
import { isSubmittalName, type SubmittalSource } from '../source/submittal-source.ts';

/** Where project.yaml stands among the files of a session. */
export const PROJECT_PATH = 'project.yaml';

/** What a project comes to as its files are now. */
export interface SessionState extends SourceTexts {
  /** Undefined where nothing can be made of project.yaml. */
  readonly project: ProjectSource | undefined;
  /** In the order that was asked for; a note of which nothing can be made is absent. Not to be printed where there is an error. */
  readonly notes: readonly EvaluatedNote[];
  /** Notes that were not asked for, from which those take values, also through others. */
  readonly others: readonly EvaluatedNote[];
  /** Those that were asked for; `notes` holds the notes of all of them. */
  readonly submittals: readonly EvaluatedSubmittal[];
  /** Everything that is to be said of the files, in the order of the source. */
  readonly diagnostics: readonly Diagnostic[];
}

export interface StateQuestion {
  /** Paths of the notes: all, in the order of their paths, where absent. */
  readonly notes?: readonly string[];
  /** Paths of submittals, whose notes are evaluated too: none where absent. */
  readonly submittals?: readonly string[];
  /** Paths of notes of the project that are not among the files: none of these is taken for one that does not exist. */
  readonly unread?: readonly string[];
  /** What else was found of the files, by whoever read them: it comes out with the rest. */
  readonly found?: Collector;
  /** Paths of files that are there and have no text, which was found too. */
  readonly unreadable?: ReadonlySet<string>;
  /** Paths of tables that are there: one of them may be meant where one is missing. */
  readonly tableNames?: readonly string[];
  /** More will be asked of these texts before one of them changes: so the round does not end yet. */
  readonly goesOn?: boolean;
}

/**
 * Opens a project in memory.
 *
 * @param files texts by path, relative to the project: project.yaml, the registers that it includes, notes, the tables of their schedules,
 *   and submittals
 */
export function openProject(
  files: Iterable<readonly [path: string, text: string]>,
  tools: Partial<EvaluationTools> = {},
): ProjectSession {
  return new ProjectSession(files, tools);
}

/**
 * A project whose texts are in memory and may change. It reads no file and writes none. After an edit it computes what the edit
 * concerns, and remembers the rest.
 *
 * **Invariant:** whatever the edits that led here, the state is that of a session opened anew with the same texts.
 */
export class ProjectSession {
  readonly #files: Map<string, string>;
  readonly #tools: EvaluationTools;

  constructor(
    files: Iterable<readonly [path: string, text: string]>,
    { memory = new Memory(), spread = oneByOne }: Partial<EvaluationTools>,
  ) {
    this.#files = new Map(files);
    this.#tools = { memory, spread };
  }

  /** The text of a file as it is now. */
  textOf(path: string): string | undefined {
    return this.#files.get(path);
  }

  /** Gives a file another text, adds it, or with undefined takes it away. */
  change(path: string, text: string | undefined): void {
    if (text === undefined) this.#files.delete(path);
    else this.#files.set(path, text);
  }

  /** A note as it is read, without evaluating anything; undefined where nothing can be made of it. */
  sourceOf(path: string): NoteSource | undefined {
    return this.#readNote(path).source;
  }

  /**
   * project.yaml as it is read; undefined where nothing can be made of it.
   *
   * @param unreadable paths of files that are there and have no text
   */
  projectSource(unreadable?: ReadonlySet<string>): ProjectSource | undefined {
    return this.#readProject(unreadable).project;
  }

  /** The numbers of other notes to which a note refers. */
  numbersIn(path: string): readonly string[] {
    const { source } = this.#readNote(path);
    return source
      ? firstByNumber(listOtherReferences(source, this.#tools.memory)).map(({ number }) => number)
      : [];
  }

  /**
   * The notes that a submittal lists, by their paths, as far as the project has them.
   *
   * @param unread paths of notes of the project that are not among the files
   */
  listedIn(path: string, unread: readonly string[]): readonly string[] {
    const { source } = this.#readSubmittal(path);
    const paths = [...this.#notePaths(), ...unread];
    return source ? findListedNotes(source, paths, new Collector()).map((one) => one.path) : [];
  }

  state({
    notes = this.#notePaths(),
    submittals = [],
    unread = [],
    found,
    unreadable,
    tableNames = [],
    goesOn = false,
  }: StateQuestion = {}): SessionState {
    const collector = new Collector();
    if (found) collector.addAll(found);
    const read = this.#readProject(unreadable);
    collector.addAll(read.collector);
    const paths = [...new Set([...this.#notePaths(), ...unread])];
    const requests = submittals.flatMap((path) => this.#requestOf(path, paths, collector));
    const listed = requests.flatMap((request) => request.found.map(({ path }) => path));
    const sources = [...new Set([...notes, ...listed])].flatMap((path) => {
      const note = this.#readNote(path);
      collector.addAll(note.collector);
      return note.source ?? [];
    });
    const documents = new Set([...notes, ...listed, ...requests.map(({ source }) => source.path)]);
    this.#checkNumbers(documents, collector);
    const { project } = read;
    const shelf = {
      paths,
      read: (path: string) => this.#readNote(path),
    };
    const {
      notes: evaluated,
      others,
      submittals: requested,
    } = project
      ? evaluateProject(project, sources, collector, {
          ...this.#tools,
          shelf,
          tables: (path) => this.#tableOf(path, tableNames, unreadable),
          submittals: requests,
        })
      : { notes: [], others: [], submittals: [] };
    for (const note of evaluated) this.#checkOwnFormulas(note, collector);
    // Headings must be fit to be set before their ids can be told.
    if (!collector.hasErrors) for (const note of evaluated) collector.addAll(this.#checkTargets(note));
    if (!goesOn) this.#tools.memory.endRound();
    return {
      project,
      notes: evaluated,
      others,
      submittals: requested,
      diagnostics: collector.list(),
      textOf: (path) => collector.textOf(path),
      startOfPiece: (path, piece) => collector.startOfPiece(path, piece),
    };
  }

  /** One block, evaluated; undefined where there is none of that id, or it is at fault. */
  resultOf(path: string, id: string): EvaluatedBlock | undefined {
    const note = this.state().notes.find(({ source }) => source.path === path);
    return note?.blocks.find((block) => block.id === id);
  }

  /**
   * The page of a note of the state as it is now, of which no error was told. Only calculations that show something else are set
   * anew.
   */
  pageOf(note: EvaluatedNote, project: ProjectSource, options: Omit<RenderOptions, 'memory'>): RenderedNote {
    return renderNote(note, project, { ...options, memory: this.#tools.memory });
  }

  /** How many results were computed, by query, since this was last asked. */
  takeCounts(): ReadonlyMap<string, number> {
    return this.#tools.memory.takeCounts();
  }

  #notePaths(): string[] {
    return [...this.#files.keys()].filter((path) => path.endsWith('.md')).sort();
  }

  #tableOf(path: string, names: readonly string[], unreadable: ReadonlySet<string> | undefined): TableText {
    const text = this.#files.get(path);
    if (text !== undefined) return { text };
    if (unreadable?.has(path)) return 'reported';
    const known = [...new Set([...this.#files.keys(), ...names])].filter((name) => /\.csv$/i.test(name));
    return { nearest: nearestName(path, known) };
  }

  /** A submittal with the notes that it lists; none where nothing can be made of it. */
  #requestOf(path: string, notes: readonly string[], collector: Collector): SubmittalRequest[] {
    const { source, collector: reading } = this.#readSubmittal(path);
    collector.addAll(reading);
    if (!source) return [];
    return [{ source, found: findListedNotes(source, notes, collector) }];
  }

  /** No document that is asked for may have the number of another, whether that is asked for or not. */
  #checkNumbers(asked: ReadonlySet<string>, collector: Collector): void {
    const submittals = [...this.#files.keys()].filter(isSubmittalName).sort();
    const documents = [...this.#notePaths(), ...submittals].flatMap((path): NumberedDocument[] => {
      const { frontMatter } = isSubmittalName(path)
        ? (this.#readSubmittal(path).source ?? {})
        : this.#headOf(path);
      const { number = '', places } = frontMatter ?? {};
      const place = places?.get('number');
      return number === '' || !place ? [] : [{ path, number, place }];
    });
    checkNumbers(documents, asked, collector);
    for (const { path } of documents) {
      if (collector.textOf(path) === undefined)
        collector.keepText(path, this.#files.get(path)!.replace(/^\uFEFF/, ''));
    }
  }

  #headOf(path: string): { readonly frontMatter: FrontMatter | undefined } {
    const head = headOf(this.#files.get(path)!);
    return this.#tools.memory.recall('head', `${path}\n${head}`, () => ({
      frontMatter: readHead(path, head, new Collector()),
    }));
  }

  #readSubmittal(path: string): Gathered<{ readonly source: SubmittalSource | undefined }> {
    const text = this.#files.get(path);
    const collector = new Collector();
    if (text === undefined) return { source: undefined, collector };
    return this.#tools.memory.recall('submittal', `${path}\n${text}`, () => ({
      source: readSubmittal(path, text, collector),
      collector,
    }));
  }

  #readProject(
    unreadable: ReadonlySet<string> | undefined,
  ): Gathered<{ readonly project: ProjectSource | undefined }> {
    const text = this.#files.get(PROJECT_PATH);
    const collector = new Collector();
    if (text === undefined) return { project: undefined, collector };
    const includedText = (path: string): IncludedText => {
      const included = this.#files.get(path);
      if (included !== undefined) return { text: included };
      return unreadable?.has(path) ? 'reported' : 'missing';
    };
    return this.#tools.memory.recallReading('project', text, includedText, (ask) => ({
      project: readProject(PROJECT_PATH, text, collector, ask),
      collector,
    }));
  }

  #readNote(path: string): Gathered<{ readonly source: NoteSource | undefined }> {
    const text = this.#files.get(path);
    const collector = new Collector();
    if (text === undefined) return { source: undefined, collector };
    return this.#tools.memory.recall('note', `${path}\n${text}`, () => {
      const source = readNote(path, text, collector, this.#tools.memory);
      if (source) checkMath(source, collector);
      return { source, collector };
    });
  }

  #checkOwnFormulas({ blocks }: EvaluatedNote, collector: Collector): void {
    const { memory } = this.#tools;
    for (const block of blocks) {
      if (block.source.kind !== 'formula') continue;
      const content = `${contentKey(block.source)} ${memory.nameOf(block.evaluated)}`;
      const found = memory.recall('own formulas set', content, () => {
        const own = new Collector();
        checkOwnFormulas(block, own);
        return own;
      });
      collector.addAll(found);
    }
  }

  #checkTargets(note: EvaluatedNote): Collector {
    const { memory } = this.#tools;
    const ids = note.blocks.map(({ id }) => id);
    const drawn = note.blocks.filter(({ evaluated }) => evaluated.figure).map(({ id }) => id);
    const content = `${memory.nameOf(note.source)} ${contentKey(ids)} ${contentKey(drawn)} ${contentKey(note.proseTexts)}`;
    return memory.recall('targets', content, () => {
      const collector = new Collector();
      checkTargets(note, collector);
      checkSheets(note, collector);
      return collector;
    });
  }
}

/** A result with what is to be said of it; nothing is added to the collector once it is remembered. */
type Gathered<Result> = Result & { readonly collector: Collector };
