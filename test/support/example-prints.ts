import { readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { spread } from './at-length.ts';
import { makeOnce, PROGRAM } from './made-once.ts';
import type { Outcome } from './run-command.ts';
import { runInProcess } from './run-in-process.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const PROJECTS = join(ROOT, 'projects');

/** The examples that this run prints: one in the suite, all in the long run. */
export const EXAMPLES: readonly string[] = spread(
  ['hollow-wharf', ...readdirSync(PROJECTS).filter((name) => name !== 'hollow-wharf')],
  1,
);

/** What compiling an example said, and the folder with all its pages (`.pdf` and `.html`) and records. Tests read it, and change nothing. */
export interface PrintedExample {
  readonly folder: string;
  readonly outcome: Outcome;
}

/** Examples as `compile --html` makes them, by the code that is tested, each once in a run (`made-once.ts`). */
export async function printExamples(
  examples: readonly string[] = EXAMPLES,
): Promise<ReadonlyMap<string, PrintedExample>> {
  const printed = await makeOnce(
    examples.map((example) => ({
      name: `pages-of-${example}`,
      of: [...PROGRAM, `projects/${example}`],
      make: async (folder: string): Promise<PrintedExample> => {
        const outcome = await runInProcess(['compile', join(PROJECTS, example), '--html', '--out', folder]);
        return { folder, outcome };
      },
    })),
  );
  return new Map(examples.map((example, i) => [example, printed[i]!]));
}
