import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { PrintedPdf, PrintNote } from './preview-reading.ts';

/** How a PDF that was asked for stands. */
export type PrintJob =
  | { readonly state: 'printing'; readonly words: string }
  | { readonly state: 'done'; readonly pdf: PrintedPdf }
  | { readonly state: 'refused'; readonly words: string };

/** So many finished PDFs are kept for whoever has not fetched them yet. */
const MOST_KEPT = 6;

/** PDFs that were asked for, printed one after the other and kept in memory: nothing is written. */
export class PrintJobs {
  readonly #print: PrintNote;
  readonly #jobs = new Map<string, PrintJob>();
  #last: Promise<void> = Promise.resolve();
  #count = 0;

  constructor(print: PrintNote) {
    this.#print = print;
  }

  /** Begins to print a note. @returns the name by which to ask for it */
  start(path: string): string {
    this.#count += 1;
    const id = String(this.#count);
    this.#jobs.set(id, { state: 'printing', words: 'waiting for the print before' });
    for (const old of [...this.#jobs.keys()].slice(0, -MOST_KEPT)) this.#jobs.delete(old);
    this.#last = this.#last.then(() => this.#work(id, path));
    return id;
  }

  job(id: string): PrintJob | undefined {
    return this.#jobs.get(id);
  }

  async #work(id: string, path: string): Promise<void> {
    const put = (job: PrintJob): void => {
      if (this.#jobs.has(id)) this.#jobs.set(id, job);
    };
    put({ state: 'printing', words: 'making the page' });
    try {
      const printed = await this.#print(path, (words) => put({ state: 'printing', words }));
      put(
        'refused' in printed ? { state: 'refused', words: printed.refused } : { state: 'done', pdf: printed },
      );
    } catch (error) {
      const hint = error instanceof OutsideFailure && error.hint !== undefined ? ` ${error.hint}` : '';
      put({ state: 'refused', words: `${error instanceof Error ? error.message : String(error)}${hint}` });
    }
  }
}
