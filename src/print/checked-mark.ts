import { createHash } from 'node:crypto';
import { lstat, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { listFiles } from './folder-record.ts';

/** Linux's name for the time since the machine was started; other systems have none, and there nothing is marked. */
const BOOT = '/proc/sys/kernel/random/boot_id';
/** After this time a mark says nothing more. */
const VALID_MILLISECONDS = 24 * 60 * 60 * 1000;
/** Within this time a file could be changed once more without another time of change. */
const SETTLED_MILLISECONDS = 2000;

/** What the system says of a folder's files; undefined where that does not tell whether they are changed. */
export interface FolderState {
  readonly digest: string;
  /** When something in it was last changed. */
  readonly changed: number;
}

/**
 * Tells of each file in a folder which one it is, its size, its rights, and when it was written and last changed in any way: the system sets the last
 * at every change, and no program sets it back. What a disk loses by itself is not seen so: hence the start of the machine counts too, after which
 * all is read from the disk again.
 */
export async function readFolderState(folder: string): Promise<FolderState | undefined> {
  try {
    const hash = createHash('sha256').update(await readFile(BOOT));
    let changed = 0;
    for (const path of ['.', ...(await listFiles(folder)).sort()]) {
      const facts = await lstat(join(folder, path), { bigint: true });
      const { dev, ino, mode, uid, size, mtimeNs, ctimeNs } = facts;
      hash.update(
        `${JSON.stringify([path, ...[dev, ino, mode, uid, size, mtimeNs, ctimeNs].map(String)])}\n`,
      );
      changed = Math.max(changed, Number(facts.ctimeMs));
    }
    return { digest: hash.digest('hex'), changed };
  } catch {
    return undefined;
  }
}

/** Whether the folder was found sound in this state, not long ago. */
export async function isMarked(folder: string, state: FolderState | undefined): Promise<boolean> {
  if (state === undefined) return false;
  try {
    const path = markOf(folder);
    const facts = await lstat(path);
    const age = Date.now() - facts.mtimeMs;
    if (!facts.isFile() || age < 0 || age > VALID_MILLISECONDS) return false;
    return (await readFile(path, 'utf8')) === state.digest;
  } catch {
    return false;
  }
}

/** Remembers that the folder was found sound in this state; where it cannot be, it is read again the next time. */
export async function markFolder(folder: string, state: FolderState | undefined): Promise<void> {
  if (state === undefined) return;
  try {
    if (Date.now() - state.changed < SETTLED_MILLISECONDS) return;
    await writeFile(markOf(folder), state.digest, { mode: 0o600 });
  } catch {
    // A full disk.
  }
}

function markOf(folder: string): string {
  return `${folder}.checked`;
}
