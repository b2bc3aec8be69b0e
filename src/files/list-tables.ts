import { readdir } from 'node:fs/promises';
import { join } from 'node:path';

/** Tables lie near the notes; deeper folders and great ones are somebody's store. */
const DEEPEST = 3;
const MOST_ENTRIES = 2000;

/** Paths of the tables (.csv) in a project, with forward slashes: one of them may be meant where one is missing. */
export async function listTables(folder: string): Promise<string[]> {
  const found: string[] = [];
  let entries = 0;
  const look = async (path: string, depth: number): Promise<void> => {
    const all = await readdir(join(folder, path), { withFileTypes: true }).catch(() => []);
    for (const entry of all.sort((a, b) => (a.name < b.name ? -1 : 1))) {
      entries += 1;
      if (entries > MOST_ENTRIES || entry.name.startsWith('.') || entry.name === 'node_modules') continue;
      const name = path === '' ? entry.name : `${path}/${entry.name}`;
      if (entry.isDirectory() && depth < DEEPEST) await look(name, depth + 1);
      else if (/\.csv$/i.test(entry.name)) found.push(name);
    }
  };
  await look('', 1);
  return found;
}
