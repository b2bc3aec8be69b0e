import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, renameSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { pngOf } from '../files/pictures.ts';
import { GitRepository } from '../support/git-repository.ts';
import type { Outcome } from '../support/run-command.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, noteWith, writeProject } from '../support/write-project.ts';

const root = temporaryFolder();
const repository = join(root, 'repository');
const project = join(repository, 'sites', 'quay');
let git: GitRepository;

const given = (lead: string) =>
  `arrangement: common-earth\nline_lead: ${lead}\nearth_lead: 1 m\nresidual_voltage: 33 kV\nresidual_waveform: 1/20\nsteepness: 10 kA/us\nimpulse_withstand: 75 kV`;
const PICTURE = pngOf(2, 2);

const compare = (args: readonly string[], cwd = project): Promise<Outcome> =>
  runInProcess(['compare', ...args], { cwd });

beforeAll(() => {
  mkdirSync(project, { recursive: true });
  git = new GitRepository(repository);
  git.commitNothing('Before there was a project');
  writeProject(project, {
    '001.md': `${noteWith(given('1 m'))}\nSee ![a picture](images/a.png).\n`,
    'images/a.png': PICTURE,
  });
  git.commitAll('First');
  git.run('tag', 'issue-a');
  writeFileSync(join(project, '001.md'), noteWith(given('3 m')));
  git.commitAll('Longer lead');
  writeFileSync(join(project, '001.md'), noteWith(given('3 kV')));
  git.commitAll('A slip');
  git.run('branch', 'slip');
  writeFileSync(join(project, '001.md'), noteWith(given('3 m')));
  git.commitAll('Mended');
});

test('two revisions: what was written, then the verdict that turned and what follows', async () => {
  const { status, out } = await compare(['issue-a', 'HEAD~2']);
  expect(status).toBe(0);
  // By hand: 33 kV + 2 m * 10 kV/m = 53 kV; 33 kV + 4 m * 10 kV/m = 73 kV, +37.7 %.
  expect(out).toMatch(
    /^issue-a \([0-9a-f]{7}\) -> HEAD~2 \([0-9a-f]{7}\)\n1 given changed; .*1 verdict changed; 0 blocks follow; .*\n\n001\.md: trial .*\n {2}givens\n {4}line_lead: 1 m -> 3 m \(\+200 %\)\n[\s\S]*\n\nVerdicts that changed\n {2}trial\.withstand_margin .*: complies -> does not comply\n/,
  );
  expect(out).toContain('    line_lead: 1 m -> 3 m (+200 %)\n');
  expect(out).toContain('    terminal_voltage: 53 kV -> 73 kV (+37.7 %)\n');
  expect(out).toContain('- See ![a picture](images/a.png).');
});

test('the working tree, also from the top of the repository with --project', async () => {
  expect((await compare(['HEAD', 'WORK'])).out).toMatch(/-> the working tree\nno differences\n$/);
  const { out, status } = await compare(['issue-a', 'WORK', '--project', 'sites/quay'], repository);
  expect(status).toBe(0);
  expect(out).toContain('line_lead: 1 m -> 3 m');
});

test('a revision beside a folder, and two folders without git', async () => {
  const folder = join(root, 'elsewhere');
  mkdirSync(folder);
  writeProject(folder, { '001.md': noteWith(given('2 m')) });
  expect((await compare(['HEAD', folder])).out).toContain('line_lead: 3 m -> 2 m');
  const other = join(root, 'other');
  mkdirSync(other);
  writeProject(other, { '001.md': noteWith(given('1 m')) });
  const { out, status } = await compare(['./elsewhere', './other'], root);
  expect(status).toBe(0);
  expect(out).toContain('line_lead: 2 m -> 1 m');
});

test('--json is one object, --markdown are tables', async () => {
  const { out } = await compare(['issue-a', 'HEAD', '--json']);
  const report = JSON.parse(out) as {
    turned: { block: string; before: string; after: string }[];
    notes: { path: string; blocks: { id: string; given: object[] }[] }[];
    diagnostics: object[];
  };
  expect(report.turned).toEqual([
    expect.objectContaining({ block: 'trial', before: 'complies', after: 'does not comply' }),
  ]);
  expect(report.notes[0]!.blocks[0]!.given).toEqual([
    { name: 'line_lead', before: '1 m', after: '3 m', percent: 200 },
  ]);
  expect(report.diagnostics).toEqual([]);
  const markdown = await compare(['issue-a', 'HEAD', '--markdown']);
  expect(markdown.out).toContain('| line\\_lead | 1 m | 3 m | +200 % |');
  expect((await compare(['HEAD', 'WORK', '--json', '--markdown'])).status).toBe(2);
});

