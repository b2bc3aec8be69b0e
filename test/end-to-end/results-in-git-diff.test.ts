import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { calcBlock } from '../review/evaluate-text.ts';
import { GitRepository } from '../support/git-repository.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const folder = join(temporaryFolder(), 'boards');
const note = join(folder, '001-first-note.md');
let git: GitRepository;

const compile = () => runInProcess(['compile', folder, '--html', '--no-pdf']);
const wire = (id: string, length: string) =>
  calcBlock(id, 'conductor-inductance', { shape: 'round-wire', length, diameter: '8 mm' });

/** What stands behind the line numbers of each hunk of the records. */
const hunkHeads = () =>
  [...git.run('diff', '-U1', '--', '*.results.yaml').matchAll(/^@@ [^@]+ @@ ?(.*)$/gm)].map(
    ([, head]) => head,
  );

beforeAll(async () => {
  expect((await runInProcess(['new', folder])).status).toBe(0);
  writeFileSync(
    note,
    `${readFileSync(note, 'utf8')}\n${wire('bond', '2 m')}\n${wire('long-way-round', '3 m')}`,
  );
  expect((await compile()).err).not.toContain('error');
  git = new GitRepository(folder);
  git.commitAll('First');
  const text = readFileSync(note, 'utf8').replace('length: 2 m', 'length: 2.5 m').replace('7.5 m', '6.5 m');
  writeFileSync(note, text.replace('length: 3 m', 'length: 3.5 m'));
  await compile();
});

test('every hunk of git diff names its block, without any setting of git', () => {
  const heads = hunkHeads();
  expect(heads.length).toBeGreaterThan(5);
  expect(new Set(heads)).toEqual(new Set(['block tx1-as-found:', 'block bond:', 'block long-way-round:']));
});

test('with the setting that .gitattributes and README give, by the name of the block alone', () => {
  for (const text of [join(folder, '.gitattributes'), 'README.md'].map((file) =>
    readFileSync(file, 'utf8'),
  )) {
    const [, name, pattern] = /git config (diff\.surgenote-results\.xfuncname) "(.+)"/.exec(text)!;
    git.run('config', name!, pattern!);
    expect(new Set(hunkHeads())).toEqual(new Set(['tx1-as-found', 'bond', 'long-way-round']));
    git.run('config', '--unset', name!);
  }
});
