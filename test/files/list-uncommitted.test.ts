import { execFileSync } from 'node:child_process';
import { existsSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, expect, test, vi } from 'vitest';

import { listUncommitted } from '../../src/files/list-uncommitted.ts';
import { GitRepository } from '../support/git-repository.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

describeWithTools(['git'], 'what git does not have as it is', () => {
  let folder: string;
  let repository: GitRepository;
  const write = (name: string, text: string): void => writeFileSync(join(folder, name), text);
  const git = (...args: string[]): void =>
    void execFileSync('git', ['-C', folder, ...args], { stdio: 'pipe' });
  const dirty = (...paths: string[]): Promise<string[]> => listUncommitted(folder, paths);

  beforeEach(() => {
    folder = temporaryFolder();
    repository = new GitRepository(folder);
    write('note.md', 'a lead of 2.4 m\n');
    write('[a].md', 'brackets\n');
    write('.gitignore', 'ignored.csv\n');
    write('ignored.csv', 'x\n');
    repository.commitAll('First');
  });

  test('committed, changed, new, ignored, deleted', async () => {
    expect(await dirty('note.md', '[a].md')).toEqual([]);
    write('note.md', 'a lead of 0.4 m\n');
    write('new.md', 'new\n');
    rmSync(join(folder, '[a].md'));
    expect(await dirty('note.md', 'new.md', 'ignored.csv', '[a].md')).toEqual([
      'note.md',
      'new.md',
      'ignored.csv',
      '[a].md',
    ]);
  });

  test('added to the index and not committed', async () => {
    write('note.md', 'a lead of 0.4 m\n');
    git('add', 'note.md');
    expect(await dirty('note.md')).toEqual(['note.md']);
  });

  test.each(['--assume-unchanged', '--skip-worktree'])('a change that %s hides', async (flag) => {
    git('update-index', flag, 'note.md');
    write('note.md', 'a lead of 0.4 m\n');
    expect(await dirty('note.md')).toEqual(['note.md']);
  });

  test('a change that a filter of the repository takes back, which is not run', async () => {
    const ran = join(folder, 'ran');
    git('config', 'filter.hide.clean', `touch ${ran}; echo "a lead of 2.4 m"`);
    git('config', 'core.fsmonitor', `touch ${ran}; true`);
    write('.gitattributes', '*.md filter=hide ident\n');
    write('note.md', 'a lead of 0.4 m\n');
    expect(await dirty('note.md')).toEqual(['note.md']);
    expect(existsSync(ran)).toBe(false);
  });

  test('a link in place of the file', async () => {
    rmSync(join(folder, 'note.md'));
    write('elsewhere', 'a lead of 2.4 m\n');
    symlinkSync('elsewhere', join(folder, 'note.md'));
    expect(await dirty('note.md')).toEqual(['note.md']);
  });

  test('other line ends of a text are no change, other bytes of a picture are', async () => {
    write('note.md', 'a lead of 2.4 m\r\n');
    expect(await dirty('note.md')).toEqual([]);
    writeFileSync(join(folder, 'plan.png'), Buffer.from([0, 0x0a, 1]));
    repository.commitAll('Plan');
    writeFileSync(join(folder, 'plan.png'), Buffer.from([0, 0x0d, 0x0a, 1]));
    expect(await dirty('plan.png')).toEqual(['plan.png']);
  });

  test('the commit is that of the folder, in a repository whose root lies above', async () => {
    const inner = join(folder, 'inner');
    execFileSync('mkdir', [inner]);
    writeFileSync(join(inner, 'note.md'), 'inner\n');
    repository.commitAll('Inner');
    expect(await listUncommitted(inner, ['note.md'])).toEqual([]);
  });

  test('no commit yet', async () => {
    const empty = temporaryFolder();
    execFileSync('git', ['init', '-q', empty]);
    writeFileSync(join(empty, 'note.md'), 'x');
    expect(await listUncommitted(empty, ['note.md'])).toEqual(['note.md']);
  });

  test('a repository that belongs to somebody else is called so, and not absent', async () => {
    // Git's own switch for its tests: as if every folder belonged to another user.
    vi.stubEnv('GIT_TEST_ASSUME_DIFFERENT_OWNER', '1');
    vi.stubEnv('GIT_CONFIG_GLOBAL', '/dev/null');
    await expect(dirty('note.md')).rejects.toThrow(/belongs to someone else/);
    vi.unstubAllEnvs();
  });
});
