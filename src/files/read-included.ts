import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Collector } from '../diagnostics/collector.ts';
import { readSource, type SourceText } from './read-source.ts';

export interface IncludedFiles {
  readonly texts: readonly SourceText[];
  /** Paths of those that are there and cannot be read, which is reported. */
  readonly unreadable: ReadonlySet<string>;
}

/** Reads further texts of a project that its files name. Of one that is missing nothing is said: that is told where it is named. */
export async function readIncluded(
  folder: string,
  paths: readonly string[],
  collector: Collector,
): Promise<IncludedFiles> {
  const texts: SourceText[] = [];
  const unreadable = new Set<string>();
  for (const path of paths) {
    if (!(await isThere(join(folder, path)))) continue;
    const text = await readSource(folder, path, collector);
    if (text) texts.push(text);
    else unreadable.add(path);
  }
  return { texts, unreadable };
}

function isThere(path: string): Promise<boolean> {
  return lstat(path).then(
    () => true,
    () => false,
  );
}
