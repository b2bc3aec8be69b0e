import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { liesInside } from './lies-inside.ts';
import type { NewFile } from './replace-file.ts';
import { wordFileError } from './word-file-error.ts';

/**
 * Writes files into a new folder of ours, by paths relative to it, for this user alone. Nothing that is there already is
 * written over or through.
 *
 * @throws {OutsideFailure} `not-written`, also for a path that leaves the folder
 */
export async function writeNewFiles(folder: string, files: readonly NewFile[]): Promise<void> {
  for (const { path, bytes } of files) {
    const file = join(folder, path);
    if (!liesInside(folder, file)) throw notWritten(path, 'it lies outside the folder');
    try {
      await mkdir(dirname(file), { recursive: true, mode: 0o700 });
      await writeFile(file, bytes, { flag: 'wx', mode: 0o600 });
    } catch (cause) {
      throw notWritten(path, wordFileError(cause), cause);
    }
  }
}

function notWritten(path: string, reason: string, cause?: unknown): OutsideFailure {
  return new OutsideFailure('not-written', `${path} cannot be unpacked: ${reason}`, { cause });
}
