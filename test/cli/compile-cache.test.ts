import { chmodSync, mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { keepCompiled } from '../../src/cli/compile-cache.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const root = temporaryFolder();

/** The folder that Node is told of, where the cache of the user is as `prepare` makes it. */
function folderFor(name: string, prepare: (surgenote: string) => void): string | undefined {
  const cache = join(root, name);
  mkdirSync(cache);
  prepare(join(cache, 'surgenote'));
  let told: string | undefined;
  const enable = (folder: string): void => {
    told = folder;
  };
  keepCompiled(enable, { XDG_CACHE_HOME: cache });
  return told;
}

test('what Node compiled is kept in a folder of the user alone', () => {
  expect(folderFor('own', (folder) => mkdirSync(folder, { mode: 0o700 }))).toBe(
    join(root, 'own/surgenote/compiled'),
  );
});

test.each<[string, (folder: string) => void]>([
  ['is not there', () => {}],
  [
    'others may write to',
    (folder) => {
      mkdirSync(folder);
      chmodSync(folder, 0o770);
    },
  ],
  ['is a link', (folder) => symlinkSync(root, folder)],
])('and not in one that %s', (what, prepare) => {
  expect(folderFor(what.replaceAll(' ', '-'), prepare)).toBeUndefined();
});

test('and not where the command happens to be called', () => {
  keepCompiled(
    () => {
      throw new Error('asked for');
    },
    { XDG_CACHE_HOME: '.' },
  );
});
