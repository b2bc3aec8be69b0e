import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { runGit } from './run-git.ts';

/**
 * Those of the files of a folder that git does not have as they are: changed, new or ignored.
 *
 * @param paths relative to the folder
 * @throws {OutsideFailure} `no-repository`, `git-missing`, `git-failed`
 */
export async function listUncommitted(folder: string, paths: readonly string[]): Promise<string[]> {
  const inside = await runGit(folder, ['rev-parse', '--is-inside-work-tree']);
  if (inside.status !== 0 || inside.out.toString().trim() !== 'true') {
    throw new OutsideFailure('no-repository', `${folder} is not under git`, {
      hint: 'what is signed must be kept: git init, git add and git commit in the project',
    });
  }
  const dirty: string[] = [];
  for (const path of paths) {
    const own = await runGit(folder, [
      'status',
      '--porcelain=v1',
      '-z',
      '--ignored',
      '--untracked-files=all',
      '--',
      `:(literal)${path}`,
    ]);
    if (own.status !== 0) throw new OutsideFailure('git-failed', `git failed: ${own.err}`);
    if (own.out.length > 0) dirty.push(path);
  }
  return dirty;
}
