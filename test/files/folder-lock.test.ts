import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { LOCK_FILE, sweepLocks, withFolderLocks } from '../../src/files/folder-lock.ts';
import { hasEnded, ownIdentity, readIdentity } from '../../src/files/process-identity.ts';
import { compileModule } from '../support/compile-module.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const root = temporaryFolder();
let made = 0;

function folderWith(lock?: string): string {
  const folder = join(root, `f${++made}`);
  mkdirSync(folder);
  if (lock !== undefined) writeFileSync(join(folder, LOCK_FILE), lock);
  return folder;
}

/** An identity of a process that does not run: no system gives so high a number. */
const ENDED = { ...ownIdentity(), pid: 2 ** 30, started: '1' };
const text = (identity: object): string => JSON.stringify({ ...identity, token: 'x' });

describe('whether a process has ended', () => {
  test('is told of processes of this machine alone', () => {
    expect(hasEnded(ownIdentity())).toBe(false);
    expect(hasEnded(ENDED)).toBe(true);
    expect(hasEnded({ ...ENDED, host: 'another-machine' })).toBe(false);
    expect(hasEnded({ ...ENDED, space: 'pid:[1]' })).toBe(false);
    expect(hasEnded({ ...ownIdentity(), boot: 'before' })).toBe(true);
  });

  test.skipIf(ownIdentity().started === '')('another process that got its number is another one', () => {
    expect(hasEnded({ ...ownIdentity(), started: '17' })).toBe(true);
  });

  test.each([[undefined], [null], ['1'], [{}], [{ ...ENDED, pid: 0 }], [{ ...ENDED, host: 4 }]])(
    '%j is no identity',
    (value) => expect(readIdentity(value)).toBeUndefined(),
  );
});

describe('the lock of a folder', () => {
  test('is there during the work and gone after it, also where the work fails', async () => {
    const folder = folderWith();
    await withFolderLocks([folder, folder], async () =>
      expect(existsSync(join(folder, LOCK_FILE))).toBe(true),
    );
    await expect(
      withFolderLocks([folder], async () => {
        throw new Error('failed');
      }),
    ).rejects.toThrow('failed');
    expect(readdirSync(folder)).toEqual([]);
  });

  test('is taken over from a process that has ended', async () => {
    const folder = folderWith(text(ENDED));
    expect(await withFolderLocks([folder], async () => 'done', { patience: 0 })).toBe('done');
    expect(readdirSync(folder)).toEqual([]);
  });

  test('is taken over where it says nothing and is old, not while it may be being written', async () => {
    const folder = folderWith('');
    await expect(withFolderLocks([folder], async () => 'done', { patience: 50 })).rejects.toMatchObject({
      code: 'folder-busy',
    });
    utimesSync(join(folder, LOCK_FILE), 1000, 1000);
    expect(await withFolderLocks([folder], async () => 'done', { patience: 0 })).toBe('done');
  });

  test('of one that may be at work elsewhere is waited for, and then it is told who has it', async () => {
    const folder = folderWith(text({ ...ENDED, host: 'weir-2' }));
    await expect(withFolderLocks([folder], async () => 'done', { patience: 60 })).rejects.toMatchObject({
      code: 'folder-busy',
      message: expect.stringContaining(`by process ${ENDED.pid} on weir-2, which did not finish within`),
      hint: expect.stringContaining(join(folder, LOCK_FILE)),
    });
    expect(readFileSync(join(folder, LOCK_FILE), 'utf8')).toContain('weir-2');
  });

  test('lets one work after the other, in this process too', async () => {
    const [a, b] = [folderWith(), folderWith()];
    let [inside, most] = [0, 0];
    const work = async (): Promise<void> => {
      inside += 1;
      most = Math.max(most, inside);
      await new Promise((resolve) => setTimeout(resolve, 5));
      inside -= 1;
    };
    await Promise.all([[a, b], [b, a], [a], [b, a]].map((folders) => withFolderLocks([...folders], work)));
    // The one that wants a alone may work beside nobody, for the others want it too.
    expect(most).toBe(1);
  });
});

test('locks that were being made are swept once they are old', () => {
  const folder = folderWith();
  for (const [name, time] of [
    ['.surgenote-0123456789ab.lock', 1000],
    ['.surgenote-0123456789ac.lock', Date.now() / 1000],
    ['mine.lock', 1000],
  ] as const) {
    writeFileSync(join(folder, name), '');
    utimesSync(join(folder, name), time, time);
  }
  sweepLocks(folder);
  expect(readdirSync(folder).sort()).toEqual(['.surgenote-0123456789ac.lock', 'mine.lock']);
});

test('of a process that was killed they are swept at once, of a living one never', () => {
  const folder = folderWith();
  const ended = JSON.stringify({ ...ownIdentity(), pid: 2 ** 30, started: '1' });
  writeFileSync(join(folder, '.surgenote-0123456789ab.lock'), ended);
  writeFileSync(join(folder, `${LOCK_FILE}-takeover`), ended);
  writeFileSync(join(folder, '.surgenote-0123456789ac.lock'), JSON.stringify(ownIdentity()));
  utimesSync(join(folder, '.surgenote-0123456789ac.lock'), 1000, 1000);
  sweepLocks(folder);
  expect(readdirSync(folder)).toEqual(['.surgenote-0123456789ac.lock']);
  writeFileSync(join(folder, `${LOCK_FILE}-takeover`), JSON.stringify(ownIdentity()));
  sweepLocks(folder);
  expect(readdirSync(folder)).toContain(`${LOCK_FILE}-takeover`);
});

describe('processes that add to one file at once', () => {
  const built = join(root, 'built');
  const PROGRAM = `
    import { readFile } from 'node:fs/promises';
    import { join } from 'node:path';
    const [, , module, folder, name] = process.argv;
    const { replaceFilesIn } = await import(module);
    const path = join(folder, 'register');
    for (let line = 0; line < 15; line += 1) {
      await replaceFilesIn([folder], async () => {
        const before = await readFile(path, 'utf8').catch(() => '');
        return [{ path, bytes: Buffer.from(before + name + line + '\\n') }];
      });
    }
  `;

  beforeAll(async () => {
    mkdirSync(built);
    writeFileSync(join(built, 'program.mjs'), PROGRAM);
    await compileModule(built, 'files/replace-file.ts');
  });

  test('no line is lost, though the first finds the lock of a process that has ended', async () => {
    const folder = folderWith(text(ENDED));
    const names = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'];
    const statuses = await Promise.all(
      names.map(
        (name) =>
          new Promise((done) => {
            const args = [join(built, 'program.mjs'), join(built, 'files/replace-file.js'), folder, name];
            spawn(process.execPath, args, { stdio: 'inherit' }).on('close', done);
          }),
      ),
    );
    expect(statuses).toEqual(names.map(() => 0));
    const lines = readFileSync(join(folder, 'register'), 'utf8').trim().split('\n');
    const expected = names.flatMap((name) => Array.from({ length: 15 }, (_, line) => `${name}${line}`));
    expect(lines.sort()).toEqual(expected.sort());
    expect(readdirSync(folder)).toEqual(['register']);
  });
});
