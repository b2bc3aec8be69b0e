import { readFile, stat } from 'node:fs/promises';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { wordFileError } from './word-file-error.ts';

/**
 * Reads a file that a user names, whole.
 *
 * @throws {OutsideFailure} `not-found` where it cannot be read, `too-large` where it has more bytes than `most`
 */
export async function readWholeFile(path: string, most: number): Promise<Uint8Array> {
  try {
    const found = await stat(path);
    if (found.isDirectory()) throw Object.assign(new Error(), { code: 'EISDIR' });
    if (found.size <= most) return await readFile(path);
  } catch (cause) {
    throw new OutsideFailure('not-found', `${path} cannot be read: ${wordFileError(cause)}`, { cause });
  }
  throw new OutsideFailure('too-large', `${path} has more than ${most} bytes`);
}
