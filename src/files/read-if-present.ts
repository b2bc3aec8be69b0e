import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Collector } from '../diagnostics/collector.ts';
import { readSource, type SourceText } from './read-source.ts';

/** Reads a text file of a project that need not exist. What exists and cannot be read is reported. */
export async function readIfPresent(
  folder: string,
  path: string,
  collector: Collector,
): Promise<SourceText | undefined> {
  const exists = await lstat(join(folder, path)).then(
    () => true,
    (error: NodeJS.ErrnoException) => error.code !== 'ENOENT',
  );
  return exists ? readSource(folder, path, collector) : undefined;
}
