import { mkdir, stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';

/**
 * Makes a folder and those above it that are missing, one after the other. (Node's own `recursive` never ends where the
 * system says of a folder that is there that it is not, as Linux does below /proc.)
 *
 * @throws {Error} of the file system; `EEXIST` where something else stands in a folder's place
 */
export async function makeFolders(path: string, mode?: number): Promise<void> {
  const missing: string[] = [];
  let folder = resolve(path);
  for (; !(await isThere(folder)); folder = dirname(folder)) missing.push(folder);
  for (const one of missing.reverse()) {
    await mkdir(one, mode === undefined ? {} : { mode }).catch(async (error: unknown) => {
      // Another process may have made it meanwhile.
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST' || !(await isThere(one))) throw error;
    });
  }
}

/** Whether a folder is there; the root is taken to be. */
async function isThere(folder: string): Promise<boolean> {
  try {
    if ((await stat(folder)).isDirectory()) return true;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'ENOENT' && dirname(folder) !== folder) return false;
    throw error;
  }
  throw Object.assign(new Error(`${folder} is no folder`), { code: 'EEXIST' });
}
