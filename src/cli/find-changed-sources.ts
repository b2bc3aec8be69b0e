import { Collector } from '../diagnostics/collector.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { startOf } from '../diagnostics/place.ts';
import { LARGEST_IMAGE } from '../files/read-image.ts';
import { readProjectFile } from '../files/read-source.ts';
import type { LoadedProject } from './load-and-evaluate.ts';
import type { Terminal } from './terminal.ts';

/**
 * Paths of the files on which what was printed rests (notes, project.yaml with what it includes, tables, pictures, submittals) that hold
 * something else by now, or are gone: a print takes its time, and people go on writing.
 */
async function findChangedSources(loaded: LoadedProject): Promise<readonly string[]> {
  const { folder, notes, others, submittalFiles, sourcesOf } = loaded;
  const read = new Map(
    [...[...notes, ...others].flatMap(sourcesOf), ...submittalFiles].map(({ path, bytes }) => [path, bytes]),
  );
  const changed: string[] = [];
  for (const [path, was] of read) {
    const now = await readProjectFile(folder, path, new Collector(), LARGEST_IMAGE);
    if (!now || Buffer.compare(now, was) !== 0) changed.push(path);
  }
  return changed;
}

/** Tells of every source that was changed while its document was made: what is written follows from what it held before. */
export async function cautionChangedSources(
  projects: readonly LoadedProject[],
  terminal: Terminal,
): Promise<void> {
  for (const loaded of projects) {
    const collector = new Collector(loaded);
    for (const path of await findChangedSources(loaded))
      collector.caution('changed-since-read', startOf(path), {});
    terminal.diagnostics(collector.list(), collector);
  }
}

/**
 * Refuses to issue a document whose sources are not those any more from which it was printed.
 *
 * @throws {OutsideFailure} `changed-meanwhile`
 */
export async function refuseChangedSources(loaded: LoadedProject): Promise<void> {
  const changed = await findChangedSources(loaded);
  if (changed.length === 0) return;
  throw new OutsideFailure(
    'changed-meanwhile',
    `nothing was written: ${changed.join(', ')} changed while the document was printed`,
    { hint: 'look at what is there now, and issue again if it is still due' },
  );
}
