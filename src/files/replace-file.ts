import { randomBytes } from 'node:crypto';
import { unlinkSync } from 'node:fs';
import { mkdir, open, rename } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';

export interface NewFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/**
 * Replaces files as wholes, and as a group: all are written under other names in their folders first, then each takes its
 * place by one renaming. Where one cannot be written none is replaced, and nothing half-written stays behind.
 *
 * @throws {OutsideFailure} `not-written`
 */
export async function replaceFiles(files: readonly NewFile[]): Promise<void> {
  const waiting = new Map<string, string>();
  const clear = (): void => {
    for (const temporary of waiting.keys()) removeQuietly(temporary);
  };
  const onSignal = (signal: NodeJS.Signals): void => {
    clear();
    process.kill(process.pid, signal);
  };
  process.once('SIGINT', onSignal).once('SIGTERM', onSignal);
  try {
    for (const { path, bytes } of files) waiting.set(await writeBeside(path, bytes, waiting), path);
    for (const [temporary, path] of waiting) {
      await rename(temporary, path);
      waiting.delete(temporary);
    }
  } catch (cause) {
    clear();
    throw cause instanceof OutsideFailure
      ? cause
      : new OutsideFailure('not-written', `a file could not be written: ${(cause as Error).message}`, {
          cause,
        });
  } finally {
    process.off('SIGINT', onSignal).off('SIGTERM', onSignal);
  }
}

async function writeBeside(path: string, bytes: Uint8Array, waiting: Map<string, string>): Promise<string> {
  const temporary = join(dirname(path), `.${basename(path)}.tmp-${randomBytes(6).toString('hex')}`);
  waiting.set(temporary, path);
  try {
    await mkdir(dirname(path), { recursive: true });
    const handle = await open(temporary, 'wx');
    try {
      await handle.writeFile(bytes);
      // On the disk before the renaming: a failing machine leaves the old file or the new one, never an empty one.
      await handle.sync();
    } finally {
      await handle.close();
    }
  } catch (cause) {
    throw new OutsideFailure('not-written', `${path} cannot be written: ${(cause as Error).message}`, {
      cause,
    });
  }
  return temporary;
}

function removeQuietly(path: string): void {
  try {
    unlinkSync(path);
  } catch {
    // It was never written, or it has its place already.
  }
}
