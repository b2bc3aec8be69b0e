import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { createFolder } from '../../src/files/create-folder.ts';
import { makeFolders } from '../../src/files/make-folders.ts';
import { makePrivateFolder } from '../../src/files/private-folder.ts';
import { ownIdentity } from '../../src/files/process-identity.ts';
import { compileModule } from '../support/compile-module.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const root = temporaryFolder();
const ENDED = JSON.stringify({ ...ownIdentity(), pid: 2 ** 30, started: '1' });

function put(parent: string, name: string, owner?: string): void {
  mkdirSync(join(parent, name), { recursive: true });
  if (owner !== undefined) writeFileSync(join(parent, name, '.surgenote-owner'), owner);
}

test('a folder for this user alone, gone when it is released', async () => {
  const { path, release } = await makePrivateFolder(root);
  expect(statSync(path).mode & 0o777).toBe(0o700);
  writeFileSync(join(path, 'note.md'), '');
  await release();
  expect(existsSync(path)).toBe(false);
});

test('what a killed process left is removed by the next one', async () => {
  const [parent, built] = [join(root, 'killed'), join(root, 'built')];
  for (const folder of [parent, built]) mkdirSync(folder);
  await compileModule(built, 'files/private-folder.ts');
  const program = `
    const { makePrivateFolder } = await import(process.argv[2]);
    await makePrivateFolder(process.argv[3]);
    process.kill(process.pid, 'SIGKILL');`;
  writeFileSync(join(built, 'program.mjs'), program);
  spawnSync(process.execPath, [join(built, 'program.mjs'), join(built, 'files/private-folder.js'), parent]);
  expect(readdirSync(parent)).toHaveLength(1);
  const { release } = await makePrivateFolder(parent);
  expect(readdirSync(parent)).toHaveLength(1);
  await release();
  expect(readdirSync(parent)).toEqual([]);
});

test('what a process left that was killed before it said whose it is, or while it removed that, goes too', async () => {
  const parent = join(root, 'unsaid');
  const { pid, started } = ownIdentity();
  for (const name of [
    `surgenote-${2 ** 30}-1-aaaaaa`,
    `surgenote-${pid}-1-bbbbbb`,
    `surgenote-${pid}-${started}-cccccc`,
  ])
    put(parent, name);
  mkdirSync(join(parent, `surgenote-${2 ** 30}-1-dddddd/profile`), { recursive: true });
  const { release } = await makePrivateFolder(parent);
  // As a browser does that has not noticed yet.
  mkdirSync(join(parent, `surgenote-${2 ** 30}-1-dddddd/profile`), { recursive: true });
  await release();
  expect(readdirSync(parent)).toEqual([`surgenote-${pid}-${started}-cccccc`]);
});

test('folders of others, of the living and of nobody stay', async () => {
  const parent = join(root, 'shared');
  put(parent, 'surgenote-ended1', ENDED);
  const kept: readonly (readonly [string, string?])[] = [
    ['surgenote-living', JSON.stringify(ownIdentity())],
    ['surgenote-remote', ENDED.replace(/"host":"[^"]*"/, '"host":"weir-2"')],
    ['surgenote-nobody'],
    ['surgenote-broken', '{'],
    [`surgenote-${2 ** 30}-1-remote`, ENDED.replace(/"host":"[^"]*"/, '"host":"weir-2"')],
    ['surgenote-project-of-mine', ENDED],
    ['another-ended1', ENDED],
  ];
  for (const [name, owner] of kept) put(parent, name, owner);
  put(root, 'aside', ENDED);
  symlinkSync(join(root, 'aside'), join(parent, 'surgenote-linked'));
  const { release } = await makePrivateFolder(parent);
  await release();
  expect(readdirSync(parent).sort()).toEqual([...kept.map(([name]) => name), 'surgenote-linked'].sort());
  expect(readdirSync(join(root, 'aside'))).toEqual(['.surgenote-owner']);
});

test('folders are made one below the other', async () => {
  await makeFolders(join(root, 'a/b/c'), 0o700);
  expect(statSync(join(root, 'a/b')).mode & 0o777).toBe(0o700);
  await makeFolders(join(root, 'a/b/c'));
  writeFileSync(join(root, 'a/file'), '');
  for (const path of ['a/file', 'a/file/d']) {
    await expect(makeFolders(join(root, path))).rejects.toThrow();
  }
});

test.skipIf(!existsSync('/proc/self'))(
  'where the system lets nobody make a folder, that comes to an end',
  async () => {
    await expect(makeFolders('/proc/surgenote/cache')).rejects.toMatchObject({ code: 'ENOENT' });
    await expect(createFolder('/proc/a-project/of-mine')).rejects.toMatchObject({ code: 'folder-not-made' });
  },
);
