import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { PDFDocument } from '@cantoo/pdf-lib';
import { expect, test } from 'vitest';
import { temporaryFolder } from '../support/temporary-folder.ts';

const REPOSITORY = resolve(import.meta.dirname, '../..');

/*
 * The package is laid out by hand, with those libraries beside it that would be installed with it: `npm install` of it asks the registry for every
 * library's list of versions, which takes minutes where the network is slow, and a suite may not rest on that.
 */
test('the packed program, alone for somebody who has nothing else, makes a project, prints it and verifies it', async () => {
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
  const installed = join(root, 'package');
  const { bin, dependencies } = JSON.parse(readFileSync(join(installed, 'package.json'), 'utf8')) as {
    bin: { surgenote: string };
    dependencies: Readonly<Record<string, string>>;
  };
  for (const name of Object.keys(dependencies)) {
    const link = join(root, 'node_modules', name);
    mkdirSync(dirname(link), { recursive: true });
    symlinkSync(join(REPOSITORY, 'node_modules', name), link);
  }
  for (const left of ['src', 'test', 'projects']) expect(existsSync(join(installed, left))).toBe(false);
  const env = { PATH: process.env.PATH, HOME: home, TMPDIR: root };
  const run = (...args: readonly string[]): string => end(0, ...args);
  const end = (expected: number, ...args: readonly string[]): string => {
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      [join(installed, bin.surgenote), ...args],
      {
        cwd: home,
        env,
        encoding: 'utf8',
      },
    );
    expect([args, status, status === expected ? '' : `${stdout}${stderr}`]).toEqual([args, expected, '']);
    return stdout;
  };
  const project = join(home, 'my-project');
  run('new', project, '--client', 'Lock keepers');
  run('compile', project);
  expect(readFileSync(join(project, '001-first-note.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
  run('compile', project, '--locked');
  // Of another browser, as it says: it is read and drawn, for which no library is installed.
  const other = await PDFDocument.load(readFileSync(join(project, '001-first-note.pdf')), {
    updateMetadata: false,
  });
  other.setProducer(`${other.getCreator()} with HeadlessChrome/141.0.7100.3`);
  writeFileSync(join(home, 'other.pdf'), await other.save());
  expect(end(1, 'verify', join(home, 'other.pdf'))).toMatch(
    /the text of every page is the same; all pages look alike when pdfjs \S+ draws them/,
  );
  expect(run('completion', 'bash')).toContain('complete -o default -F _surgenote');
});
