import { lstatSync, readFileSync, rmSync } from 'node:fs';
import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
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

/**
 * A new temporary folder that only this user may enter (mode 0700). It is removed by `release`, and when the process ends
 * or is told to stop; where it is killed, by the next one that makes such a folder there.
 *
 * @throws {OutsideFailure} `temporary-folder`
 */
export async function makePrivateFolder(parent: string = tmpdir()): Promise<PrivateFolder> {
  let path: string;
  try {
    path = await mkdtemp(join(parent, 'surgenote-'));
  } catch (cause) {
    throw new OutsideFailure(
      'temporary-folder',
      `no folder can be made in ${parent}: ${wordFileError(cause)}`,
      {
        hint: 'set TMPDIR to a folder that you may write to',
        cause,
      },
    );
  }
  const forget = cleanUpOnExit(() => rmSync(path, { recursive: true, force: true }));
  const release = async (): Promise<void> => {
    // A browser that has just been told to stop may still be writing: a few attempts are made.
    await rm(path, { recursive: true, force: true, maxRetries: 5, retryDelay: 50 });
    forget();
  };
  try {
    await writeFile(join(path, OWNER_FILE), JSON.stringify(ownIdentity()), { flag: 'wx', mode: 0o600 });
  } catch (cause) {
    await release();
    throw new OutsideFailure('temporary-folder', `${path} cannot be written: ${wordFileError(cause)}`, {
      cause,
    });
  }
  await sweepPrivateFolders(parent);
  return { path, temporary: true, release };
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

/** Removes, once for each place, the temporary folders of this user whose processes have ended without removing them. */
async function sweepPrivateFolders(parent: string): Promise<void> {
  if (swept.has(parent)) return;
  swept.add(parent);
  const names = await readdir(parent).catch(() => []);
  for (const name of names.filter((one) => /^surgenote-[A-Za-z0-9]{6}$/.test(one))) {
    const path = join(parent, name);
    if (isLeftBehind(path)) await rm(path, { recursive: true, force: true }).catch(() => {});
  }
}

/** A folder, not a link to one, of this user, which names a process that has ended. Where that cannot be told, it stays. */
function isLeftBehind(path: string): boolean {
  try {
    const facts = lstatSync(path);
    const file = join(path, OWNER_FILE);
    if (!facts.isDirectory() || facts.uid !== process.getuid?.() || !lstatSync(file).isFile()) return false;
    const owner = readIdentity(JSON.parse(readFileSync(file, 'utf8')));
    return owner !== undefined && hasEnded(owner);
  } catch {
    return false;
  }
}
