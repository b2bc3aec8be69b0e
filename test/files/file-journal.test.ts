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

/** Replaces three files in two folders, of which one is new, and is killed at the so manyeth change of the disk. */
const PROGRAM = `
  import fs from 'node:fs';
  import { syncBuiltinESMExports } from 'node:module';
  const [, , last, module, folder] = process.argv;
  let changes = 0;
  for (const name of ['renameSync', 'linkSync', 'rmSync', 'unlinkSync', 'writeFileSync', 'fsyncSync']) {
    const change = fs[name];
    fs[name] = (...args) => {
      changes += 1;
      if (changes === Number(last)) process.kill(process.pid, 'SIGKILL');
      return change(...args);
    };
  }
  syncBuiltinESMExports();
  const { replaceFiles } = await import(module);
  const files = ['p/issues.yaml', 'out/a.pdf', 'p/results.yaml'];
  await replaceFiles(files.map((name) => ({ path: folder + '/' + name, bytes: Buffer.from('new ' + name) })));
  console.log(changes);
`;

beforeAll(() => {
  mkdirSync(built);
  writeFileSync(join(built, 'program.mjs'), PROGRAM);
  compileModule('files/replace-file.ts', built);
});

function state(name: string, folder: string): string {
  const files = ['p/issues.yaml', 'out/a.pdf', 'p/results.yaml'].map((file) => join(folder, file));
  const texts = files.map((file) => (existsSync(file) ? readFileSync(file, 'utf8') : 'none'));
  if (texts.every((text) => text.startsWith('new '))) return 'new';
  if (texts.join() === 'old,none,old') return 'old';
  throw new Error(`${name}: neither all nor none: ${texts.join()}`);
}

function makeOld(name: string): string {
  const folder = join(root, name);
  for (const one of ['p', 'out']) mkdirSync(join(folder, one), { recursive: true });
  for (const one of ['issues.yaml', 'results.yaml']) writeFileSync(join(folder, 'p', one), 'old');
  return folder;
}

function run(folder: string, last: number): { killed: boolean; changes: number } {
  const { signal, stdout, stderr } = spawnSync(process.execPath, [
    join(built, 'program.mjs'),
    String(last),
    join(built, 'files/replace-file.js'),
    folder,
  ]);
  expect(stderr.toString()).toBe('');
  return { killed: signal === 'SIGKILL', changes: Number(stdout.toString()) };
}

describe('a run that is killed while it replaces files', () => {
  test('at any moment: the next one in either folder finds all, or none, and leaves nothing', async () => {
    const { changes } = run(makeOld('whole'), 0);
    expect(state('whole', join(root, 'whole'))).toBe('new');
    expect(changes).toBeGreaterThan(20);
    const outcomes: string[] = [];
    for (let last = 1; last <= changes; last += 1) {
      const folder = makeOld(`killed-${last}`);
      expect(run(folder, last).killed).toBe(true);
      const side = last % 2 === 0 ? 'p' : 'out';
      const told: string[] = [];
      await recoverFolder(join(folder, side), { tell: (notice) => told.push(notice) });
      outcomes.push(state(`killed at ${last}`, folder));
      expect(told.length).toBeLessThanOrEqual(1);
      // Writing again takes over the lock, and sweeps what is left.
      for (const one of ['p', 'out']) {
        await replaceFiles([{ path: join(folder, one, 'more'), bytes: Buffer.from('more') }]);
        rmSync(join(folder, one, 'more'));
      }
      // A lock that was being made goes once it is old.
      const left = (one: string): string[] =>
        readdirSync(join(folder, one)).filter((name) => !/^\.surgenote-\w+\.lock$/.test(name));
      expect(left('p').sort()).toEqual(['issues.yaml', 'results.yaml']);
      expect(left('out')).toEqual(outcomes.at(-1) === 'new' ? ['a.pdf'] : []);
    }
    // First nothing is replaced, and from some moment on everything.
    expect(outcomes.join()).toMatch(/^(?:old,){5,}(?:new,)*new$/);
  });
});

describe('what a run left half replaced', () => {
  /** Killed at its second renaming of the group: the first file is the new one, the others wait. */
  let half = '';
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

  beforeAll(() => {
    for (let last = 1; half === ''; last += 1) {
      const folder = makeOld(`half-${last}`);
      run(folder, last);
      const texts = ['issues.yaml', 'results.yaml'].map((name) =>
        readFileSync(join(folder, 'p', name), 'utf8'),
      );
      if (texts.join() === 'new p/issues.yaml,old') half = folder;
    }
  });

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
