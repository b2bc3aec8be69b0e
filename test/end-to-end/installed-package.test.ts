import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { delimiter, join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { temporaryFolder } from '../support/temporary-folder.ts';

const REPOSITORY = resolve(import.meta.dirname, '../..');

test('the packed program, installed for somebody who has nothing else, makes a project and prints it', () => {
  const root = temporaryFolder();
  const [home, prefix] = ['home', 'prefix'].map((name) => join(root, name));
  for (const folder of [home!, prefix!]) mkdirSync(folder);
  // Of the machine only what npm has fetched before is used, so that it need not come over the network again.
  const cache = execFileSync('npm', ['config', 'get', 'cache'], { encoding: 'utf8' }).trim();
  const env: NodeJS.ProcessEnv = {
    PATH: `${join(prefix!, 'bin')}${delimiter}${process.env.PATH}`,
    HOME: home,
    TMPDIR: root,
    npm_config_cache: cache,
    CI: '1',
  };
  const run = (command: string, args: readonly string[], cwd: string) => {
    const { status, stdout, stderr } = spawnSync(command, args, { cwd, env, encoding: 'utf8' });
    expect([command, args, status, status === 0 ? '' : `${stdout}${stderr}`]).toEqual([command, args, 0, '']);
    return stdout;
  };
  // The program is built before the tests run.
  run('npm', ['pack', '--ignore-scripts', '--pack-destination', root], REPOSITORY);
  const [packed] = readdirSync(root).filter((name) => name.endsWith('.tgz'));
  // As README says it, into a folder of our own.
  const readme = readFileSync(join(REPOSITORY, 'README.md'), 'utf8');
  const [, options] = /npm install -g (--ignore-scripts) \.\/surgenote-[\d.]+\.tgz/.exec(readme)!;
  run('npm', ['install', '-g', options!, '--prefer-offline', '--prefix', prefix!, join(root, packed!)], root);
  const project = join(home!, 'my-project');
  run('surgenote', ['new', project, '--client', 'Lock keepers'], home!);
  run('surgenote', ['compile', project], home!);
  expect(readFileSync(join(project, '001-first-note.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
  run('surgenote', ['compile', project, '--locked'], home!);
  expect(run('surgenote', ['completion', 'bash'], home!)).toContain('complete -o default -F _surgenote');
}, 600_000);
