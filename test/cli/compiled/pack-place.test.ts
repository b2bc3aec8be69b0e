import { chmodSync, existsSync, mkdirSync, readdirSync, symlinkSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { openPackPlace } from '../../../src/cli/compiled/pack-place.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

const root = temporaryFolder();
const open = (environment: NodeJS.ProcessEnv, command = 'evaluate', program = '/opt/surgenote') =>
  openPackPlace({ program, command, environment });

/** The place, where the cache of the user is as `prepare` makes it. */
function placeFor(name: string, prepare: (surgenote: string) => void): string | undefined {
  const cache = join(root, name);
  mkdirSync(cache);
  prepare(join(cache, 'surgenote'));
  return open({ XDG_CACHE_HOME: cache });
}

test('a pack has its place in a folder of the user alone, which is made', () => {
  const place = placeFor('own', () => {});
  expect(dirname(place!)).toBe(join(root, 'own/surgenote/compiled'));
  expect(existsSync(dirname(place!))).toBe(true);
});

test.each<[string, (folder: string) => void]>([
  [
    'others may write to',
    (folder) => {
      mkdirSync(folder);
      chmodSync(folder, 0o770);
    },
  ],
  [
    'has a folder for packs that others may write to',
    (folder) => {
      mkdirSync(join(folder, 'compiled'), { recursive: true });
      chmodSync(folder, 0o700);
      chmodSync(join(folder, 'compiled'), 0o707);
    },
  ],
  ['is a link', (folder) => symlinkSync(root, folder)],
  [
    'leads elsewhere for packs',
    (folder) => {
      mkdirSync(folder, { mode: 0o700 });
      symlinkSync(root, join(folder, 'compiled'));
    },
  ],
])('and none in one that %s', (what, prepare) => {
  expect(placeFor(what.replaceAll(' ', '-'), prepare)).toBeUndefined();
});

test('and none where the command happens to be called, nor in a home that is not there', () => {
  expect(open({ XDG_CACHE_HOME: 'here' })).toBeUndefined();
  expect(open({ HOME: join(root, 'gone') })).toBeUndefined();
  expect(existsSync('here')).toBe(false);
  expect(readdirSync(root)).not.toContain('gone');
});

test('each command and each copy of the program has its own, and what is no command cannot name a file', () => {
  const environment = { XDG_CACHE_HOME: root };
  const places = [
    open(environment),
    open(environment, 'compile'),
    open(environment, 'evaluate', '/opt/elsewhere'),
    open(environment, '../../evil'),
  ];
  expect(new Set(places).size).toBe(4);
  expect(new Set(places.map((place) => dirname(place!)))).toEqual(
    new Set([join(root, 'surgenote/compiled')]),
  );
});
