import { spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { JOURNAL_FILE } from '../../src/files/file-journal.ts';
import { recoverFolder } from '../../src/files/recover-folder.ts';
import { replaceFiles } from '../../src/files/replace-file.ts';
import { compileModule } from '../support/compile-module.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const root = temporaryFolder();
const built = join(root, 'built');

/**
 * Replaces three files in two folders, of which one is new, again and again: each time the disk takes no change from some moment
 * on, as when the process is killed there ('killed'), or is full at that moment alone ('full'). Says what was thrown.
 */
const PROGRAM = `
  import fs from 'node:fs';
  import { syncBuiltinESMExports } from 'node:module';
  const [, , module, root, kind] = process.argv;
  const takeSpace = ['renameSync', 'linkSync', 'writeFileSync', 'fsyncSync'];
  let [changes, failing] = [0, 0];
  for (const name of kind === 'full' ? takeSpace : [...takeSpace, 'rmSync', 'unlinkSync']) {
    const change = fs[name];
    fs[name] = (...args) => {
      changes += 1;
      if (kind === 'full' ? changes !== failing : changes < failing) return change(...args);
      // A file is made before the disk turns out to be full.
      if (kind === 'full' && name === 'writeFileSync') change(args[0], '', args[2]);
      throw Object.assign(new Error('no change'), { code: 'ENOSPC' });
    };
  }
  syncBuiltinESMExports();
  const { replaceFiles } = await import(module);
  for (let moment = 1; fs.existsSync(root + '/' + kind + moment); moment += 1) {
    const folder = root + '/' + kind + moment;
    [changes, failing] = [0, moment];
    const files = ['p/issues.yaml', 'out/a.pdf', 'p/results.yaml'];
    const outcome = await replaceFiles(
      files.map((name) => ({ path: folder + '/' + name, bytes: Buffer.from('new ' + name) })),
    ).then(() => 'done', (failure) => failure.code + ': ' + failure.message);
    console.log(outcome);
  }
`;
/** More than there are changes. */
const MOMENTS = 50;

beforeAll(async () => {
  mkdirSync(built);
  writeFileSync(join(built, 'program.mjs'), PROGRAM);
  await compileModule(built, 'files/replace-file.ts');
});

/** Makes the folders `killed1` and so on, and lets the program end in each at its moment; gives the outcomes. */
function run(kind: 'killed' | 'full'): string[] {
  for (let moment = 1; moment <= MOMENTS; moment += 1) makeOld(`${kind}${moment}`);
  const { stdout, stderr } = spawnSync(process.execPath, [
    join(built, 'program.mjs'),
    join(built, 'files/replace-file.js'),
    root,
    kind,
  ]);
  expect(stderr.toString()).toBe('');
  const outcomes = stdout.toString().trim().split('\n');
  expect(outcomes).toHaveLength(MOMENTS);
  return outcomes;
}

function texts(folder: string): string[] {
  const files = ['p/issues.yaml', 'out/a.pdf', 'p/results.yaml'].map((file) => join(folder, file));
  return files.map((file) =>
    existsSync(file) ? readFileSync(file, 'utf8').replace(/^new .*/, 'new') : 'none',
  );
}

/** 'old' or 'new'; all of the three or none. */
function state(name: string, folder: string): string {
  const found = texts(folder).join();
  if (found === 'new,new,new') return 'new';
  if (found === 'old,none,old') return 'old';
  throw new Error(`${name}: neither all nor none: ${found}`);
}

function makeOld(name: string): void {
  const folder = join(root, name);
  for (const one of ['p', 'out']) mkdirSync(join(folder, one), { recursive: true });
  for (const one of ['issues.yaml', 'results.yaml']) writeFileSync(join(folder, 'p', one), 'old');
}

test('a disk that is full at any moment: all or none, as it is said, and nothing stays behind', () => {
  const outcomes = run('full');
  outcomes.forEach((outcome, i) => {
    const folder = join(root, `full${i + 1}`);
    expect(state(`full at ${i + 1}, ${outcome}`, folder)).toBe(outcome === 'done' ? 'new' : 'old');
    if (outcome === 'done') return;
    expect(outcome).toMatch(/^not-written: .* cannot be written(?: to)?: the disk is full$/);
    expect(readdirSync(join(folder, 'p')).sort()).toEqual(['issues.yaml', 'results.yaml']);
    expect(readdirSync(join(folder, 'out'))).toEqual([]);
  });
  expect(outcomes.filter((outcome) => outcome !== 'done').length).toBeGreaterThan(8);
});

/** Killed at the second renaming of the group: the first file is the new one, the others wait. */
const half = join(root, 'half');

test('a run that is killed at any moment: the next one in either folder finds all or none, and leaves nothing', async () => {
  const outcomes = run('killed');
  const states: string[] = [];
  for (let moment = 1; moment <= MOMENTS; moment += 1) {
    const folder = join(root, `killed${moment}`);
    if (texts(folder).join() === 'new,none,old') cpSync(folder, half, { recursive: true });
    const told: string[] = [];
    await recoverFolder(join(folder, moment % 2 === 0 ? 'p' : 'out'), {
      tell: (notice) => told.push(notice),
    });
    states.push(state(`killed at ${moment}`, folder));
    expect(told.length).toBeLessThanOrEqual(1);
    // Writing again takes over the lock, and sweeps what is left; of some, for it waits for the disk.
    if (moment % 4 > 1) continue;
    await Promise.all(
      ['p', 'out'].map((one) =>
        replaceFiles([{ path: join(folder, one, 'more'), bytes: Buffer.from('more') }]),
      ),
    );
    for (const one of ['p', 'out']) rmSync(join(folder, one, 'more'));
    // A lock that was being made goes once it is old.
    const left = (one: string): string[] =>
      readdirSync(join(folder, one)).filter((name) => !/^\.surgenote-\w+\.lock$/.test(name));
    expect(left('p').sort()).toEqual(['issues.yaml', 'results.yaml']);
    expect(left('out')).toEqual(states.at(-1) === 'new' ? ['a.pdf'] : []);
  }
  // First nothing is replaced, and from some moment on everything.
  expect(states.join()).toMatch(/^(?:old,){5,}(?:new,)*new$/);
  expect(outcomes.at(-1)).toBe('done');
});

describe('what a run left half replaced', () => {
  const copy = (name: string): string => {
    const folder = join(root, name);
    cpSync(half, folder, { recursive: true });
    return folder;
  };
  const recover = async (folder: string): Promise<string> => {
    const told: string[] = [];
    await recoverFolder(folder, { tell: (notice) => told.push(notice) });
    return told.join('\n');
  };

  test('is completed, and told, wherever the project has been moved to', async () => {
    const folder = copy('moved');
    renameSync(folder, join(root, 'elsewhere'));
    const told = await recover(join(root, 'elsewhere/p'));
    expect(told).toMatch(
      /^an earlier run was stopped while it replaced files; that is completed now: .*results\.yaml/,
    );
    expect(state('moved', join(root, 'elsewhere'))).toBe('new');
    expect(await recover(join(root, 'elsewhere/out'))).toBe('');
  });

  test('is undone, and told, where somebody has changed a file since; his change stays', async () => {
    const folder = copy('changed');
    writeFileSync(join(folder, 'p/results.yaml'), 'by hand');
    expect(await recover(join(folder, 'p'))).toMatch(/what it had done is undone, run it again: /);
    expect(readFileSync(join(folder, 'p/results.yaml'), 'utf8')).toBe('by hand');
    expect(readFileSync(join(folder, 'p/issues.yaml'), 'utf8')).toBe('old');
    expect(readdirSync(join(folder, 'out'))).toEqual([]);
  });

  test('is told where it cannot be read', async () => {
    const folder = copy('damaged');
    writeFileSync(join(folder, 'p', JOURNAL_FILE), '{"group":');
    await expect(recover(join(folder, 'p'))).rejects.toMatchObject({ code: 'journal-damaged' });
  });

  test('a journal that came with a project from elsewhere moves and removes nothing outside it', async () => {
    const folder = copy('foreign');
    const outside = join(root, 'outside');
    mkdirSync(outside);
    writeFileSync(join(outside, 'kept.yaml'), 'old');
    const journal = JSON.parse(readFileSync(join(folder, 'p', JOURNAL_FILE), 'utf8')) as {
      folders: string[];
      replacements: { path: string; was: string | null; becomes: string; kept: string | null }[];
    };
    journal.folders.push('../../outside');
    const [first] = journal.replacements;
    const old = journal.replacements.find(({ was }) => was !== null)!.was!;
    // Says of a file outside that it was put there by this group, and was not there before.
    journal.replacements.push({
      ...first!,
      path: '../../outside/kept.yaml',
      becomes: old,
      was: null,
      kept: null,
    });
    writeFileSync(join(folder, 'p', JOURNAL_FILE), JSON.stringify(journal));
    await recover(join(folder, 'p'));
    expect(readFileSync(join(outside, 'kept.yaml'), 'utf8')).toBe('old');
    // Nor is a name followed that is no name of a temporary file.
    journal.replacements[0]!.kept = '../../outside/kept.yaml';
    writeFileSync(join(folder, 'p', JOURNAL_FILE), JSON.stringify(journal));
    await expect(recover(join(folder, 'p'))).rejects.toMatchObject({ code: 'journal-damaged' });
  });
});
