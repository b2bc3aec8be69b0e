import { stat } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';

import { wordFileError } from './word-file-error.ts';

export const PROJECT_FILE = 'project.yaml';

/**
 * The folder of the project that a path belongs to: the nearest one upward that holds `project.yaml`. Absolute.
 *
 * @throws {OutsideFailure} `not-found`, `no-project`
 */
export async function findProject(path: string): Promise<string> {
  const start = resolve(path);
  const kind = await stat(start).catch((cause: unknown) => {
    throw new OutsideFailure('not-found', `${path} cannot be read: ${wordFileError(cause)}`, { cause });
  });
  for (let folder = kind.isDirectory() ? start : dirname(start); ; folder = dirname(folder)) {
    const isFile = await stat(join(folder, PROJECT_FILE)).then(
      (found) => found.isFile(),
      () => false,
    );
    if (isFile) return folder;
    if (folder === dirname(folder)) break;
  }
  throw new OutsideFailure(
    'no-project',
    `${path} lies in no project: no folder upward holds ${PROJECT_FILE}`,
    {
      hint: 'make one with: surgenote new DIR',
    },
  );
}
