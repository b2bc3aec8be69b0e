import { mkdtemp, readdir, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { isMarked, markFolder, readFolderState } from './checked-mark.ts';
import { ABSENT, findFault, writeRecord } from './folder-record.ts';
import { type PackedFile, unpackFiles } from './unpack-files.ts';

/** An unpacked folder whose every file was compared with the record made when it was unpacked, and has not been touched since. */
export interface UnpackedFolder {
  readonly path: string;
  /** Why a folder that was there already had to be replaced. */
  readonly replaced?: string;
}

const STALE_MILLISECONDS = 24 * 60 * 60 * 1000;

/**
 * Unpacks `packed` into `<root>/<name>` unless that was done in an earlier run.
 *
 * Every file is hashed again and compared with the record made when it was unpacked (0.2 s for the 200 MB of the browser, against 2 to 3 s for
 * unpacking it anew each time): once a day, after each start of the machine, and whenever the system says of any file that it has been
 * touched since (`checked-mark.ts`). The record lies beside the files: it is
 * there to find a damaged disk, a half-written file or a program that was exchanged or added by mistake. Against
 * another account the folder's mode protects; an attacker with this user's own rights could as well change surgenote.
 * A folder that does not fit its record is never run: it is replaced from the package, and the caller is told.
 *
 * Several processes may do this at once: each unpacks under a name of its own, then renames; the first one wins and
 * the others check and use its folder.
 */
export async function openUnpackedFolder(
  root: string,
  name: string,
  packed: readonly PackedFile[],
): Promise<UnpackedFolder> {
  const target = join(root, name);
  const state = await readFolderState(target);
  if (await isMarked(target, state)) return { path: target };
  const fault = await findFault(target);
  if (fault === undefined) {
    await markFolder(target, state);
    return { path: target };
  }
  try {
    const fresh = await mkdtemp(join(root, '.unpacking-'));
    try {
      await removeStaleFolders(root, fresh);
      await writeRecord(fresh, await unpackFiles(packed, fresh));
      await putInPlace(fresh, target);
    } finally {
      await rm(fresh, { recursive: true, force: true });
    }
  } catch (cause) {
    throw new OutsideFailure(
      'browser-unpack',
      `The browser cannot be unpacked into ${root}: ${tell(cause)}`,
      {
        hint: 'Check the free space there (300 MB are needed) and run npm ci again.',
        cause,
      },
    );
  }
  const remaining = await findFault(target);
  if (remaining !== undefined) {
    throw new OutsideFailure('browser-damaged', `The browser in ${target} was unpacked, but ${remaining}.`, {
      hint: 'The disk or the memory of this machine may be faulty.',
    });
  }
  return fault === ABSENT ? { path: target } : { path: target, replaced: fault };
}

/** Renames `fresh` to `target`; a sound folder that another process put there meanwhile stays. */
async function putInPlace(fresh: string, target: string): Promise<void> {
  for (let attempt = 0; attempt < 3; attempt += 1) {
    try {
      await rename(fresh, target);
      return;
    } catch (error) {
      if (!isOccupied(error)) throw error;
    }
    if ((await findFault(target)) === undefined) return;
    // Moved aside rather than deleted in place, so that the name is free at once.
    const aside = await mkdtemp(join(dirname(target), '.damaged-'));
    await rename(target, join(aside, basename(target))).catch(() => {});
    await rm(aside, { recursive: true, force: true });
  }
  throw new Error(`${target} cannot be replaced`);
}

function isOccupied(error: unknown): boolean {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  return code === 'ENOTEMPTY' || code === 'EEXIST' || code === 'ENOTDIR';
}

/** Removes what runs that were killed while unpacking left behind, once it is a day old. */
async function removeStaleFolders(root: string, fresh: string): Promise<void> {
  const now = (await stat(fresh)).mtimeMs; // The clock of the disk: nothing else needs to be asked.
  for (const name of await readdir(root)) {
    if (!/^\.(unpacking|damaged|trial)-/.test(name)) continue;
    const path = join(root, name);
    const facts = await stat(path).catch(() => undefined);
    const age = facts === undefined ? 0 : now - facts.mtimeMs;
    if (age > STALE_MILLISECONDS) await rm(path, { recursive: true, force: true });
  }
}

function tell(cause: unknown): string {
  return cause instanceof Error ? cause.message : String(cause);
}
