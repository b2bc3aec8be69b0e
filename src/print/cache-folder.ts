import { lstat, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir, userInfo } from 'node:os';
import { isAbsolute, join } from 'node:path';
import { makeFolders } from '../files/make-folders.ts';
import { makePrivateFolder, type PrivateFolder } from '../files/private-folder.ts';
import { type Environment, readVariable } from './environment.ts';

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

/** A temporary folder where the environment says; as `makePrivateFolder`. */
export function makeTemporaryFolder(environment: Environment): Promise<PrivateFolder> {
  return makePrivateFolder(readVariable(environment, 'TMPDIR') ?? tmpdir());
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
    await makeFolders(path, 0o700);
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
