import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { recallPages, rememberPages } from '../../src/print/page-memory.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const root = temporaryFolder();
const folder = (name: string) => join(root, name);
const inHome = (name: string) => ({ HOME: folder(name) });
const filesOf = (home: string) => readdirSync(join(folder(home), '.cache/surgenote/pages'));

test('the pages of a document are known again, and of no other', async () => {
  mkdirSync(folder('one'));
  expect(await recallPages(inHome('one'), '/weir/7.md')).toBeUndefined();
  await rememberPages(inHome('one'), '/weir/7.md', { 'annex-c': 17, purpose: 2 });
  expect(await recallPages(inHome('one'), '/weir/7.md')).toEqual({ 'annex-c': 17, purpose: 2 });
  expect(await recallPages(inHome('one'), '/weir/8.md')).toBeUndefined();
  await rememberPages(inHome('one'), '/weir/7.md', { purpose: 3 });
  expect(await recallPages(inHome('one'), '/weir/7.md')).toEqual({ purpose: 3 });
});

test.each(['', '{"purpose": 2', '[4]', 'null', '{"purpose": "2"}', '{"purpose": 0}', '{"purpose": 1.5}'])(
  'a file that holds %j says nothing',
  async (text) => {
    const home = `damaged-${Buffer.from(text).toString('hex')}`;
    mkdirSync(folder(home));
    await rememberPages(inHome(home), '/weir/7.md', { purpose: 2 });
    writeFileSync(join(folder(home), '.cache/surgenote/pages', filesOf(home)[0]!), text);
    expect(await recallPages(inHome(home), '/weir/7.md')).toBeUndefined();
  },
);

test('however many documents there were, few files are kept', async () => {
  mkdirSync(folder('many'));
  await rememberPages(inHome('many'), '/0.md', { a: 1 });
  const kept = join(folder('many'), '.cache/surgenote/pages');
  for (let i = 0; i < 600; i += 1) writeFileSync(join(kept, `${i}.json`), '{}');
  await rememberPages(inHome('many'), '/1.md', { a: 2 });
  expect(filesOf('many')).toHaveLength(1);
  expect(await recallPages(inHome('many'), '/1.md')).toEqual({ a: 2 });
});

test('where nothing can be kept, nothing is', async () => {
  const environment = { HOME: '/proc', TMPDIR: folder('') };
  await rememberPages(environment, '/weir/7.md', { purpose: 2 });
  expect(await recallPages(environment, '/weir/7.md')).toBeUndefined();
});
