import { rmSync } from 'node:fs';
import { lstat, mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir, userInfo } from 'node:os';
import { isAbsolute, join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { cleanUpOnExit } from '../files/clean-up-on-exit.ts';
import { type Environment, readVariable } from './environment.ts';

/** A folder that belongs to this user alone. A temporary one vanishes with `release`. */
export interface PrivateFolder {
  readonly path: string;
  readonly temporary: boolean;
  release(): Promise<void>;
}

/**
 * The folder in which surgenote keeps the unpacked browser between runs: `surgenote` in the user's cache
 * folder. It is made with mode 0700; one that is not ours, is a link, or that others may write to is passed over,
 * because a program is going to be run from it. Where no such folder can be had (no home, a read-only one), a
 * temporary one serves for this run.
 */
export async function openCacheFolder(environment: Environment): Promise<PrivateFolder> {
  for (const parent of listCacheParents(environment)) {
    const path = join(parent, 'surgenote');
    if (await isUsable(path)) return { path, temporary: false, release: async () => {} };
  }
  return makeTemporaryFolder(environment);
}

/** A new folder with mode 0700 in the folder for temporary files, removed by `release` or when the process ends. */
export async function makeTemporaryFolder(environment: Environment): Promise<PrivateFolder> {
  const parent = readVariable(environment, 'TMPDIR') ?? tmpdir();
  let path: string;
  try {
    path = await mkdtemp(join(parent, 'surgenote-'));
  } catch (cause) {
    throw new OutsideFailure('temporary-folder', `No temporary folder can be made in ${parent}.`, {
      hint: 'Set TMPDIR to a folder that you may write to.',
      cause,
    });
  }
  const forget = cleanUpOnExit(() => rmSync(path, { recursive: true, force: true }));
  const release = async (): Promise<void> => {
    // A browser that has just been told to stop may still be writing: a few attempts are made.
    await rm(path, { recursive: true, force: true, maxRetries: 5, retryDelay: 50 });
    forget();
  };
  return { path, temporary: true, release };
}

function listCacheParents(environment: Environment): string[] {
  const parents: string[] = [];
  const cache = readVariable(environment, 'XDG_CACHE_HOME');
  if (cache !== undefined) parents.push(cache);
  const home = readVariable(environment, 'HOME') ?? readAccountHome();
  if (home !== undefined) parents.push(join(home, '.cache'));
  return parents.filter((parent) => isAbsolute(parent));
}

function readAccountHome(): string | undefined {
  try {
    return userInfo().homedir;
  } catch {
    return undefined; // An account without an entry in the system's list, as containers often have.
  }
}

async function isUsable(path: string): Promise<boolean> {
  try {
    await mkdir(path, { recursive: true, mode: 0o700 });
    const facts = await lstat(path);
    const writableByOthers = (facts.mode & 0o022) !== 0;
    if (!facts.isDirectory() || facts.uid !== process.getuid?.() || writableByOthers) return false;
    const trial = await mkdtemp(join(path, '.trial-'));
    await rm(trial, { recursive: true });
    return true;
  } catch {
    return false;
  }
}
