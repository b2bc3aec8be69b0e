import { createHash } from 'node:crypto';
import { readdirSync, renameSync, rmSync, unlinkSync } from 'node:fs';
import { access, constants, open, readFile, realpath, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { cleanUpOnExit } from './clean-up-on-exit.ts';
import { hasJournal, replaceAsGroup, syncFolder } from './file-journal.ts';
import { type LockOptions, sweepLocks, withFolderLocks } from './folder-lock.ts';
import { makeFolders } from './make-folders.ts';
import { LARGEST_TEXT } from './read-source.ts';
import { recoverFolder } from './recover-folder.ts';
import { isTemporaryName, newTemporaryName } from './temporary-name.ts';
import { wordFileError } from './word-file-error.ts';

export interface NewFile {
  readonly path: string;
  readonly bytes: Uint8Array;
  /**
   * What the file held when the new content was made of it; null where there was none. Where it holds something else by
   * now, nothing is written. Absent for files that are made anew whatever they held.
   */
  readonly was?: Uint8Array | null;
}

export interface ReplaceOptions extends LockOptions {
  /** A folder that is made if need be, with those in it. Every other folder must be there. */
  readonly makes?: string | undefined;
  /** Takes what must be told, such as that something was put right that an earlier run had left. */
  readonly tell?: (notice: string) => void;
}

/**
 * Replaces files as wholes, and as a group: while no other process of ours writes in their folders, all are written under
 * other names there, then each takes its place by one renaming. Where one cannot be written none is replaced, and nothing
 * half-written stays behind; what a run leaves that is killed, or whose machine fails, the next one completes or undoes. A
 * symbolic link is replaced by the file.
 *
 * @throws {OutsideFailure} `not-written`, `changed-meanwhile`, `folder-busy`
 */
export function replaceFiles(files: readonly NewFile[], options: ReplaceOptions = {}): Promise<void> {
  const folders = files.map(({ path }) => dirname(path));
  return replaceFilesIn(folders, async () => files, options).then(() => undefined);
}

/**
 * As `replaceFiles`, of files that are made while the folders are locked: of what they hold at that moment.
 *
 * @param folders every folder of the files
 * @returns the files
 */
export async function replaceFilesIn(
  folders: readonly string[],
  make: () => Promise<readonly NewFile[]>,
  options: ReplaceOptions = {},
): Promise<readonly NewFile[]> {
  const real = new Map<string, string>();
  for (const folder of folders) real.set(resolve(folder), await findFolder(folder, options.makes));
  const locked = [...new Set(real.values())];
  for (;;) {
    for (const folder of locked) await recoverFolder(folder, options);
    const replaced = await withFolderLocks(
      locked,
      async () => {
        // Left by a run that ended just now.
        if (locked.some(hasJournal)) return undefined;
        for (const folder of locked) sweep(folder);
        const files = await make();
        await replaceLocked(
          files.map((file) => ({
            ...file,
            shown: file.path,
            path: join(real.get(resolve(dirname(file.path)))!, basename(file.path)),
          })),
        );
        return files;
      },
      options,
    );
    if (replaced) return replaced;
  }
}

/** The real path of a folder; made where that is wanted. */
async function findFolder(folder: string, makes: string | undefined): Promise<string> {
  try {
    if (makes !== undefined && `${resolve(folder)}/`.startsWith(`${resolve(makes)}/`))
      await makeFolders(folder);
    if (!(await stat(folder)).isDirectory()) throw Object.assign(new Error(), { code: 'EEXIST' });
    return await realpath(folder);
  } catch (cause) {
    const gone = (cause as NodeJS.ErrnoException).code === 'ENOENT';
    const reason = gone ? 'the folder is not there, or not any more' : wordFileError(cause);
    throw new OutsideFailure('not-written', `${folder} cannot be written: ${reason}`, { cause });
  }
}

/** Removes files that runs left behind which were killed before they replaced anything: nobody else is writing here. */
function sweep(folder: string): void {
  sweepLocks(folder);
  for (const name of readdirSync(folder))
    if (isTemporaryName(name)) rmSync(join(folder, name), { force: true });
}

interface LockedFile extends NewFile {
  /** The path as messages name it. */
  readonly shown: string;
}

async function replaceLocked(files: readonly LockedFile[]): Promise<void> {
  const waiting = new Set<string>();
  const forget = cleanUpOnExit(() => clear(waiting));
  try {
    for (const file of files) refuseUnreadable(file);
    for (const file of files) await refuseChanged(file);
    const written: { path: string; temporary: string; becomes: string }[] = [];
    for (const file of files) {
      const temporary = await writeBeside(file, waiting);
      written.push({ path: file.path, temporary, becomes: digest(file.bytes) });
    }
    const [only, second] = written;
    await attempt(files.map(({ shown }) => shown).join(', '), async () => {
      if (second) replaceAsGroup(written);
      else if (only) renameSync(only.temporary, only.path);
    });
    waiting.clear();
    for (const folder of new Set(files.map(({ path }) => dirname(path)))) syncFolder(folder);
  } finally {
    clear(waiting);
    forget();
  }
}

/** What is written beside a note is read by the next run: a record that no run reads would stop all work on the note. */
function refuseUnreadable({ shown, bytes }: LockedFile): void {
  if (!shown.endsWith('.yaml') || bytes.length <= LARGEST_TEXT) return;
  const size = `it would have ${bytes.length} bytes, and no text of more than ${LARGEST_TEXT} is read again`;
  throw new OutsideFailure('not-written', `nothing was written: ${shown} would be too large: ${size}`, {
    hint: 'divide what it records: a long note into several, a project into one for each stage of the work',
  });
}

/** Nobody's work is written over: what was read must still be there. The same content may have come from elsewhere. */
async function refuseChanged({ path, shown, bytes, was }: LockedFile): Promise<void> {
  if (was === undefined) return;
  const found = await readFile(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw new OutsideFailure('not-written', `${shown} cannot be written: ${wordFileError(error)}`, {
      cause: error,
    });
  });
  const same = (one: Uint8Array | null): boolean =>
    found === null || one === null ? found === one : Buffer.compare(found, one) === 0;
  if (same(was) || same(bytes)) return;
  throw new OutsideFailure('changed-meanwhile', `nothing was written: ${shown} was changed meanwhile`, {
    hint: 'somebody else, or another run, is at work on it: run the command again',
  });
}

async function writeBeside({ path, shown, bytes }: LockedFile, waiting: Set<string>): Promise<string> {
  const temporary = join(dirname(path), newTemporaryName('tmp'));
  await attempt(shown, async () => {
    // Found out here, before another file of the group has taken its place.
    await refuseFixed(path);
    waiting.add(temporary);
    const handle = await open(temporary, 'wx');
    try {
      await handle.writeFile(bytes);
      // On the disk before the renaming: a failing machine leaves the old file or the new one, never an empty one.
      await handle.sync();
    } finally {
      await handle.close();
    }
  });
  return temporary;
}

/** A folder cannot be replaced, and a file that is write-protected is not meant to be. */
async function refuseFixed(path: string): Promise<void> {
  const found = await stat(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw error;
  });
  if (found?.isDirectory()) throw Object.assign(new Error(), { code: 'EISDIR' });
  if (found) await access(path, constants.W_OK);
}

async function attempt(path: string, work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (cause) {
    throw new OutsideFailure('not-written', `${path} cannot be written: ${wordFileError(cause)}`, { cause });
  }
}

function clear(waiting: Set<string>): void {
  for (const temporary of waiting) {
    try {
      unlinkSync(temporary);
    } catch {
      // It was never written.
    }
  }
  waiting.clear();
}

function digest(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
