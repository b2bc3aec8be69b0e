import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { readAtMost } from './read-at-most.ts';
import { wordFileError } from './word-file-error.ts';

/**
 * Reads a file that a user names, whole.
 *
 * @throws {OutsideFailure} `not-readable` where it cannot be read, or has more bytes than `most`
 */
export async function readWholeFile(path: string, most: number): Promise<Buffer> {
  try {
    return await readAtMost(path, most);
  } catch (cause) {
    throw new OutsideFailure('not-readable', `${path} cannot be read: ${wordFileError(cause)}`, { cause });
  }
}
