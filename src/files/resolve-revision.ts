import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { requireRepository } from './require-repository.ts';
import { gitFailed, runGit } from './run-git.ts';

/**
 * The commit that a revision names in the repository of a folder; its full id. Undefined where it names none.
 *
 * @throws {OutsideFailure} `no-repository`, `git-missing`; `git-failed` where it names a commit that git cannot read
 */
export async function findRevision(folder: string, revision: string): Promise<string | undefined> {
  await requireRepository(folder, {
    message: `${folder} lies in no git repository, so that '${revision}' cannot be looked up`,
    hint: 'name two folders instead',
  });
  const commit = await parse(folder, `${revision}^{commit}`);
  if (commit !== undefined) return commit;
  const named = await parse(folder, revision);
  // A whole id is taken for a name whether or not there is such an object.
  if (named === undefined || named === revision) return undefined;
  const { status, err } = await runGit(folder, ['cat-file', '-t', named]);
  if (status !== 0) throw gitFailed(err, `'${revision}' is ${named}: `);
  return undefined;
}

async function parse(folder: string, name: string): Promise<string | undefined> {
  const { status, out } = await runGit(folder, [
    ...['rev-parse', '--verify', '--quiet', '--end-of-options'],
    name,
  ]);
  const id = out.toString().trim();
  return status === 0 && /^[0-9a-f]{40,64}$/.test(id) ? id : undefined;
}

/**
 * The commit that a revision names; as `findRevision`.
 *
 * @throws {OutsideFailure} `unknown-revision`: says so where the clone is shallow and the commit may lie beyond its end
 */
export async function resolveRevision(folder: string, revision: string): Promise<string> {
  const commit = await findRevision(folder, revision);
  if (commit !== undefined) return commit;
  const ask = async (...args: string[]): Promise<string> => {
    const { status, out, err } = await runGit(folder, args);
    if (status !== 0) throw gitFailed(err);
    return out.toString().trim();
  };
  const shallow = (await ask('rev-parse', '--is-shallow-repository')) === 'true';
  const empty = (await ask('rev-list', '--all', '--max-count=1')) === '';
  const hint = shallow
    ? 'the clone is shallow, and the revision may lie beyond its end: git fetch --unshallow'
    : empty
      ? 'the repository has no commit yet'
      : 'name a commit, a branch, a tag, WORK for the working tree, or a folder';
  throw new OutsideFailure('unknown-revision', `'${revision}' is no revision of the project`, { hint });
}
