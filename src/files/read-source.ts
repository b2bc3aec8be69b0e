import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Collector } from '../diagnostics/collector.ts';
import { startOf } from '../diagnostics/place.ts';

/** A text file of a project, as read. */
export interface SourceText {
  /** Relative to the project, with forward slashes. */
  readonly path: string;
  readonly bytes: Uint8Array;
  readonly text: string;
}

/** Notes are texts: one larger than this is a mistake, such as a picture with the wrong ending. */
const LARGEST_TEXT = 8 * 1024 * 1024;

/** Reads a text file of a project; undefined where it cannot be read or is no UTF-8, which is then reported. */
export async function readSource(
  folder: string,
  path: string,
  collector: Collector,
): Promise<SourceText | undefined> {
  const file = join(folder, path);
  let bytes: Uint8Array;
  try {
    const { size } = await stat(file);
    if (size > LARGEST_TEXT) {
      collector.error('file-too-large', startOf(path), { size, most: LARGEST_TEXT });
      return undefined;
    }
    bytes = await readFile(file);
  } catch (error) {
    collector.error('file-unreadable', startOf(path), { reason: reasonOf(error) });
    return undefined;
  }
  const fault = findInvalidUtf8(bytes);
  if (fault) {
    collector.error('not-utf8', { file: path, ...fault, length: 1 }, {});
    return undefined;
  }
  return { path, bytes, text: new TextDecoder('utf-8').decode(bytes) };
}

/** Why a file could not be read, in words that are the same on every machine. */
function reasonOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  const known: Readonly<Record<string, string>> = {
    ENOENT: 'it does not exist',
    EACCES: 'reading it is not permitted',
    EISDIR: 'it is a folder',
  };
  return (code !== undefined && known[code]) || (code ?? 'it cannot be read');
}

/** Line and column of the first bytes that are no UTF-8. */
function findInvalidUtf8(bytes: Uint8Array): { line: number; column: number } | undefined {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return undefined;
  } catch {
    // The replacement character that was written as such (EF BF BD) is sound: look for one that was not.
    let [line, column] = [1, 1];
    for (const character of new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes)) {
      if (character === '\uFFFD') return { line, column };
      if (character === '\n') [line, column] = [line + 1, 1];
      else column += character.length;
    }
    return { line, column };
  }
}
