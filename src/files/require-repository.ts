import { lstat } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { runGit, wordGitError } from './run-git.ts';

/**
 * Refuses a folder that lies in no working tree of git, and says what is the matter where it should.
 *
 * @param lacks what is said, and advised, where there is no repository at all
 * @throws {OutsideFailure} `no-repository`, `git-missing`
 */
export async function requireRepository(
  folder: string,
  lacks: { readonly message: string; readonly hint: string },
): Promise<void> {
  const { status, out, err } = await runGit(folder, ['rev-parse', '--is-inside-work-tree']);
  if (status === 0 && out.toString().trim() === 'true') return;
  const refuse = (message: string, hint: string): OutsideFailure =>
    new OutsideFailure('no-repository', message, { hint });
  if (status === 0)
    throw refuse(
      `${folder} lies among the files of a repository itself, or in a bare one: no files are checked out there`,
      'use a folder that git has cloned with its files',
    );
  if (/dubious ownership/.test(err))
    throw refuse(
      `git refuses the repository of ${folder}: it belongs to someone else`,
      'see safe.directory in the manual of git config',
    );
  if (!/not a git repository \(or any/.test(err))
    throw refuse(`git cannot use the repository of ${folder}: ${wordGitError(err)}`, MENDING);
  const there = /mount point/.test(err) ? undefined : await findUpward(folder, '.git');
  if (there !== undefined)
    throw refuse(
      `git does not take ${there} for a repository: something in it is damaged or missing`,
      MENDING,
    );
  throw refuse(lacks.message, lacks.hint);
}

const MENDING = 'git status tells it too; a new clone may be the shortest way';

async function findUpward(from: string, name: string): Promise<string | undefined> {
  for (let folder = resolve(from); ; folder = dirname(folder)) {
    const path = join(folder, name);
    if (await lstat(path).catch(() => undefined)) return path;
    if (folder === dirname(folder)) return undefined;
  }
}
