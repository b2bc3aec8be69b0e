import { randomBytes } from 'node:crypto';
import {
  closeSync,
  linkSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { cleanUpOnExit } from './clean-up-on-exit.ts';
import { hasEnded, ownIdentity, type ProcessIdentity, readIdentity } from './process-identity.ts';
import { isLockBeingMade, newTemporaryName } from './temporary-name.ts';
import { wordFileError } from './word-file-error.ts';

/** The file that says which process is writing in a folder. */
export const LOCK_FILE = '.surgenote-lock';
/** Held by the one who removes the lock of a process that has ended. */
const TAKEOVER = `${LOCK_FILE}-takeover`;

export interface LockOptions {
  /** How long another process that writes there is waited for, in milliseconds: half a minute where absent. */
  readonly patience?: number;
}

const HALF_A_MINUTE = 30_000;
/** A lock that says nothing is being written at this moment, or was left by a machine that failed. */
const OLD_MILLISECONDS = 10_000;

/**
 * Does some work while no other process of ours writes in the folders. The lock of a process that has ended is taken over.
 *
 * @param folders real paths
 * @throws {OutsideFailure} `folder-busy` where another process does not finish in time, `not-written`
 */
export async function withFolderLocks<T>(
  folders: readonly string[],
  work: () => Promise<T>,
  { patience = HALF_A_MINUTE }: LockOptions = {},
): Promise<T> {
  // In one order for everybody: no two processes wait for each other.
  const [folder, ...others] = [...new Set(folders)].sort();
  if (folder === undefined) return work();
  const release = await acquire(folder, patience);
  try {
    return await withFolderLocks(others, work, { patience });
  } finally {
    release();
  }
}

/** Removes the locks that runs were making, or taking over, when they were killed. */
export function sweepLocks(folder: string): void {
  for (const name of [...readdirSync(folder).filter(isLockBeingMade), TAKEOVER]) {
    const path = join(folder, name);
    if (readLock(path)?.ended) rmSync(path, { force: true });
  }
}

async function acquire(folder: string, patience: number): Promise<() => void> {
  const path = join(folder, LOCK_FILE);
  const text = `${JSON.stringify({ ...ownIdentity(), token: randomBytes(6).toString('hex') })}\n`;
  for (let waited = 0; ; ) {
    if (create(folder, path, text)) break;
    const held = readLock(path);
    if (held?.ended && takeOver(folder, path, held.text)) continue;
    if (waited >= patience) throw busy(folder, path, held?.holder, waited);
    const step = 20 + 60 * Math.random();
    await pause(step);
    waited += step;
  }
  const forget = cleanUpOnExit(() => remove(path, text));
  return () => {
    remove(path, text);
    forget();
  };
}

/** Makes a lock that is whole from the first moment; false where there is one. */
function create(folder: string, path: string, text: string): boolean {
  const whole = join(folder, newTemporaryName('lock'));
  try {
    writeFileSync(whole, text, { flag: 'wx' });
    try {
      linkSync(whole, path);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
      createInPlace(path, text);
    }
    return true;
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw new OutsideFailure('not-written', `${folder} cannot be written to: ${wordFileError(cause)}`, {
      cause,
    });
  } finally {
    rmSync(whole, { force: true });
  }
}

/** For file systems without hard links. Where the disk is full, an empty lock of ours must not stay. */
function createInPlace(path: string, text: string): void {
  const handle = openSync(path, 'wx');
  try {
    writeFileSync(handle, text);
  } catch (error) {
    rmSync(path, { force: true });
    throw error;
  } finally {
    closeSync(handle);
  }
}

interface HeldLock {
  readonly text: string;
  readonly holder: ProcessIdentity | undefined;
  readonly ended: boolean;
}

/** Undefined where there is none any more. */
function readLock(path: string): HeldLock | undefined {
  try {
    const text = readFileSync(path, 'utf8');
    const holder = parse(text);
    const age = Date.now() - statSync(path).mtimeMs;
    return { text, holder, ended: holder === undefined ? age > OLD_MILLISECONDS : hasEnded(holder) };
  } catch {
    return undefined;
  }
}

function parse(text: string): ProcessIdentity | undefined {
  try {
    return readIdentity(JSON.parse(text));
  } catch {
    return undefined;
  }
}

/**
 * Removes the lock of a process that has ended. Two that do so at once could remove the lock that a third has made
 * meanwhile: a second lock, held for this moment only, lets one of them do it. False where another does it just now.
 */
function takeOver(folder: string, path: string, text: string): boolean {
  const second = join(folder, TAKEOVER);
  if (!create(folder, second, `${JSON.stringify(ownIdentity())}\n`)) {
    const held = readLock(second);
    if (held?.ended) remove(second, held.text);
    return false;
  }
  try {
    remove(path, text);
    return true;
  } finally {
    unlinkSync(second);
  }
}

/** Removes a lock as long as it is the one that is meant. */
function remove(path: string, text: string): void {
  try {
    if (readFileSync(path, 'utf8') === text) unlinkSync(path);
  } catch {
    // It is gone, and so perhaps is the folder.
  }
}

function busy(
  folder: string,
  path: string,
  holder: ProcessIdentity | undefined,
  waited: number,
): OutsideFailure {
  const who = holder ? `process ${holder.pid} on ${holder.host}` : 'another process';
  return new OutsideFailure(
    'folder-busy',
    `${folder} is being written to by ${who}, which did not finish within ${Math.round(waited / 1000)} s`,
    { hint: `nothing was written; if that process does not run any more, remove ${path}` },
  );
}
