import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');
const read = (path: string): string => readFileSync(join(ROOT, path), 'utf8');
const {
  dependencies,
  devDependencies,
  peerDependencies,
  optionalDependencies = {},
} = JSON.parse(read('package.json')) as Readonly<Record<string, Readonly<Record<string, string>>>>;
const installed = Object.keys({ ...dependencies, ...optionalDependencies });

test('DEVELOPERS.md says what each direct dependency is for, and names no other', () => {
  const [, table] = read('DEVELOPERS.md').split('\n### Direct dependencies\n');
  const rows = table!
    .split('\n## ')[0]!
    .split('\n')
    .filter((line) => line.startsWith('| `'));
  const named = rows.flatMap((row) =>
    [...row.split('|')[1]!.matchAll(/`([^`]+)`/g)].map((match) => match[1]!),
  );
  const direct = new Set([...installed, ...Object.keys({ ...devDependencies, ...peerDependencies })]);
  expect(named.sort()).toEqual([...direct].sort());
  expect(rows.filter((row) => row.split('|')[2]!.trim().length < 10)).toEqual([]);
});

test('the built program loads nothing but itself, node, and what is installed with it', () => {
  const { loaded } = JSON.parse(read('dist/cli/packages.json')) as { readonly loaded: readonly string[] };
  const packages = new Set(loaded.map((target) => /^(?:@[^/]+\/)?[^/]+/.exec(target)![0]));
  expect([...packages]).toContain('@puppeteer/browsers');
  const permitted = [...installed, ...Object.keys(peerDependencies!)];
  expect([...packages].filter((name) => !permitted.includes(name))).toEqual([]);
});

test('the bill of materials names every package that is in the program or installed with it, with licence and sum', () => {
  const bill = JSON.parse(
    execFileSync(process.execPath, ['bill-of-materials.js'], {
      cwd: ROOT,
      encoding: 'utf8',
      maxBuffer: 1 << 26,
    }),
  ) as { components: { name: string; version: string; licenses?: unknown[]; hashes?: unknown[] }[] };
  const names = bill.components.map(({ name, version }) => `${name}@${version}`);
  const notices = read('dist/cli/THIRD-PARTY.txt');
  const noticed = [...notices.matchAll(/(?:^|-{80}\n\n)(\S+) (\d\S*) \([^)]+\)$/gm)].map(
    ([, name, version]) => `${name}@${version}`,
  );
  expect(noticed.length).toBeGreaterThan(60);
  expect(noticed.filter((name) => !names.includes(name))).toEqual([]);
  expect(installed.filter((name) => !bill.components.some((component) => component.name === name))).toEqual(
    [],
  );
  const development = ['vitest', 'typescript', '@biomejs/biome', 'axe-core'];
  expect(bill.components.filter(({ name }) => development.includes(name))).toEqual([]);
  expect(bill.components.filter(({ licenses, hashes }) => !licenses?.length || !hashes?.length)).toEqual([]);
});
