import { readdir } from 'node:fs/promises';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { makeFolders } from './make-folders.ts';
import { wordFileError } from './word-file-error.ts';

/** Makes a folder to write a project into; refuses one that holds something. */
export async function createFolder(folder: string): Promise<void> {
  try {
    await makeFolders(folder);
    if ((await readdir(folder)).length === 0) return;
  } catch (cause) {
    throw new OutsideFailure('folder-not-made', `${folder} cannot be made: ${wordFileError(cause)}`, {
      cause,
    });
  }
  throw new OutsideFailure('folder-not-empty', `${folder} is not empty`, {
    hint: 'name a folder that does not exist yet',
  });
}
