import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { runGit } from './run-git.ts';

/**
 * The commit that a revision names in the repository of a folder; its full id. Undefined where it names none.
 *
 * @throws {OutsideFailure} `no-repository`, `git-missing`
 */
export async function findRevision(folder: string, revision: string): Promise<string | undefined> {
  await requireRepository(folder, revision);
  const { status, out } = await runGit(folder, [
    'rev-parse',
    '--verify',
    '--quiet',
    '--end-of-options',
    `${revision}^{commit}`,
  ]);
  const commit = out.toString().trim();
  return status === 0 && /^[0-9a-f]{40,64}$/.test(commit) ? commit : undefined;
}

/**
 * The commit that a revision names; as `findRevision`.
 *
 * @throws {OutsideFailure} `unknown-revision`: says so where the clone is shallow and the commit may lie beyond its end
 */
export async function resolveRevision(folder: string, revision: string): Promise<string> {
  const commit = await findRevision(folder, revision);
  if (commit !== undefined) return commit;
  const ask = async (...args: string[]): Promise<string> =>
    (await runGit(folder, args)).out.toString().trim();
  const shallow = (await ask('rev-parse', '--is-shallow-repository')) === 'true';
  const empty = (await ask('rev-list', '--all', '--max-count=1')) === '';
  const hint = shallow
    ? 'the clone is shallow, and the revision may lie beyond its end: git fetch --unshallow'
    : empty
      ? 'the repository has no commit yet'
      : 'name a commit, a branch, a tag, WORK for the working tree, or a folder';
  throw new OutsideFailure('unknown-revision', `'${revision}' is no revision of the project`, { hint });
}

async function requireRepository(folder: string, revision: string): Promise<void> {
  const { status, out, err } = await runGit(folder, ['rev-parse', '--is-inside-work-tree']);
  if (status === 0 && out.toString().trim() === 'true') return;
  const dubious = /dubious ownership/.test(err);
  throw new OutsideFailure(
    'no-repository',
    dubious
      ? `git refuses the repository of ${folder}: it belongs to someone else`
      : `${folder} lies in no git repository, so that '${revision}' cannot be looked up`,
    { hint: dubious ? 'see safe.directory in the manual of git config' : 'name two folders instead' },
  );
}
