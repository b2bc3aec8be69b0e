import { mkdir, symlink, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { PROJECT_FILE } from './find-project.ts';
import { liesInside } from './lies-inside.ts';
import { withPrivateFolder } from './private-folder.ts';
import { runGit } from './run-git.ts';

interface TreeEntry {
  /** Relative to the project. */
  readonly path: string;
  readonly object: string;
  readonly link: boolean;
}

/** Output of compiling is not read again. */
const NOT_NEEDED = /\.(?:pdf|html)$/i;

/**
 * Puts the files of a project, as they are in a commit, into a temporary folder for as long as `use` works with it.
 *
 * @throws {OutsideFailure} `not-at-revision`, `git-failed`
 */
export async function withRevision<T>(
  project: string,
  commit: string,
  name: string,
  use: (folder: string) => Promise<T>,
): Promise<T> {
  const entries = await listTree(project, commit);
  if (!entries.some(({ path }) => path === PROJECT_FILE)) {
    throw new OutsideFailure('not-at-revision', `there is no project in ${project} at '${name}'`, {
      hint: `${PROJECT_FILE} is not in that commit: it may have lain in another folder then`,
    });
  }
  return withPrivateFolder(async (folder) => {
    await unpack(project, entries, folder);
    return use(folder);
  });
}

async function listTree(project: string, commit: string): Promise<TreeEntry[]> {
  const { status, out, err } = await runGit(project, ['rev-parse', '--show-prefix']);
  if (status !== 0) throw gitFailed(err);
  const prefix = out.toString().replace(/\n$/, '');
  const tree = await runGit(project, ['ls-tree', '--full-tree', '-r', '-z', `${commit}:${prefix}`]);
  // A folder that the commit does not have.
  if (tree.status !== 0) return [];
  return tree.out
    .toString()
    .split('\0')
    .flatMap((line) => {
      const [, mode, object, path] = /^(\d+) blob ([0-9a-f]+)\t([\s\S]+)$/.exec(line) ?? [];
      if (!mode || !object || !path || NOT_NEEDED.test(path)) return [];
      return [{ path, object, link: mode === '120000' }];
    });
}

async function unpack(project: string, entries: readonly TreeEntry[], folder: string): Promise<void> {
  const contents = await readObjects(
    project,
    entries.map(({ object }) => object),
  );
  // Links come last: no file is written through one.
  const ordered = [...entries.filter(({ link }) => !link), ...entries.filter(({ link }) => link)];
  for (const { path, object, link } of ordered) {
    const file = join(folder, path);
    if (!liesInside(folder, file)) continue;
    await mkdir(dirname(file), { recursive: true });
    const content = contents.get(object)!;
    if (link) await symlink(content.toString(), file);
    else await writeFile(file, content, { flag: 'wx' });
  }
}

/** The contents of objects by their ids. */
async function readObjects(project: string, objects: readonly string[]): Promise<Map<string, Buffer>> {
  const { status, out, err } = await runGit(project, ['cat-file', '--batch'], `${objects.join('\n')}\n`);
  if (status !== 0) throw gitFailed(err);
  const contents = new Map<string, Buffer>();
  let at = 0;
  for (const object of objects) {
    const end = out.indexOf('\n', at);
    const header = out.subarray(at, end).toString();
    const size = /^[0-9a-f]+ blob (\d+)$/.exec(header)?.[1];
    if (size === undefined) throw gitFailed(header);
    contents.set(object, out.subarray(end + 1, end + 1 + Number(size)));
    at = end + 1 + Number(size) + 1;
  }
  return contents;
}

function gitFailed(said: string): OutsideFailure {
  return new OutsideFailure('git-failed', `git could not read the project: ${said || 'it does not say why'}`);
}
