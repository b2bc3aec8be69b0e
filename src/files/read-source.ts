import { realpath, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Collector } from '../diagnostics/collector.ts';
import { startOf } from '../diagnostics/place.ts';
import { findInvalidUtf8 } from './find-invalid-utf8.ts';
import { liesInside } from './lies-inside.ts';
import { readAtMost } from './read-at-most.ts';
import { wordFileError } from './word-file-error.ts';

/** A text file of a project, as read. */
export interface SourceText {
  /** Relative to the project, with forward slashes. */
  readonly path: string;
  readonly bytes: Uint8Array;
  readonly text: string;
}

/** Notes are texts: one larger than this is a mistake, such as a picture with the wrong ending. */
export const LARGEST_TEXT = 8 * 1024 * 1024;

/**
 * Reads a file of a project as it is. Undefined where it cannot be read or leads out of the project by a symbolic link; that is
 * reported.
 *
 * @param most so many bytes it may have
 */
export async function readProjectFile(
  folder: string,
  path: string,
  collector: Collector,
  most = LARGEST_TEXT,
): Promise<Uint8Array | undefined> {
  const refuse = (reason: string): undefined => {
    collector.error('file-unreadable', startOf(path), { reason });
  };
  try {
    const file = await realpath(join(folder, path));
    if (!liesInside(await realpath(folder), file))
      return refuse('it is a link that leads out of the project');
    const found = await stat(file);
    if (found.isFile() && found.size > most) {
      collector.error('file-too-large', startOf(path), { size: found.size, most });
      return undefined;
    }
    return await readAtMost(file, most);
  } catch (error) {
    // A name in another encoding comes from the system with this character in it, and nothing lies under that.
    if (path.includes('\ufffd')) return refuse('its name is not in UTF-8: give it another');
    return refuse(wordFileError(error));
  }
}

/**
 * Reads a text file of a project. Undefined where it cannot be read, leads out of the project by a symbolic link, or is
 * no UTF-8; that is reported.
 */
export async function readSource(
  folder: string,
  path: string,
  collector: Collector,
): Promise<SourceText | undefined> {
  const bytes = await readProjectFile(folder, path, collector);
  if (!bytes) return undefined;
  // A carriage return alone ends a line in markdown but not in YAML: one character for another, so that places stay.
  const text = new TextDecoder('utf-8').decode(bytes).replaceAll(/\r(?!\n)/g, '\n');
  collector.keepText(path, text);
  const fault = findInvalidUtf8(bytes);
  if (fault !== undefined) {
    // Who saves a table sits before an office program, which calls it otherwise.
    const code = /\.csv$/i.test(path) ? 'csv-not-utf8' : 'not-utf8';
    collector.error(code, { file: path, start: fault, end: fault + 1 }, {});
    return undefined;
  }
  return { path, bytes, text };
}
