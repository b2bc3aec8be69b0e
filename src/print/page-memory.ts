import { createHash } from 'node:crypto';
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { openCacheFolder } from './cache-folder.ts';
import type { Environment } from './environment.ts';
import type { PageMap } from './page-numbers.ts';

/** How many documents are remembered; one more, and all are forgotten. */
const MOST_DOCUMENTS = 500;

/**
 * Where the parts of a document began when it was last printed on this machine; undefined where nobody knows. It is a guess, which printing
 * proves or refutes: what is printed never depends on it, only how long it takes.
 *
 * @param path of the document, absolute
 */
export async function recallPages(environment: Environment, path: string): Promise<PageMap | undefined> {
  const folder = await openMemory(environment);
  if (folder === undefined) return undefined;
  try {
    const read: unknown = JSON.parse(await readFile(fileOf(folder, path), 'utf8'));
    return isPageMap(read) ? read : undefined;
  } catch {
    return undefined;
  }
}

/** Remembers it for the next time. Where it cannot be written, the next print takes longer. */
export async function rememberPages(environment: Environment, path: string, pages: PageMap): Promise<void> {
  const folder = await openMemory(environment);
  if (folder === undefined) return;
  try {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    if ((await readdir(folder)).length >= MOST_DOCUMENTS) await rm(folder, { recursive: true });
    await mkdir(folder, { recursive: true, mode: 0o700 });
    await writeFile(fileOf(folder, path), JSON.stringify(pages), { mode: 0o600 });
  } catch {
    // A full disk, or another process that just forgets all.
  }
}

/** In the user's cache; a folder that goes with this run would be of no use. */
async function openMemory(environment: Environment): Promise<string | undefined> {
  const cache = await openCacheFolder(environment);
  await cache.release();
  return cache.temporary ? undefined : join(cache.path, 'pages');
}

function fileOf(folder: string, path: string): string {
  return join(folder, `${createHash('sha256').update(path).digest('hex')}.json`);
}

function isPageMap(read: unknown): read is PageMap {
  if (typeof read !== 'object' || read === null || Array.isArray(read)) return false;
  return Object.values(read).every((page) => Number.isSafeInteger(page) && page > 0);
}
