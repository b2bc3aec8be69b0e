import { posix } from 'node:path';
import { Collector } from '../../diagnostics/collector.ts';
import type { Diagnostic } from '../../diagnostics/diagnostic.ts';
import { listTables } from '../../files/list-tables.ts';
import { isNoteName, judgeNames, listFiles } from '../../files/load-project.ts';
import { Memory } from '../../memory/memory.ts';
import { openProject, PROJECT_PATH } from '../../session/project-session.ts';
import type { NoteSource } from '../../source/note-source.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { listIncludes } from '../../source/read-includes.ts';
import { isSubmittalName } from '../../source/submittal-source.ts';
import { type EvaluationOrder, imageKey, type NamedFiles } from '../evaluation/outcome.ts';
import { type DiskText, DiskTexts } from './disk-texts.ts';
import type { Reading } from './reading.ts';

/** The names of the files in a folder that are documents of a project or hold what these need. */
interface Names {
  readonly notes: readonly string[];
  readonly submittals: readonly string[];
  readonly tables: readonly string[];
  /** What is wrong with names. */
  readonly found: readonly Diagnostic[];
}

/** All that the files of a project tell. */
interface ReadProject extends Omit<EvaluationOrder, 'round' | 'changes'> {
  readonly texts: ReadonlyMap<string, string>;
}

/**
 * A project that is being edited: texts that the editor holds stand before those on the disk. What is asked of it is answered from memory;
 * the disk is read when an order for an evaluation is put together.
 */
export class EditorProject implements Reading {
  readonly folder: string;
  readonly #disk: DiskTexts;
  readonly #held = new Map<string, string>();
  readonly #memory = new Memory();
  readonly #session = openProject([], { memory: this.#memory });
  /** The texts of which the evaluation has been told. */
  #told = new Map<string, string>();
  /** The texts of notes that were read here. */
  readonly #read = new Map<string, string>();
  #files: NamedFiles = { tables: [], images: [] };
  #names: Names = { notes: [], submittals: [], tables: [], found: [] };
  #lastProject: ProjectSource | undefined;
  #mayBeOthers = true;

  constructor(folder: string) {
    this.folder = folder;
    this.#disk = new DiskTexts(folder);
  }

  get project(): ProjectSource | undefined {
    this.#lastProject = this.#session.projectSource() ?? this.#lastProject;
    return this.#lastProject;
  }

  get notes(): readonly string[] {
    return this.#names.notes;
  }

  get submittals(): readonly string[] {
    return this.#names.submittals;
  }

  get tables(): readonly string[] {
    return this.#names.tables;
  }

  textOf(path: string): string | undefined {
    return this.#session.textOf(path);
  }

  noteOf(path: string): NoteSource | undefined {
    const text = this.#session.textOf(path);
    if (text !== undefined) this.#read.set(path, text);
    return this.#session.sourceOf(path);
  }

  /**
   * Takes the text that the editor has of a file; with undefined that on the disk counts again, from the next order on.
   *
   * @returns whether that is another text than before, or may be
   */
  hold(path: string, text: string | undefined): boolean {
    if (text === undefined) {
      this.#held.delete(path);
      this.#mayBeOthers = true;
      return true;
    }
    // As files are read: a carriage return alone ends no line of YAML.
    const plain = text.replace(/^\uFEFF/, '').replaceAll(/\r(?!\n)/g, '\n');
    const before = this.#held.get(path);
    if (before === undefined || isHeldNote(path, before) !== isHeldNote(path, plain))
      this.#mayBeOthers = true;
    if (before === plain) return false;
    this.#held.set(path, plain);
    this.#session.change(path, plain);
    return true;
  }

  /** Files may have come, gone or changed on the disk. */
  lookAgain(): void {
    this.#mayBeOthers = true;
  }

  /** Whether a text is that of which the last order told. */
  isAsTold(path: string): boolean {
    return this.#told.get(path) === this.#session.textOf(path);
  }

