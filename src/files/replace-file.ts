import { randomBytes } from 'node:crypto';
import { unlinkSync } from 'node:fs';
import { mkdir, open, rename, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { wordFileError } from './word-file-error.ts';

export interface NewFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/**
 * Replaces files as wholes, and as a group: all are written under other names in their folders first, then each takes its
 * place by one renaming. Where one cannot be written none is replaced, and nothing half-written stays behind, also
 * when the program is told to stop. A symbolic link is replaced by the file.
 *
 * @throws {OutsideFailure} `not-written`
 */
export async function replaceFiles(files: readonly NewFile[]): Promise<void> {
  /** Temporary name -> final name, of files that are not in their places yet. */
  const waiting = new Map<string, string>();
  const stopWatching = clearOnExit(waiting);
  try {
    for (const { path, bytes } of files) await writeBeside(path, bytes, waiting);
    for (const [temporary, path] of [...waiting]) {
      await attempt(path, () => rename(temporary, path));
      waiting.delete(temporary);
    }
  } finally {
    clear(waiting);
    stopWatching();
  }
}

async function writeBeside(path: string, bytes: Uint8Array, waiting: Map<string, string>): Promise<void> {
  const temporary = join(dirname(path), `.${basename(path)}.tmp-${randomBytes(6).toString('hex')}`);
  await attempt(path, async () => {
    await mkdir(dirname(path), { recursive: true });
    // Renaming onto a folder fails; found out here, before another file of the group has taken its place.
    if (await isFolder(path)) throw Object.assign(new Error(), { code: 'EISDIR' });
    waiting.set(temporary, path);
    const handle = await open(temporary, 'wx');
    try {
      await handle.writeFile(bytes);
      // On the disk before the renaming: a failing machine leaves the old file or the new one, never an empty one.
      await handle.sync();
    } finally {
      await handle.close();
    }
  });
}

async function attempt(path: string, work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (cause) {
    throw new OutsideFailure('not-written', `${path} cannot be written: ${wordFileError(cause)}`, { cause });
  }
}

async function isFolder(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isDirectory(),
    () => false,
  );
}

/** Removes what waits when the process ends before it is renamed. The returned function ends the watch. */
function clearOnExit(waiting: Map<string, string>): () => void {
  const onExit = (): void => clear(waiting);
  const onSignal = (signal: NodeJS.Signals): void => {
    clear(waiting);
    stopWatching();
    // Where nobody else listens the process ends as if we had not either; a command that listens decides itself.
    if (process.listenerCount(signal) === 0) process.kill(process.pid, signal);
  };
  const stopWatching = (): void => {
    process.off('exit', onExit);
    for (const signal of SIGNALS) process.off(signal, onSignal);
  };
  process.on('exit', onExit);
  for (const signal of SIGNALS) process.on(signal, onSignal);
  return stopWatching;
}

function clear(waiting: Map<string, string>): void {
  for (const temporary of waiting.keys()) {
    try {
      unlinkSync(temporary);
    } catch {
      // It was never written.
    }
  }
  waiting.clear();
}
