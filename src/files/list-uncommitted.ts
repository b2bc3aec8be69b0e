import { createHash } from 'node:crypto';
import { lstat, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { requireRepository } from './require-repository.ts';
import { findRevision } from './resolve-revision.ts';
import { gitFailed, runGit } from './run-git.ts';

/**
 * Those of the files of a folder that the last commit does not hold as they are: changed, new, ignored, links. Contents are held
 * against the blobs of HEAD themselves: neither flags of the index nor filters of the repository, which may run any
 * program, have a say. That a text was checked out with other line ends changes nothing.
 *
 * @param paths relative to the folder, with strokes
 * @throws {OutsideFailure} `no-repository`, `git-missing`, `git-failed`
 */
export async function listUncommitted(folder: string, paths: readonly string[]): Promise<string[]> {
  await requireRepository(folder, {
    message: `${folder} is not under git`,
    hint: 'what is signed must be kept: git init, git add and git commit in the project',
  });
  const blobs = await listBlobs(folder);
  const dirty: string[] = [];
  for (const path of paths) {
    const blob = blobs.get(path);
    if (blob === undefined || !(await isBlob(join(folder, path), blob))) dirty.push(path);
  }
  return dirty;
}

/** The files of the folder in the last commit, with the names of their blobs; none before the first commit. */
async function listBlobs(folder: string): Promise<ReadonlyMap<string, string>> {
  const head = await findRevision(folder, 'HEAD');
  if (head === undefined) return new Map();
  const tree = await runGit(folder, ['ls-tree', '-r', '-z', head]);
  if (tree.status !== 0) throw gitFailed(tree.err);
  const entries = tree.out
    .toString()
    .split('\0')
    .flatMap((line): [string, string][] => {
      // Links and the heads of other repositories are no files.
      const [, blob, path] = /^100\d{3} blob ([0-9a-f]+)\t([\s\S]+)$/.exec(line) ?? [];
      return blob === undefined || path === undefined ? [] : [[path, blob]];
    });
  return new Map(entries);
}

async function isBlob(file: string, blob: string): Promise<boolean> {
  try {
    if (!(await lstat(file)).isFile()) return false;
    const content = await readFile(file);
    if (nameBlob(content, blob.length) === blob) return true;
    return !content.includes(0) && nameBlob(withoutReturns(content), blob.length) === blob;
  } catch {
    return false; // What cannot be read is not what git has.
  }
}

/** The name that git gives a content: of SHA-1 or SHA-256, as the repository has it. */
function nameBlob(content: Buffer, digits: number): string {
  const hash = createHash(digits === 40 ? 'sha1' : 'sha256');
  return hash.update(`blob ${content.length}\0`).update(content).digest('hex');
}

/** Each CR LF as LF. */
function withoutReturns(content: Buffer): Buffer {
  return Buffer.from(content.toString('latin1').replaceAll('\r\n', '\n'), 'latin1');
}
