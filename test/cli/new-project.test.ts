import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { delimiter, join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { newCommand } from '../../src/cli/commands/new.ts';
import { Collector } from '../../src/diagnostics/collector.ts';
import { readAllowedSigners } from '../../src/review/sign-off/allowed-signers.ts';
import { projectSchema } from '../../src/source/project-schema.ts';
import { GitRepository } from '../support/git-repository.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { PATIENCE } from '../support/patience.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { writeKey } from '../support/write-key.ts';

const MAIN = resolve(import.meta.dirname, '../../dist/cli/main.js');
const root = temporaryFolder();
const QUIET = {
  out: () => {},
  lines: () => {},
  wipe: () => {},
  columns: undefined,
  err: () => {},
  progress: () => {},
  diagnostics: () => {},
};
let made = 0;

async function make(...options: readonly string[]): Promise<string> {
  const folder = join(root, `quay-${++made}`);
  const { status, err } = await runInProcess(['new', folder, ...options]);
  expect([status, err]).toEqual([0, '']);
  return folder;
}
const textOf = (folder: string, name: string) => readFileSync(join(folder, name), 'utf8');
const page = (folder: string, ...more: readonly string[]) =>
  runInProcess(['compile', folder, '--html', '--no-pdf', ...more]);

test('what is written compiles without error, and then with --locked', async () => {
  const folder = await make();
  expect(readdirSync(folder).sort()).toEqual(
    [
      '.editor',
      '.editorconfig',
      '.gitattributes',
      '.gitignore',
      '001-first-note.md',
      'allowed_signers',
      'ci',
      'project.yaml',
    ].sort(),
  );
  const { status, err } = await page(folder);
  expect([status, err]).toEqual([0, '']);
  expect((await page(folder, '--locked')).status).toBe(0);
});

test('client, site and question stand where they belong, whatever is in them', async () => {
  const words = {
    client: 'Harbour "Nine" & Sons: #4',
    site: 'Pier 4, east - {north}',
    question: '3. Do *both* arresters_of TX1 | TX2 cost < $5 & hold [as `laid`]?',
  };
  const folder = await make('--client', words.client, '--site', words.site, '--question', words.question);
  expect(parse(textOf(folder, 'project.yaml'))).toMatchObject({ client: words.client, site: words.site });
  expect((await page(folder)).status).toBe(0);
  const note = textOf(folder, '001-first-note.md');
  expect(parse(note.split('---')[1]!)).toMatchObject({ title: words.question });
  // Heading and purpose.
  const told = textOf(folder, '001-first-note.html').replace(/<style>[\s\S]*?<\/style>/, '');
  const html = words.question.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
  expect(told.split(html).length).toBeGreaterThan(2);
});

test('words that no note may hold are told at their places, and nothing is written', async () => {
  const folder = join(root, 'refused');
  const { status, err } = await runInProcess(['new', folder, '--question', 'Does assumption C3 hold?']);
  expect(status).toBe(2);
  expect(err).toContain("the note lists no assumption 'C3'");
  expect(err).toContain('nothing is written');
  expect(existsSync(folder)).toBe(false);
  expect((await runInProcess(['new', folder, '--site', 'a\u0007b'])).status).toBe(2);
  expect(existsSync(folder)).toBe(false);
});

test('what is left open is asked for where somebody answers, and an empty answer leaves it', async () => {
  const asked: string[] = [];
  const answers = ['  Lock keepers ', ''];
  const folder = join(root, 'asked');
  await newCommand(folder, { site: 'Lower lock' }, QUIET, async (question) => {
    asked.push(question);
    return answers[asked.length - 1]!;
  });
  expect(asked.map((question) => question.split(/[ ,]/)[0])).toEqual(['Client', 'First']);
  expect(parse(textOf(folder, 'project.yaml'))).toMatchObject({ client: 'Lock keepers', site: 'Lower lock' });
  expect(textOf(folder, '001-first-note.md')).toContain('title: Connection of the arresters');
  // Nobody is asked about a folder that holds something.
  await expect(newCommand(folder, {}, QUIET, async () => expect.unreachable())).rejects.toThrow(
    'is not empty',
  );
});

test('nobody is asked where no terminal is', () => {
  const folder = join(root, 'piped');
  const { status, stdout } = spawnSync(process.execPath, [MAIN, 'new', folder], {
    encoding: 'utf8',
    input: '',
    env: { ...process.env, CI: undefined },
    timeout: PATIENCE,
  });
  expect(status).toBe(0);
  expect(stdout).not.toContain('Client');
});

test('the check for build machines passes what is recorded, and fails what is not', async () => {
  const folder = await make();
  await page(folder);
  const bin = join(root, 'bin');
  mkdirSync(bin, { recursive: true });
  const program = join(bin, 'surgenote');
  writeFileSync(program, `#!/bin/sh\nexec '${process.execPath}' '${MAIN}' "$@"\n`);
  chmodSync(program, 0o755);
  const check = () =>
    spawnSync('sh', [join(folder, 'ci/check.sh')], {
      encoding: 'utf8',
      env: { ...process.env, PATH: `${bin}${delimiter}${process.env.PATH}` },
    });
  const before = readdirSync(folder);
  expect(check().status).toBe(0);
  expect(readdirSync(folder)).toEqual(before);
  const note = join(folder, '001-first-note.md');
  writeFileSync(note, readFileSync(note, 'utf8').replace('7.5 m', '6.4 m'));
  const failed = check();
  expect(failed.status).toBe(1);
  expect(failed.stderr).toContain('the recorded results would change');
});

test('git is asked to keep sources, records and what is issued, and to leave what is made anew', async () => {
  const folder = await make();
  const git = new GitRepository(folder);
  const names = [
    '001-first-note.pdf',
    '001-first-note.html',
    '001-first-note.rev-A.pdf',
    '001-first-note.results.yaml',
  ];
  for (const name of names) writeFileSync(join(folder, name), 'x');
  git.commitAll('First');
  const kept = git.run('ls-files').split('\n');
  expect(names.filter((name) => kept.includes(name))).toEqual(names.slice(2));
  expect(kept).toEqual(
    expect.arrayContaining(['.gitignore', '.gitattributes', '.editor/project.schema.json', 'ci/check.sh']),
  );
});

test('the schema to which project.yaml leads is that of this version', async () => {
  const folder = await make();
  const [, path] = /^# yaml-language-server: \$schema=(\S+)$/m.exec(textOf(folder, 'project.yaml'))!;
  expect(JSON.parse(textOf(folder, path!))).toEqual(JSON.parse(JSON.stringify(projectSchema())));
});

describeWithTools(['ssh-keygen'], 'allowed_signers', () => {
  test('the line that allowed_signers shows is one, with a key in it', async () => {
    const folder = await make();
    const key = join(root, 'key');
    writeKey(key);
    const [, line] = /^# {3}(author .*)$/m.exec(textOf(folder, 'allowed_signers'))!;
    const text = line!.replace('ssh-ed25519 AAAA...', readFileSync(`${key}.pub`, 'utf8').trim());
    const collector = new Collector();
    const signers = readAllowedSigners('allowed_signers', text, collector);
    expect(collector.list()).toEqual([]);
    expect(signers).toMatchObject([
      { principals: ['author'], namespaces: ['sign-off@surgenote', 'issue@surgenote'] },
    ]);
    expect(readAllowedSigners('allowed_signers', textOf(folder, 'allowed_signers'), collector)).toEqual([]);
  });
});
