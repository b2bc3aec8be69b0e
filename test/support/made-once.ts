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

const ROOT = resolve(import.meta.dirname, '../..');
/** In the temporary folder of the run, which is removed with it (`own-temporary-folder.ts`): before a test changes the environment. */
const SHARED = join(process.env.TMPDIR!, 'made-once');

/** All that a command reads beside the project: what is made of these is as it was. */
export const PROGRAM: readonly string[] = ['src', 'templates', 'package-lock.json'];

/** What is made once in a run, for the tests of all workers: they read it or copy it, and change nothing. */
export interface SharedWork<Result> {
  readonly name: string;
  /** Files and folders of the repository on whose content it depends: nothing of an earlier state is read where one run goes on after edits. */
  readonly of: readonly string[];
  /** Makes it in a folder that is there and empty; the result is kept as JSON. */
  readonly make: (folder: string) => Promise<Result>;
}

/** Does all of it that nobody has begun, and waits for what others do: whichever worker asks first makes it. */
export async function makeOnce<Result>(works: readonly SharedWork<Result>[]): Promise<readonly Result[]> {
  const places = works.map(({ name, of }) => join(SHARED, `${name}-${digest(of)}`));
  mkdirSync(SHARED, { recursive: true });
  // Nobody waits for another while there is something that nobody has begun.
  for (const [i, place] of places.entries()) if (claim(place)) await make(works[i]!, place);
  const results: Result[] = [];
  for (const place of places) results.push(await take(place));
  return results;
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

async function make<Result>(work: SharedWork<Result>, place: string): Promise<void> {
  try {
    mkdirSync(place);
    const result = await work.make(place);
    // Written under another name first: who waits reads it as soon as it is there.
    writeFileSync(`${place}.new`, JSON.stringify(result));
    renameSync(`${place}.new`, `${place}.json`);
  } catch (failure) {
    // The next one who asks tries again, and fails with the reason.
    rmSync(place, { recursive: true, force: true });
    rmSync(`${place}.claim`, { recursive: true });
    throw failure;
  }
}

async function take<Result>(place: string): Promise<Result> {
  while (!existsSync(`${place}.json`)) {
    if (!existsSync(`${place}.claim`)) throw new Error(`another worker could not make ${place}`);
    await pause(100);
  }
  return JSON.parse(readFileSync(`${place}.json`, 'utf8')) as Result;
}

/** Of files and folders by their names and content. */
function digest(paths: readonly string[]): string {
  const hash = createHash('sha256');
  const add = (path: string): void => {
    const file = join(ROOT, path);
    if (statSync(file).isDirectory()) for (const name of readdirSync(file).sort()) add(join(path, name));
    else hash.update(JSON.stringify(path)).update(readFileSync(file));
  };
  for (const path of paths) add(path);
  return hash.digest('hex').slice(0, 16);
}
