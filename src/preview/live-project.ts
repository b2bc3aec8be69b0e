import { hasErrors } from '../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { LivePage } from './live-page.ts';
import { PagePlaces } from './page-places.ts';
import type { Examination, NoteReading, PreviewReading, PreviewTools, SoundNote } from './preview-reading.ts';

/** Errors that a half-typed text makes are shown when nobody has saved for so long. */
const SETTLING_MILLISECONDS = 350;
/** But not later than this, for somebody may save without a pause. */
const LONGEST_SETTLING = 1500;

/** The last page of a note that could be set. */
export interface GoodPage {
  readonly sound: SoundNote;
  /** Of the project, when its page became this one. */
  readonly revision: number;
  readonly places: PagePlaces;
}

/** How long the last renewal took, and what it computed. */
export interface Renewal {
  readonly milliseconds: number;
  /** Results that were computed, by query. */
  readonly computed: ReadonlyMap<string, number>;
}

/** What is told to those who look: that something is another, or what is going on. */
export type ProjectEvent =
  | { readonly kind: 'revision'; readonly revision: number }
  | { readonly kind: 'working' };

/**
 * A project through its changes: how it was read last, and of each note the last page that could be set. Everything has the number of a
 * revision, so that whoever was away can ask for what is new since.
 */
export class LiveProject {
  readonly #tools: PreviewTools;
  readonly #listeners = new Set<(event: ProjectEvent) => void>();
  readonly #good = new Map<string, GoodPage>();
  readonly #pages = new Map<string, { page: LivePage; of: SoundNote }>();
  readonly #examined = new WeakMap<SoundNote, Promise<Examination>>();
  #reading: PreviewReading | undefined;
  #failure: string | undefined;
  #notice: string | undefined;
  #revision = 0;
  #renewal: Renewal = { milliseconds: 0, computed: new Map() };
  /** When it was first asked for what is being read, and for what is read next. */
  #askedAt = 0;
  #nextAskedAt: number | undefined;
  #settlingSince: number | undefined;
  #work: Promise<void> | undefined;
  #wanted = false;
  #settling: NodeJS.Timeout | undefined;

  constructor(tools: PreviewTools) {
    this.#tools = tools;
  }

  get revision(): number {
    return this.#revision;
  }

  /** Undefined before the first reading, and where the project could not be read. */
  get reading(): PreviewReading | undefined {
    return this.#reading;
  }

  /** Why the project cannot be read at present. */
  get failure(): string | undefined {
    return this.#failure;
  }

  /** What else must be known, such as that changes are noticed late. */
  get notice(): string | undefined {
    return this.#notice;
  }

  get renewal(): Renewal {
    return this.#renewal;
  }

  get isWorking(): boolean {
    return this.#work !== undefined;
  }

  note(path: string): NoteReading | undefined {
    return this.#reading?.notes.find((note) => note.path === path);
  }

  goodPage(path: string): GoodPage | undefined {
    return this.#good.get(path);
  }

  /** The last page of a note that could be set, in its parts; it is set when it is asked for. */
  pageOf(path: string): LivePage | undefined {
    const good = this.#good.get(path);
    if (!good) return undefined;
    const known = this.#pages.get(path);
    if (known?.of === good.sound) return known.page;
    const page = known?.page ?? new LivePage();
    page.renew(good.sound.render(), this.#revision);
    this.#pages.set(path, { page, of: good.sound });
    return page;
  }

  /** The last page that could be set against its recorded results. */
  examine(path: string): Promise<Examination> | undefined {
    const sound = this.#good.get(path)?.sound;
    if (!sound) return undefined;
    const known = this.#examined.get(sound) ?? sound.examine();
    this.#examined.set(sound, known);
    return known;
  }

  listen(listener: (event: ProjectEvent) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  tell(notice: string | undefined): void {
    if (this.#notice === notice) return;
    this.#notice = notice;
    this.#publish();
  }

  /** Reads the project again; while it is being read, once more afterwards. */
  renew(): Promise<void> {
    this.#wanted = true;
    this.#nextAskedAt ??= performance.now();
    clearTimeout(this.#settling);
    this.#work ??= this.#readAsLongAsWanted().finally(() => {
      this.#work = undefined;
    });
    return this.#work;
  }

  close(): void {
    clearTimeout(this.#settling);
    this.#listeners.clear();
  }

  async #readAsLongAsWanted(): Promise<void> {
    while (this.#wanted) {
      this.#wanted = false;
      this.#askedAt = this.#nextAskedAt ?? performance.now();
      this.#nextAskedAt = undefined;
      this.#emit({ kind: 'working' });
      // What waits to be sent goes out before evaluation takes the thread.
      await new Promise((done) => setImmediate(done));
      await this.#readOnce();
    }
  }

  async #readOnce(): Promise<void> {
    this.#tools.takeCounts();
    try {
      const reading = await this.#tools.read();
      this.#failure = undefined;
      this.#take(reading);
    } catch (error) {
      this.#failure = wordFailure(error);
      this.#publish();
    }
  }

  /** New errors wait a moment: whoever is typing has mended them by then, more often than not. */
  #take(reading: PreviewReading): void {
    const isNew = this.#reading !== undefined && this.#breaksSomething(reading);
    const now = performance.now();
    if (isNew) this.#settlingSince ??= now;
    else this.#settlingSince = undefined;
    const waits = isNew && now - this.#settlingSince! < LONGEST_SETTLING;
    if (waits)
      this.#settling = setTimeout(() => {
        this.#settlingSince = undefined;
        this.#accept(reading);
      }, SETTLING_MILLISECONDS);
    else this.#accept(reading);
  }

  #breaksSomething({ notes }: PreviewReading): boolean {
    return notes.some(({ path, diagnostics }) => {
      const before = this.note(path)?.diagnostics;
      return before !== undefined && !hasErrors(before) && hasErrors(diagnostics);
    });
  }

  #accept(reading: PreviewReading): void {
    this.#reading = reading;
    this.#revision += 1;
    for (const { path, sound } of reading.notes) {
      if (sound) this.#good.set(path, { sound, revision: this.#revision, places: new PagePlaces(sound) });
    }
    const paths = new Set(reading.notes.map(({ path }) => path));
    for (const path of this.#good.keys()) {
      if (paths.has(path)) continue;
      this.#good.delete(path);
      this.#pages.delete(path);
    }
    // Pages that somebody has had are set again now: the count of what was computed holds them.
    for (const path of this.#pages.keys()) this.pageOf(path);
    this.#renewal = {
      milliseconds: performance.now() - this.#askedAt,
      computed: this.#tools.takeCounts(),
    };
    this.#emit({ kind: 'revision', revision: this.#revision });
  }

  #publish(): void {
    this.#revision += 1;
    this.#emit({ kind: 'revision', revision: this.#revision });
  }

  #emit(event: ProjectEvent): void {
    for (const listener of [...this.#listeners]) listener(event);
  }
}

/** A bug of ours must not end the preview: the next save may be without it. */
function wordFailure(error: unknown): string {
  if (!(error instanceof OutsideFailure))
    return `A bug of the program, please report it with the source that shows it: ${error instanceof Error ? error.message : String(error)}.`;
  return `The project cannot be read: ${error.message}${error.hint === undefined ? '' : ` (${error.hint})`}.`;
}