test('errors in one of the states: which, and where', async () => {
  const { status, out, err } = await compare(['slip', 'WORK']);
  expect(status).toBe(1);
  expect(out).toBe('');
  expect(err).toMatch(/^the source has errors in slip \([0-9a-f]{7}\):\n001\.md:16:14: error: /);
  expect(err).not.toContain('errors in the working tree');
  const json = JSON.parse((await compare(['slip', 'WORK', '--json'])).out) as { diagnostics: object[] };
  expect(json.diagnostics).toContainEqual(
    expect.objectContaining({ state: expect.stringMatching(/^slip/), file: '001.md', line: 16 }),
  );
});

test('an unknown revision, one before the project was there, a range, an option in disguise', async () => {
  const unknown = await compare(['no-such-branch', 'WORK']);
  expect(unknown.status).toBe(3);
  expect(unknown.err).toContain("'no-such-branch' is no revision of the project");
  const [first] = git.run('rev-list', '--max-parents=0', 'HEAD').split('\n');
  const early = await compare([first!, 'WORK']);
  expect(early.status).toBe(3);
  expect(early.err).toContain('there is no project in');
  expect((await compare(['HEAD~1..HEAD', 'WORK'])).status).toBe(3);
  expect((await compare(['WORK', '--', '--output=x'])).status).toBe(3);
});

test('no repository, a repository without commits, and a shallow clone', async () => {
  const bare = join(root, 'plain');
  mkdirSync(bare);
  writeProject(bare, { '001.md': noteWith(given('1 m')) });
  const plain = await compare(['HEAD', 'WORK'], bare);
  expect(plain.status).toBe(3);
  expect(plain.err).toContain('lies in no git repository');
  new GitRepository(bare);
  expect((await compare(['HEAD', 'WORK'], bare)).err).toContain('the repository has no commit yet');
  const clone = join(root, 'clone');
  execFileSync('git', ['clone', '-q', '--depth', '1', '--no-tags', `file://${repository}`, clone]);
  const shallow = await compare(['HEAD~2', 'WORK'], join(clone, 'sites', 'quay'));
  expect(shallow.status).toBe(3);
  expect(shallow.err).toContain('the clone is shallow');
  expect((await compare(['HEAD', 'WORK'], join(clone, 'sites', 'quay'))).status).toBe(0);
});

test('a name that is folder and branch must be made plain', async () => {
  git.run('branch', 'images');
  mkdirSync(join(project, 'images'), { recursive: true });
  const both = await compare(['images', 'WORK']);
  expect(both.status).toBe(2);
  expect(both.err).toContain('refs/heads/images');
  expect((await compare(['refs/heads/images', 'WORK'])).status).toBe(0);
  expect((await compare(['HEAD', 'WORK'], root)).status).toBe(2);
});

test('a link in a commit leads nowhere outside the project', async () => {
  writeFileSync(join(root, 'secret.md'), `${FRONT_MATTER}\nA secret.\n`);
  symlinkSync('../../../secret.md', join(project, '002.md'));
  git.commitAll('A link');
  const { status, out, err } = await compare(['HEAD~1', 'HEAD']);
  renameSync(join(project, '002.md'), join(root, 'link-away'));
  git.commitAll('No link');
  expect(status).toBe(1);
  expect(out + err).not.toContain('secret');
  expect(err).toContain('002.md:1:1: error: the file cannot be read');
});

test('nothing is written, neither in the project nor in the repository, and nothing is left behind', async () => {
  const listing = () => readdirSync(repository, { recursive: true, encoding: 'utf8' }).sort();
  const left = () => readdirSync(tmpdir()).filter((name) => name.startsWith('surgenote-revision-'));
  const [before, index, others] = [listing(), readFileSync(join(repository, '.git/index')), left()];
  expect((await compare(['issue-a', 'HEAD'])).status).toBe(0);
  expect((await compare(['slip', 'WORK'])).status).toBe(1);
  expect(listing()).toEqual(before);
  expect(readFileSync(join(repository, '.git/index'))).toEqual(index);
  expect(left().filter((name) => !others.includes(name))).toEqual([]);
});
