import { createHash } from 'node:crypto';
import {
  closeSync,
  copyFileSync,
  fsyncSync,
  linkSync,
  lstatSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join, relative, resolve } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { isTemporaryName, newTemporaryName } from './temporary-name.ts';

/** The file that says which files of a folder are being replaced as one group. */
export const JOURNAL_FILE = '.surgenote-journal';

/** A file that is going to be replaced by another, which is whole under a name of its own in the same folder. */
export interface Replacement {
  /** Absolute. */
  readonly path: string;
  /** The new file. */
  readonly temporary: string;
  /** The name under which the old file is kept until all are replaced; null where there is none. */
  readonly kept: string | null;
  /** SHA-256 of the file before and after; null where there is none. */
  readonly was: string | null;
  readonly becomes: string;
}

interface Journal {
  readonly group: string;
  /** Every folder with a file of the group holds this journal. Absolute. */
  readonly folders: readonly string[];
  readonly replacements: readonly Replacement[];
}

/** What became of a group that an earlier run had left half replaced. */
export interface Recovery {
  readonly outcome: 'completed' | 'undone';
  readonly paths: readonly string[];
}

/**
 * Puts new files in the places of old ones: all, or none. What is going to be done is written down first in each folder, on
 * the disk, so that a run that comes after a failure of the machine can finish it (`recoverGroup`). The folders are locked by the
 * caller. Synchronous: no signal comes between.
 *
 * @throws {Error} of the file system; then everything is as it was
 */
export function replaceAsGroup(files: readonly Pick<Replacement, 'path' | 'temporary' | 'becomes'>[]): void {
  const folders = [...new Set(files.map(({ path }) => dirname(path)))].sort();
  const replacements: Replacement[] = [];
  const journal: Journal = { group: newTemporaryName('tmp'), folders, replacements };
  try {
    for (const file of files) replacements.push({ ...file, ...keepOld(file.path) });
    for (const folder of folders) writeJournal(folder, journal);
    for (const { temporary, path } of replacements) renameSync(temporary, path);
  } catch (failure) {
    undo(journal);
    for (const { kept } of replacements) if (kept !== null) rmSync(kept, { force: true });
    throw failure;
  }
  try {
    finish(journal);
  } catch {
    // All are in their places; what is left of the journal goes with the next writing.
  }
}

function keepOld(path: string): Pick<Replacement, 'kept' | 'was'> {
  const was = digestOf(path);
  if (was === null) return { kept: null, was };
  const kept = join(dirname(path), newTemporaryName('old'));
  try {
    linkSync(path, kept);
  } catch {
    // Not every file system has hard links.
    copyFileSync(path, kept);
  }
  return { kept, was };
}

/** Whether an earlier run left a group of files half replaced. */
export function hasJournal(folder: string): boolean {
  return isThere(join(folder, JOURNAL_FILE));
}

/** The folders that must be locked to finish what an earlier run began in this one. */
export function journalFolders(folder: string): readonly string[] {
  return [folder, ...(readJournal(folder)?.folders.filter(isThere) ?? [])];
}

/**
 * Finishes what an earlier run, which has ended, began: completes it where all that it needs is there and nobody has changed the
 * files since, else puts back what it had replaced. The folders are locked by the caller.
 *
 * @throws {OutsideFailure} `journal-damaged`; {Error} of the file system
 */
export function recoverGroup(folder: string): Recovery | undefined {
  const journal = readJournal(folder);
  if (!journal) return undefined;
  const paths = journal.replacements.map(({ path }) => path);
  const waiting = journal.replacements.filter(({ temporary }) => isThere(temporary));
  // Before every folder has its journal, no file is replaced.
  const begun = ownFolders(journal).length === journal.folders.length;
  const fit = waiting.every(
    ({ path, temporary, was, becomes }) => digestOf(path) === was && digestOf(temporary) === becomes,
  );
  if (waiting.length > 0 && !(begun && fit)) {
    undo(journal);
    return { outcome: 'undone', paths };
  }
  for (const { temporary, path } of waiting) renameSync(temporary, path);
  finish(journal);
  return { outcome: 'completed', paths };
}

