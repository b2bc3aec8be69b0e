import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { temporaryFolder } from '../support/temporary-folder.ts';

const REPOSITORY = resolve(import.meta.dirname, '../..');

/*
 * The package is laid out by hand, with the libraries of the repository beside it: `npm install` of it asks the registry for every
 * library's list of versions, which takes minutes where the network is slow, and a suite may not rest on that.
 */
test('the packed program, alone for somebody who has nothing else, makes a project and prints it', () => {
  const root = temporaryFolder();
  const home = join(root, 'home');
  mkdirSync(home);
  // The program is built before the tests run.
  execFileSync('npm', ['pack', '--ignore-scripts', '--pack-destination', root], {
    cwd: REPOSITORY,
    stdio: 'pipe',
  });
  const [packed] = readdirSync(root).filter((name) => name.endsWith('.tgz'));
  // README tells to install this very file.
  expect(readFileSync(join(REPOSITORY, 'README.md'), 'utf8')).toContain(
    `npm install -g --ignore-scripts ./${packed}`,
  );
  execFileSync('tar', ['-xzf', join(root, packed!), '-C', root]);
  symlinkSync(join(REPOSITORY, 'node_modules'), join(root, 'node_modules'));
  const installed = join(root, 'package');
  for (const left of ['src', 'test', 'projects']) expect(existsSync(join(installed, left))).toBe(false);
  const { bin } = JSON.parse(readFileSync(join(installed, 'package.json'), 'utf8')) as {
    bin: { surgenote: string };
  };
  const env = { PATH: process.env.PATH, HOME: home, TMPDIR: root };
  const run = (...args: readonly string[]): string => {
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      [join(installed, bin.surgenote), ...args],
      {
        cwd: home,
        env,
        encoding: 'utf8',
      },
    );
    expect([args, status, status === 0 ? '' : `${stdout}${stderr}`]).toEqual([args, 0, '']);
    return stdout;
  };
  const project = join(home, 'my-project');
  run('new', project, '--client', 'Lock keepers');
  run('compile', project);
  expect(readFileSync(join(project, '001-first-note.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
  run('compile', project, '--locked');
  expect(run('completion', 'bash')).toContain('complete -o default -F _surgenote');
}, 600_000);
