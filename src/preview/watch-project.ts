import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { type ChokidarOptions, watch } from 'chokidar';

/** Starts to watch a folder; tests have a way of their own. */
export type StartWatching = (
  folder: string,
  options: ChokidarOptions,
  told: {
    /** It sees changes from now on. */
    readonly ready: () => void;
    readonly changed: (path: string) => void;
    /** The folder itself went: what watched it does so no more. */
    readonly gone: () => void;
    readonly failed: (error: unknown) => void;
  },
) => { close(): Promise<void> };

export const startWatching: StartWatching = (folder, options, { ready, changed, gone, failed }) =>
  watch(folder, options)
    .on('ready', ready)
    .on('all', (event, path) => {
      if (event === 'unlinkDir' && path === folder) gone();
      changed(path);
    })
    .on('error', failed);

export interface WatchOptions {
  /** Something in the folder is another, or the folder came or went. */
  readonly changed: () => void;
  /** Changes are seen from now on: what changed before that was not. Where nobody listens that is a change. */
  readonly ready?: () => void;
  /** What must be known of how changes are noticed; undefined where there is nothing to say any more. */
  readonly notice: (words: string | undefined) => void;
  readonly start?: StartWatching;
}

/** Saving a file makes several events; those that come so soon after one another are one change. */
const TOGETHER_MILLISECONDS = 15;
/** How often it is looked whether the folder is still there. */
const FOLDER_MILLISECONDS = 700;
const POLLING_MILLISECONDS = 1000;

/** The system's limits on watching: too many watches, too many open files. */
const LIMITS = new Set(['ENOSPC', 'EMFILE', 'ENFILE']);

/** Tells of every change in the folder of a project, also when the folder is moved away and comes back. */
export function watchProject(folder: string, options: WatchOptions): { close(): Promise<void> } {
  const watching = new ProjectWatch(folder, options);
  watching.open(false);
  return watching;
}

class ProjectWatch {
  readonly #folder: string;
  readonly #options: WatchOptions;
  #watcher: ReturnType<StartWatching> | undefined;
  #identity: string | undefined;
  #polls = false;
  #soon: NodeJS.Timeout | undefined;
  readonly #look: NodeJS.Timeout;

  constructor(folder: string, options: WatchOptions) {
    this.#folder = folder;
    this.#options = options;
    this.#look = setInterval(() => void this.#lookForFolder(), FOLDER_MILLISECONDS);
    void identify(folder).then((identity) => {
      this.#identity = identity;
    });
  }

  open(polls: boolean): void {
    this.#polls = polls;
    const start = this.#options.start ?? startWatching;
    const options: ChokidarOptions = {
      ignoreInitial: true,
      ignored: (path) => path !== this.#folder && isOfNoConcern(path),
      ...(polls ? { usePolling: true, interval: POLLING_MILLISECONDS } : {}),
    };
    this.#watcher = start(this.#folder, options, {
      ready: () => (this.#options.ready ? this.#options.ready() : this.#changed()),
      changed: () => this.#changed(),
      gone: () => {
        this.#identity = undefined;
      },
      failed: (error) => this.#failed(polls, error),
    });
  }

  async close(): Promise<void> {
    clearInterval(this.#look);
    clearTimeout(this.#soon);
    await this.#watcher?.close();
  }

  #changed(): void {
    clearTimeout(this.#soon);
    this.#soon = setTimeout(this.#options.changed, TOGETHER_MILLISECONDS);
  }

  #failed(polls: boolean, error: unknown): void {
    const code = (error as NodeJS.ErrnoException).code ?? '';
    // Every file beyond the limit fails by itself: only the first is answered.
    if (polls || this.#polls || !LIMITS.has(code)) return;
    this.#options.notice(
      `The system watches no more files (${code}): changes are looked for once a second. On Linux, fs.inotify.max_user_watches sets the limit.`,
    );
    void this.#watcher?.close();
    this.open(true);
    this.#changed();
  }

  /** A watcher follows a folder that is moved, and notices none that comes in its place. */
  async #lookForFolder(): Promise<void> {
    const identity = await identify(this.#folder);
    if (identity === this.#identity) return;
    this.#identity = identity;
    if (identity !== undefined) {
      await this.#watcher?.close();
      this.open(this.#polls);
    }
    this.#changed();
  }
}

/** Tells one folder from another at the same path; undefined where there is none. */
async function identify(folder: string): Promise<string | undefined> {
  return stat(folder, { bigint: true }).then(
    (found) => (found.isDirectory() ? `${found.dev} ${found.ino} ${found.birthtimeNs}` : undefined),
    () => undefined,
  );
}

/** What no note reads: hidden files, other people's packages, and what compiling writes. */
function isOfNoConcern(path: string): boolean {
  const name = basename(path);
  return name.startsWith('.') || name === 'node_modules' || /\.(?:pdf|html)$/i.test(name);
}
