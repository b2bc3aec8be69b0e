import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openPreviewProject } from '../../src/cli/preview-project.ts';
import { LiveProject } from '../../src/preview/live-project.ts';
import { connection, type TrialBlock, writeNote, writeRegister } from '../session/trial-project.ts';

/** How much processor time it takes from a save until the page is set again and what changed of it is known, and what was computed on the way. */
export interface SaveTimes {
  readonly what: string;
  /** Reading, evaluating and setting the page for the first time. */
  readonly opened: number;
  readonly saves: readonly number[];
  readonly computed: ReadonlyMap<string, number>;
  /** Parts of the page that were sent. */
  readonly parts: number;
}

/** The processor time of this process, in milliseconds: what else runs on the machine counts little. */
function now(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

const SAVES = 7;

/** Saves a note again and again, each time with another value of one given. */
async function measureSaves(
  what: string,
  folder: string,
  note: string,
  write: (n: number) => string,
): Promise<SaveTimes> {
  const start = now();
  const project = new LiveProject(openPreviewProject(folder, undefined));
  await project.renew();
  const page = project.pageOf(note)!;
  const opened = now() - start;
  const saves: number[] = [];
  let [parts, computed] = [0, new Map<string, number>() as ReadonlyMap<string, number>];
  for (let n = 1; n <= SAVES; n += 1) {
    const before = page.revision;
    writeFileSync(join(folder, note), write(n));
    const saved = now();
    await project.renew();
    const update = project.pageOf(note)!.since(before);
    saves.push(now() - saved);
    parts = update.kind === 'parts' ? update.changes.length : Number.NaN;
    computed = project.renewal.computed;
  }
  project.close();
  return { what, opened, saves, computed, parts };
}

/** A copy of an example, and a note of 1 000 blocks; both go when they are measured. */
export async function measureAll(): Promise<SaveTimes[]> {
  const folder = mkdtempSync(join(tmpdir(), 'surgenote-bench-'));
  try {
    const example = join(folder, 'hollow-wharf');
    cpSync('projects/hollow-wharf', example, { recursive: true });
    const note = '003-intake-arresters.md';
    const text = readFileSync(join(example, note), 'utf8');
    if (!/earth_lead: \{ value: 14 m/.test(text)) throw new Error('the example has another earth lead');
    const longest = await measureSaves('the longest note of the examples', example, note, (n) =>
      text.replace('earth_lead: { value: 14 m', `earth_lead: { value: ${14 + n / 100} m`),
    );
    const many = join(folder, 'many');
    cpSync('projects/hollow-wharf/project.yaml', join(many, 'project.yaml'));
    writeFileSync(join(many, 'project.yaml'), writeRegister('48 kV', '75 kV peak'));
    const blocks = (n: number) =>
      Array.from({ length: 1000 }, (_, i): TrialBlock => {
        const more = {
          steepness: `${5 + i / 1000} kA/us`,
          ...(i === 500 ? { line_lead: `${1 + n / 100} m` } : {}),
        };
        return { id: `block-${i}`, given: connection(i, more) };
      });
    const write = (n: number) => writeNote({ blocks: blocks(n), prose: 'Words.' });
    writeFileSync(join(many, '1.md'), write(0));
    return [longest, await measureSaves('a note of 1 000 blocks', many, '1.md', write)];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
