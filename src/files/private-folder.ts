import { lstatSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { mkdtemp, readdir, rm, rmdir } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { cleanUpOnExit } from './clean-up-on-exit.ts';
import { hasEnded, ownIdentity, readIdentity } from './process-identity.ts';
import { wordFileError } from './word-file-error.ts';

/** A folder that belongs to this user alone. A temporary one vanishes with `release`. */
export interface PrivateFolder {
  readonly path: string;
  readonly temporary: boolean;
  release(): Promise<void>;
}

/** Says in a temporary folder which process it belongs to. */
const OWNER_FILE = '.surgenote-owner';
/** Of a folder whose process was killed before it could write that file, or while it removed both: its number, and when it was started. */
const NAME = /^surgenote-(?:(\d+)-(\d*)-)?[A-Za-z0-9]{6}$/;
/** A browser whose run was killed goes on writing into its profile until it notices. */
const PATIENT = { recursive: true, force: true, maxRetries: 5, retryDelay: 50 } as const;
const MOST_ATTEMPTS = 5;

/**
 * A new temporary folder that only this user may enter (mode 0700). It is removed by `release`, and when the process ends
 * or is told to stop; where it is killed, by the next one that makes such a folder there.
 *
 * @throws {OutsideFailure} `temporary-folder`
 */
export async function makePrivateFolder(parent: string = tmpdir()): Promise<PrivateFolder> {
  const path = await makeOwned(parent);
  const forget = cleanUpOnExit(() => rmSync(path, { recursive: true, force: true }));
  const left = await sweepPrivateFolders(parent);
  const release = async (): Promise<void> => {
    await rm(path, PATIENT);
    forget();
    // What a browser without its run had put there again: by now it has ended too.
    for (const one of left) await rm(one, PATIENT).catch(() => {});
  };
  return { path, temporary: true, release };
}

/** A folder that says whose it is. */
async function makeOwned(parent: string, attempt = 1): Promise<string> {
  const { pid, started } = ownIdentity();
  const path = await mkdtemp(join(parent, `surgenote-${pid}-${started}-`)).catch((cause: unknown) => {
    throw new OutsideFailure(
      'temporary-folder',
      `no folder can be made in ${parent}: ${wordFileError(cause)}`,
      { hint: 'set TMPDIR to a folder that you may write to', cause },
    );
  });
  try {
    writeFileSync(join(path, OWNER_FILE), JSON.stringify(ownIdentity()), { flag: 'wx', mode: 0o600 });
    return path;
  } catch (cause) {
    // Another machine that has the same folder may know of no such process, and have taken it for one that was left.
    if ((cause as NodeJS.ErrnoException).code === 'ENOENT' && attempt < MOST_ATTEMPTS)
      return makeOwned(parent, attempt + 1);
    await rm(path, PATIENT);
    throw new OutsideFailure('temporary-folder', `${path} cannot be written: ${wordFileError(cause)}`, {
      cause,
    });
  }
}

/** A temporary folder for as long as `use` works with it; as `makePrivateFolder`. */
export async function withPrivateFolder<T>(use: (folder: string) => Promise<T>): Promise<T> {
  const { path, release } = await makePrivateFolder();
  try {
    return await use(path);
  } finally {
    await release();
  }
}

const swept = new Set<string>();

/**
 * Removes, once for each place, the temporary folders of this user whose processes have ended without removing them.
 *
 * @returns those
 */
async function sweepPrivateFolders(parent: string): Promise<readonly string[]> {
  if (swept.has(parent)) return [];
  swept.add(parent);
  const names = await readdir(parent).catch(() => []);
  const left = names.filter((name) => isLeftBehind(parent, name)).map((name) => join(parent, name));
  for (const path of left) {
    try {
      // One that is empty is only removed as such: its process may be about to say that it is there.
      await rmdir(path).catch(() => (isOwned(path) === true ? undefined : rm(path, PATIENT)));
    } catch {
      // It is removed with the own one, or by the next run.
    }
  }
  return left;
}

/** A folder, not a link to one, of this user, of a process that has ended. Where that cannot be told, it stays. */
function isLeftBehind(parent: string, name: string): boolean {
  const [matched, pid, started = ''] = NAME.exec(name) ?? [];
  if (matched === undefined) return false;
  const path = join(parent, name);
  try {
    const facts = lstatSync(path);
    if (!facts.isDirectory() || facts.uid !== process.getuid?.()) return false;
    const owned = isOwned(path);
    if (owned !== undefined) return !owned;
    return pid !== undefined && hasEnded({ ...ownIdentity(), pid: Number(pid), started });
  } catch {
    return false;
  }
}

/** Whether the process that a folder names in its file is there, as far as can be told; undefined where there is no such file. */
function isOwned(path: string): boolean | undefined {
  const file = join(path, OWNER_FILE);
  const facts = lstatSync(file, { throwIfNoEntry: false });
  if (!facts) return undefined;
  try {
    const owner = facts.isFile() ? readIdentity(JSON.parse(readFileSync(file, 'utf8'))) : undefined;
    return owner === undefined || !hasEnded(owner);
  } catch {
    return true;
  }
}
