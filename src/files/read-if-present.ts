import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Collector } from '../diagnostics/collector.ts';
import { readProjectFile, readSource, type SourceText } from './read-source.ts';

/** Reads a text file of a project that need not exist. What exists and cannot be read is reported. */
export async function readIfPresent(
  folder: string,
  path: string,
  collector: Collector,
): Promise<SourceText | undefined> {
  return (await exists(folder, path)) ? readSource(folder, path, collector) : undefined;
}

/**
 * The same of a file that need be no text.
 *
 * @param most so many bytes it may have; as many as a text where absent
 */
export async function readBytesIfPresent(
  folder: string,
  path: string,
  collector: Collector,
  most?: number,
): Promise<Uint8Array | undefined> {
  return (await exists(folder, path)) ? readProjectFile(folder, path, collector, most) : undefined;
}

function exists(folder: string, path: string): Promise<boolean> {
  return lstat(join(folder, path)).then(
    () => true,
    (error: NodeJS.ErrnoException) => error.code !== 'ENOENT',
  );
}
