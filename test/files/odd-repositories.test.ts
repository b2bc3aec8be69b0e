import { execFileSync } from 'node:child_process';
import {
  appendFileSync,
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { listUncommitted } from '../../src/files/list-uncommitted.ts';
import { findRevision, resolveRevision } from '../../src/files/resolve-revision.ts';
import { withRevision } from '../../src/files/unpack-revision.ts';
import { GitRepository } from '../support/git-repository.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const FIRST = 'a lead of 2.4 m\n';
const SECOND = 'a lead of 2.6 m\n';

// States of a repository that git itself can be led into, by a failing machine, by a hand in .git, or by commands that few people use.
describeWithTools(['git'], 'a repository', () => {
  let folder: string;
  let repository: GitRepository;
  const inGit = (...path: string[]): string => join(folder, '.git', ...path);
  const write = (name: string, text: string): void => writeFileSync(join(folder, name), text);
  /** With what git makes of its input. */
  const git = (input: string | Buffer, ...args: string[]): string =>
    execFileSync('git', ['-C', folder, ...args], { input, stdio: ['pipe', 'pipe', 'pipe'] })
      .toString()
      .trim();
  const refused = async (work: Promise<unknown>): Promise<string> =>
    work.then(
      (value) => `did: ${String(value)}`,
      (error: Error & { code?: string }) => `${error.code}: ${error.message}`,
    );
  const filesAt = (commit: string): Promise<readonly string[]> =>
    withRevision(folder, commit, commit, async (at) => listFiles(at));

  const listUncommittedNote = (at: string): Promise<string[]> => listUncommitted(at, ['1.md']);
  /** Names as they are on the disk, a character for a byte; without what marks a temporary folder. */
  const listFiles = (at: string): string[] =>
    readdirSync(at, { encoding: 'buffer' })
      .map((name) => name.toString('latin1'))
      .filter((name) => name !== '.surgenote-owner')
      .sort();
  const base = temporaryFolder();

  beforeAll(() => {
    const made = new GitRepository(base);
    for (const text of [FIRST, SECOND]) {
      writeFileSync(join(base, 'project.yaml'), 'title: Trial\n');
      writeFileSync(join(base, '1.md'), text);
      made.commitAll(text);
    }
  });

  beforeEach(() => {
    folder = temporaryFolder();
    cpSync(base, folder, { recursive: true });
    repository = new GitRepository(folder);
  });

  test('no commit yet', async () => {
    rmSync(inGit(), { recursive: true });
    repository = new GitRepository(folder);
    expect(await findRevision(folder, 'HEAD')).toBeUndefined();
    expect(await listUncommitted(folder, ['1.md'])).toEqual(['1.md']);
  });

  test.each<[string, () => void, RegExp]>([
    ['whose settings cannot be read', () => writeFileSync(inGit('config'), '[core\n'), /bad config line 1/],
    ['that was moved away', () => moveRepositoryAway(), /not a git repository: /],
    ['without its HEAD', () => rmSync(inGit('HEAD')), /git does not take .*\/\.git for a repository/],
    ['whose HEAD says nothing', () => writeFileSync(inGit('HEAD'), 'x\n'), /git does not take .*\/\.git for/],
    [
      'without objects',
      () => rmSync(inGit('objects'), { recursive: true }),
      /git does not take .*\/\.git for/,
    ],
    ['that is a link to itself', () => linkInCircle(), /git does not take .*\/\.git for/],
  ])('%s: what is the matter is told, not that there is none', async (_, damage, told) => {
    damage();
    for (const ask of [findRevision, listUncommittedNote]) {
      const message = await refused(ask(folder, 'HEAD'));
      expect(message).toMatch(/^no-repository: /);
      expect(message).toMatch(told);
    }
  });

  function moveRepositoryAway(): void {
    renameSync(inGit(), join(folder, 'elsewhere'));
    writeFileSync(inGit(), 'gitdir: nowhere\n');
  }

  function linkInCircle(): void {
    rmSync(inGit(), { recursive: true });
    symlinkSync('.git', inGit());
  }

  test('a folder among the files of a repository', async () => {
    expect(await refused(findRevision(inGit(), 'HEAD'))).toMatch(
      /^no-repository: .* lies among the files of a repository itself, or in a bare one/,
    );
  });

  test('whose objects were emptied: nothing is said of commits that are not there, or of files that lack', async () => {
    const head = repository.run('rev-parse', 'HEAD').trim();
    emptyObject(head);
    for (const ask of [findRevision, listUncommittedNote])
      expect(await refused(ask(folder, 'HEAD'))).toMatch(
        /^git-failed: git could not read the project: 'HEAD' is [0-9a-f]{40}: /,
      );
  });

  test('of which the tree of a commit was emptied', async () => {
    const commit = repository.run('rev-parse', 'HEAD').trim();
    emptyObject(repository.run('rev-parse', 'HEAD^{tree}').trim());
    expect(await refused(filesAt(commit))).toMatch(/^git-failed: /);
    expect(await refused(listUncommitted(folder, ['1.md']))).toMatch(/^git-failed: /);
  });

  function emptyObject(id: string): void {
    const path = inGit('objects', id.slice(0, 2), id.slice(2));
    chmodSync(path, 0o600);
    writeFileSync(path, '');
  }

  test('a tag of a file is no commit; an id that is nowhere is none either', async () => {
    repository.run('tag', 'of-a-file', 'HEAD:1.md');
    for (const revision of ['of-a-file', 'HEAD^{tree}', '0'.repeat(40)])
      expect(await refused(resolveRevision(folder, revision)), revision).toMatch(/^unknown-revision: /);
  });

  test('with a commit, a file and a parent that stand here for others: the others count', async () => {
    const [head, before] = ['HEAD', 'HEAD~1'].map((name) => repository.run('rev-parse', name).trim());
    repository.run('replace', head!, before!);
    expect(await listUncommitted(folder, ['1.md'])).toEqual([]);
    repository.run('replace', '-d', head!);
    repository.run('replace', `${head}:1.md`, `${before}:1.md`);
    const text = await withRevision(folder, head!, 'HEAD', async (at) =>
      readFileSync(join(at, '1.md'), 'utf8'),
    );
    expect(text).toBe(SECOND);
    mkdirSync(inGit('info'), { recursive: true });
    writeFileSync(inGit('info', 'grafts'), `${head}\n`);
    expect(await findRevision(folder, 'HEAD~1')).toBe(before);
  });

  test('with settings of the caller that lead elsewhere', async () => {
    const other = new GitRepository(temporaryFolder());
    other.commitNothing('Other');
    const names = ['GIT_DIR', 'GIT_COMMON_DIR', 'GIT_OBJECT_DIRECTORY', 'GIT_NAMESPACE'];
    const values = [
      join(other.folder, '.git'),
      join(other.folder, '.git'),
      join(other.folder, '.git/objects'),
      'x',
    ];
    const head = await findRevision(folder, 'HEAD');
    try {
      for (const [i, name] of names.entries()) process.env[name] = values[i];
      expect(await findRevision(folder, 'HEAD')).toBe(head);
      expect(await listUncommitted(folder, ['1.md'])).toEqual([]);
    } finally {
      for (const name of names) delete process.env[name];
    }
  });

  test('locked by another program, with a damaged index, detached, in a second working tree', async () => {
    for (const name of ['index.lock', 'HEAD.lock']) writeFileSync(inGit(name), '');
    writeFileSync(inGit('index'), 'damaged');
    const head = await findRevision(folder, 'HEAD');
    expect(await listUncommitted(folder, ['1.md'])).toEqual([]);
    expect(await filesAt(head!)).toEqual(['1.md', 'project.yaml']);
    rmSync(inGit('index.lock'));
    rmSync(inGit('HEAD.lock'));
    rmSync(inGit('index'));
    repository.run('reset', '-q');
    const second = join(temporaryFolder(), 'second');
    repository.run('worktree', 'add', '-q', '--detach', second, 'HEAD~1');
    expect(await listUncommitted(second, ['1.md'])).toEqual([]);
    expect(await findRevision(second, 'main')).toBe(head);
  });

  test('with a file larger than any that is read: it is there with its size, and nothing of it is read', async () => {
    const large = 100 * 1024 ** 2;
    execFileSync('truncate', ['-s', String(large), join(folder, 'store.bin')]);
    repository.run('-c', 'core.bigFileThreshold=1m', '-c', 'core.compression=1', 'add', 'store.bin');
    repository.run('commit', '-q', '-m', 'Store');
    const size = await withRevision(folder, 'HEAD', 'HEAD', async (at) => {
      const found = statSync(join(at, 'store.bin'));
      expect(found.blocks * 512).toBeLessThan(10_000_000);
      return found.size;
    });
    expect(size).toBe(large);
  });

  test('with names in another encoding: each file has its own', async () => {
    const names = [0xfc, 0xe4].map((letter) => Buffer.from([0x78, letter, ...Buffer.from('.md')]));
    for (const name of names) writeFileSync(Buffer.concat([Buffer.from(`${folder}/`), name]), FIRST);
    repository.commitAll('Names');
    const there = await withRevision(folder, 'HEAD', 'HEAD', async (at) => listFiles(at));
    expect(there).toEqual(['1.md', 'project.yaml', 'x\u00e4.md', 'x\u00fc.md']);
  });

  test('with a tree that no file system can hold: told with its file', async () => {
    const entry = (mode: string, name: string, id: string): Buffer =>
      Buffer.concat([Buffer.from(`${mode} ${name}\0`), Buffer.from(id, 'hex')]);
    const [note, project] = ['HEAD:1.md', 'HEAD:project.yaml'].map((name) =>
      repository.run('rev-parse', name).trim(),
    );
    const commitOf = (...entries: Buffer[]): string => {
      const all = Buffer.concat([...entries, entry('100644', 'project.yaml', project!)]);
      const tree = git(all, 'hash-object', '-t', 'tree', '-w', '--literally', '--stdin');
      return git('', 'commit-tree', tree, '-m', 'Odd');
    };
    const twice = commitOf(entry('100644', '1.md', note!), entry('100644', '1.md', note!));
    expect(await refused(filesAt(twice))).toMatch(
      /^git-failed: .*: 1\.md cannot be a file here: another of the commit/,
    );
    for (const target of ['', 'a\0b']) {
      const link = git(target, 'hash-object', '-w', '--stdin');
      expect(await refused(filesAt(commitOf(entry('120000', '2.md', link))))).toMatch(
        /^git-failed: .*: 2\.md cannot be a file here: it is a link to nowhere$/,
      );
    }
    const outward = git('../../elsewhere', 'hash-object', '-w', '--stdin');
    const commit = commitOf(entry('120000', '2.md', outward), entry('100644', '..', note!));
    const target = await withRevision(folder, commit, 'odd', async (at) => readlinkSync(join(at, '2.md')));
    // Whoever reads there refuses it, as in the working tree; what has the name of the folder above is left out.
    expect(target).toBe('../../elsewhere');
  });

  test('with programs for everything: none is run', async () => {
    const mark = join(folder, 'ran');
    const program = `touch ${mark}; cat`;
    for (const name of [
      'filter.x.smudge',
      'filter.x.clean',
      'diff.x.textconv',
      'diff.external',
      'core.fsmonitor',
    ])
      repository.run('config', name, program);
    repository.run('config', 'log.showSignature', 'true');
    repository.run('config', 'core.pager', program);
    appendFileSync(inGit('config'), `[core]\n\thooksPath = ${folder}\n`);
    for (const hook of ['post-index-change', 'post-checkout', 'reference-transaction'])
      writeFileSync(join(folder, hook), `#!/bin/sh\n${program}\n`, { mode: 0o755 });
    write('.gitattributes', '* filter=x diff=x text eol=crlf ident working-tree-encoding=UTF-16\n');
    const head = await resolveRevision(folder, 'HEAD');
    expect(await listUncommitted(folder, ['1.md'])).toEqual([]);
    expect(await filesAt(head)).toEqual(['1.md', 'project.yaml']);
    expect(existsSync(mark)).toBe(false);
  });
});
