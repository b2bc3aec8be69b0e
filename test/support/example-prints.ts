import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { join, resolve } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { spread } from './at-length.ts';
import type { Outcome } from './run-command.ts';
import { runInProcess } from './run-in-process.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const PROJECTS = join(ROOT, 'projects');
/** In the temporary folder of the run, which is removed with it (`own-temporary-folder.ts`): before a test changes the environment. */
const SHARED = join(process.env.TMPDIR!, 'printed-examples');

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

/**
 * Examples as `compile --html` makes them, by the code that is tested, each once in a run: whichever worker asks first makes it, the
 * others take it over. They are known by the content of the program and the example, so that nothing of an earlier state is read
 * where one run goes on after edits.
 */
export async function printExamples(
  examples: readonly string[] = EXAMPLES,
): Promise<ReadonlyMap<string, PrintedExample>> {
  const program = digest('src', 'templates', 'package-lock.json');
  const places = examples.map((example) =>
    join(SHARED, `${example}-${digest(`projects/${example}`, program)}`),
  );
  mkdirSync(SHARED, { recursive: true });
  // Nobody waits for another while there is an example that nobody has begun.
  for (const [i, place] of places.entries()) if (claim(place)) await make(examples[i]!, place);
  const printed = new Map<string, PrintedExample>();
  for (const [i, place] of places.entries()) printed.set(examples[i]!, await take(place));
  return printed;
}

/** Whether this worker is to make it: a folder can be made once. */
function claim(place: string): boolean {
  try {
    mkdirSync(`${place}.claim`);
    return true;
  } catch {
    return false;
  }
}

async function make(example: string, place: string): Promise<void> {
  const folder = `${place}.pages`;
  try {
    const outcome = await runInProcess(['compile', join(PROJECTS, example), '--html', '--out', folder]);
    // Written under another name first: who waits reads it as soon as it is there.
    writeFileSync(`${place}.new`, JSON.stringify({ folder, outcome } satisfies PrintedExample));
    renameSync(`${place}.new`, `${place}.json`);
  } catch (failure) {
    // The next one who asks tries again, and fails with the reason.
    rmSync(`${place}.claim`, { recursive: true });
    throw failure;
  }
}

async function take(place: string): Promise<PrintedExample> {
  while (!existsSync(`${place}.json`)) {
    if (!existsSync(`${place}.claim`)) throw new Error(`another worker could not make ${place}`);
    await pause(100);
  }
  return JSON.parse(readFileSync(`${place}.json`, 'utf8'));
}

/** Of files and folders of the repository by their names and content; what is none of these counts as it is. */
function digest(...parts: readonly string[]): string {
  const hash = createHash('sha256');
  const add = (path: string): void => {
    const file = join(ROOT, path);
    if (!existsSync(file)) hash.update(path);
    else if (statSync(file).isDirectory()) for (const name of readdirSync(file).sort()) add(join(path, name));
    else hash.update(JSON.stringify(path)).update(readFileSync(file));
  };
  for (const part of parts) add(part);
  return hash.digest('hex').slice(0, 16);
}
