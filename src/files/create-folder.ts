import { mkdir, readdir } from 'node:fs/promises';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';

/** Makes a folder to write a project into; refuses one that holds something. */
export async function createFolder(folder: string): Promise<void> {
  try {
    await mkdir(folder, { recursive: true });
    if ((await readdir(folder)).length === 0) return;
  } catch (cause) {
    throw new OutsideFailure('folder-not-made', `${folder} cannot be made: ${(cause as Error).message}`, {
      cause,
    });
  }
  throw new OutsideFailure('folder-not-empty', `${folder} is not empty`, {
    hint: 'name a folder that does not exist yet',
  });
}