/** Puts back what was replaced, unless somebody has changed it since. */
function undo(journal: Journal): void {
  for (const { path, temporary, kept, becomes } of ownReplacements(journal).reverse()) {
    const replaced = !isThere(temporary) && digestOf(path) === becomes;
    if (replaced && kept !== null && isThere(kept)) renameSync(kept, path);
    else if (replaced && kept === null) rmSync(path);
  }
  finish(journal);
}

/** Removes what the group needed; the journals last, for they say what there is to remove. */
function finish(journal: Journal): void {
  for (const { temporary, kept } of ownReplacements(journal)) {
    rmSync(temporary, { force: true });
    if (kept !== null) rmSync(kept, { force: true });
  }
  for (const folder of ownFolders(journal)) {
    syncFolder(folder);
    rmSync(join(folder, JOURNAL_FILE), { force: true });
  }
}

/** Folders where no journal of the group lies are not touched, whatever the others say of them. */
function ownFolders({ group, folders }: Journal): string[] {
  return folders.filter((folder) => readJournal(folder)?.group === group);
}

function ownReplacements(journal: Journal): Replacement[] {
  const folders = ownFolders(journal);
  return journal.replacements.filter(({ path }) => folders.includes(dirname(path)));
}

/** Paths are written from the folder on: a project may be moved. */
function writeJournal(folder: string, { group, folders, replacements }: Journal): void {
  const from = (path: string): string => relative(folder, path);
  const text = JSON.stringify(
    {
      what: 'surgenote was stopped while it replaced these files; its next command in this folder finishes that',
      group,
      folders: folders.map(from),
      replacements: replacements.map((one) => ({
        ...one,
        path: from(one.path),
        temporary: basename(one.temporary),
        kept: one.kept === null ? null : basename(one.kept),
      })),
    },
    null,
    2,
  );
  const whole = join(folder, newTemporaryName('tmp'));
  try {
    writeFileSync(whole, `${text}\n`, { flag: 'wx', flush: true });
    renameSync(whole, join(folder, JOURNAL_FILE));
  } finally {
    rmSync(whole, { force: true });
  }
  syncFolder(folder);
}

function readJournal(folder: string): Journal | undefined {
  const file = join(folder, JOURNAL_FILE);
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
    throw error;
  }
  const journal = parseJournal(folder, text);
  if (journal) return journal;
  throw new OutsideFailure(
    'journal-damaged',
    `${file}, which says which files an earlier run was replacing, cannot be read`,
    { hint: 'compare the files of the folder with those in git, then remove it' },
  );
}

/** What a journal says. It may have come with a project from anybody: nothing is done by it outside folders that hold it. */
function parseJournal(folder: string, text: string): Journal | undefined {
  try {
    const { group, folders, replacements } = JSON.parse(text) as Record<'group', unknown> &
      Record<'folders' | 'replacements', unknown[]>;
    const named = folders.map((one) => resolve(folder, String(one)));
    const read = replacements.map((one) => readReplacement(folder, one as Record<string, unknown>));
    if (typeof group !== 'string' || !named.includes(folder)) return undefined;
    return read.every(({ path }) => named.includes(dirname(path)))
      ? { group, folders: named, replacements: read }
      : undefined;
  } catch {
    return undefined;
  }
}

function readReplacement(folder: string, one: Record<string, unknown>): Replacement {
  const path = resolve(folder, String(one.path));
  const beside = (name: unknown): string => {
    if (typeof name !== 'string' || !isTemporaryName(name)) throw new Error('no name of a temporary file');
    return join(dirname(path), name);
  };
  const was = one.was === null ? null : String(one.was);
  const kept = one.kept === null ? null : beside(one.kept);
  return { path, temporary: beside(one.temporary), kept, was, becomes: String(one.becomes) };
}

/** SHA-256 of a file; null where there is none. */
function digestOf(path: string): string | null {
  try {
    return createHash('sha256').update(readFileSync(path)).digest('hex');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

function isThere(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false }) !== undefined;
}

/** Has the disk keep the names of a folder; where a system cannot, they come with its next writing. */
export function syncFolder(folder: string): void {
  try {
    const handle = openSync(folder, 'r');
    try {
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
  } catch {
    // Windows opens no folders.
  }
}
