import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { wordFileError } from '../files/word-file-error.ts';

/** How a folder that a command writes anew is told from one that belongs to somebody. */
export interface OwnFolder {
  /** The file that bears the mark, and the mark. */
  readonly marked: string;
  readonly mark: string;
  /** Whether a path in the folder is one of those that the command writes, or that others make of them. */
  readonly owns: (path: string) => boolean;
}

/**
 * Refuses a folder that holds files of somebody: nothing of theirs is written over, or left standing among what is written. A folder
 * that is not there, or is empty, will do.
 *
 * @throws {OutsideFailure} `would-replace`, naming what stands there; `not-readable` where that cannot be told
 */
export async function refuseForeignFiles(folder: string, { marked, mark, owns }: OwnFolder): Promise<void> {
  const there = await readdir(folder, { recursive: true, withFileTypes: true }).catch(
    (error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT') return [];
      throw new OutsideFailure('not-readable', `${folder} cannot be read: ${wordFileError(error)}`);
    },
  );
  const paths = there
    .filter((entry) => !entry.isDirectory())
    .map((entry) => join(entry.parentPath, entry.name).slice(join(folder, '/').length).replaceAll('\\', '/'));
  if (paths.length === 0) return;
  const bearer = await readFile(join(folder, marked), 'utf8').catch(() => '');
  const foreign = bearer.includes(mark) ? paths.filter((path) => !owns(path)) : paths;
  if (foreign.length === 0) return;
  const named = foreign.sort().slice(0, 3).join(', ');
  const more = foreign.length > 3 ? ` and ${foreign.length - 3} more` : '';
  throw new OutsideFailure(
    'would-replace',
    `${folder} holds files that this command did not write: ${named}${more}`,
    {
      hint: 'name a folder that does not exist yet, or one that it wrote before',
    },
  );
}
