import { findProject } from '../files/find-project.ts';
import { Memory } from '../memory/memory.ts';
import { watchProject } from '../preview/watch-project.ts';
import { reportFailure } from './report-failure.ts';
import type { Terminal } from './terminal.ts';

/**
 * Evaluates again after every change in the projects of paths, with one memory, until it is told to stop. What fails outside (a note that
 * was taken away) is told, and the next change tried.
 *
 * @param evaluate evaluates once and tells of it
 */
export async function watchEvaluation(
  paths: readonly string[],
  terminal: Terminal,
  stopped: Promise<void>,
  evaluate: (memory: Memory) => Promise<void>,
): Promise<void> {
  const folders = new Set(await Promise.all(paths.map((path) => findProject(path))));
  const memory = new Memory();
  const rounds = new Rounds(async () => {
    const began = performance.now();
    terminal.wipe();
    await evaluate(memory).catch((error: unknown) => void reportFailure(error, terminal));
    const seconds = ((performance.now() - began) / 1000).toFixed(2);
    terminal.err(`evaluated in ${seconds} s; waits for the next change, Ctrl-C ends it`);
  });
  // What changes before every folder is watched is seen by nobody: so the first round begins then, but does not wait for long.
  let unwatched = folders.size;
  const late = setTimeout(() => rounds.ask(), LONGEST_WAIT_MILLISECONDS);
  const watches = [...folders].map((folder) =>
    watchProject(folder, {
      ready: () => {
        unwatched -= 1;
        if (unwatched > 0) return;
        clearTimeout(late);
        rounds.ask();
      },
      changed: () => rounds.ask(),
      notice: (words) => {
        if (words !== undefined) terminal.err(words);
      },
    }),
  );
  await stopped;
  clearTimeout(late);
  await Promise.all(watches.map((watch) => watch.close()));
}

/** A folder of very many files takes its time to be watched. */
const LONGEST_WAIT_MILLISECONDS = 1000;

/** One round after another: what changes during one is looked at in the next, however much it was. */
class Rounds {
  readonly #work: () => Promise<void>;
  #running = false;
  #again = false;

  constructor(work: () => Promise<void>) {
    this.#work = work;
  }

  ask(): void {
    this.#again = true;
    if (!this.#running) void this.#run();
  }

  async #run(): Promise<void> {
    this.#running = true;
    while (this.#again) {
      this.#again = false;
      await this.#work();
    }
    this.#running = false;
  }
}