  /** Takes the files that notes name; true where some of them have not been read. */
  learn(files: NamedFiles): boolean {
    const known = new Set([...this.#files.tables, ...this.#files.images.map(imageKey)]);
    this.#files = files;
    return [...files.tables, ...files.images.map(imageKey)].some((file) => !known.has(file));
  }

  /** After an evaluation that failed: the next order names all texts. */
  forgetTold(): void {
    this.#told = new Map();
  }

  /** Reads the project from the disk. */
  async load(): Promise<void> {
    await this.#readAll();
  }

  /** Reads what the disk has to tell, and puts together what is to be evaluated. */
  async makeOrder(round: number): Promise<EvaluationOrder> {
    const { texts, ...read } = await this.#readAll();
    return { round, changes: this.#tell(texts), ...read };
  }

  async #readAll(): Promise<ReadProject> {
    if (this.#mayBeOthers) await this.#listNames();
    const { notes, submittals, tables } = this.#names;
    const found: Diagnostic[] = [...this.#names.found];
    const foundIn: (readonly [string, string])[] = [];
    const texts = new Map<string, string>();
    const unreadable: string[] = [];
    const take = async (path: string): Promise<string | undefined> => {
      const onDisk = this.#held.has(path) ? undefined : await this.#disk.read(path);
      // The editor may have opened it while the disk was read.
      const held = this.#held.get(path);
      const read: DiskText =
        held === undefined && onDisk ? onDisk : { text: held, isThere: true, found: [], foundIn: undefined };
      found.push(...read.found);
      if (read.foundIn !== undefined) foundIn.push([path, read.foundIn]);
      if (read.text !== undefined) texts.set(path, read.text);
      else if (read.isThere) unreadable.push(path);
      if (read.text !== this.#session.textOf(path)) this.#session.change(path, read.text);
      return read.text;
    };
    const takeAll = async (paths: readonly string[]): Promise<void> => {
      for (const path of new Set(paths)) if (!texts.has(path) && !unreadable.includes(path)) await take(path);
    };
    const project = await take(PROJECT_PATH);
    await takeAll([...notes, ...submittals]);
    const unread = unreadable.filter((path) => notes.includes(path));
    await takeAll(project === undefined ? [] : listIncludes(PROJECT_PATH, project));
    await takeAll(this.#files.tables);
    const imageFaults = new Map<string, readonly Diagnostic[]>();
    for (const image of this.#files.images) {
      const faults = await this.#disk.judgeImage(image);
      if (faults.length > 0) imageFaults.set(imageKey(image), faults);
    }
    this.#endRound();
    return {
      texts,
      notes,
      submittals: submittals.filter((path) => texts.has(path)),
      unread,
      unreadable,
      tableNames: tables,
      found,
      foundIn,
      imageFaults,
    };
  }

  /** What stands in notes that are as they were when they were read is kept; texts that were typed on the way are forgotten. */
  #endRound(): void {
    for (const [path, text] of this.#read)
      if (this.#session.textOf(path) === text) this.#session.sourceOf(path);
    this.#session.projectSource();
    this.#memory.endRound();
  }

  async #listNames(): Promise<void> {
    this.#mayBeOthers = false;
    this.#disk.lookAgain();
    const names = await listFiles(this.folder, () => true).catch((): string[] => []);
    const collector = new Collector();
    judgeNames(names, isSubmittalName, collector);
    const held = [...this.#held];
    const heldNames = held.map(([path]) => path).filter((path) => !path.includes('/'));
    this.#names = {
      notes: merge(
        names.filter(isNoteName),
        held.filter(([path, text]) => isHeldNote(path, text)).map(([path]) => path),
      ),
      submittals: merge(names.filter(isSubmittalName), heldNames.filter(isSubmittalName)),
      tables: await listTables(this.folder),
      found: collector.list(),
    };
  }

  /** What is other than it was told before. */
  #tell(texts: ReadonlyMap<string, string>): EvaluationOrder['changes'] {
    const changes = [...texts].filter(([path, text]) => this.#told.get(path) !== text);
    const gone = [...this.#told.keys()].filter((path) => !texts.has(path));
    this.#told = new Map(texts);
    for (const path of gone) if (!this.#held.has(path)) this.#session.change(path, undefined);
    return [...changes, ...gone.map((path) => [path, undefined] as const)];
  }
}

/**
 * Whether what the editor holds is a note. One in a folder further down is evaluated only where somebody asks for it, as whoever opens it
 * does; other texts lie there too.
 */
function isHeldNote(path: string, text: string): boolean {
  if (!isNoteName(posix.basename(path))) return false;
  return !path.includes('/') || NUMBERED.test(text);
}

/** Front matter with a number. */
const NUMBERED = /^---[ \t]*\n(?:(?!---).*\n)*?number[ \t]*:/;

function merge(one: readonly string[], other: readonly string[]): string[] {
  return [...new Set([...one, ...other])].sort();
}
