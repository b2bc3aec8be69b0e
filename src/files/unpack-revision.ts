import { mkdir, symlink, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { PROJECT_FILE } from './find-project.ts';
import { liesInside } from './lies-inside.ts';
import { withPrivateFolder } from './private-folder.ts';
import { LARGEST_IMAGE } from './read-image.ts';
import { LARGEST_TEXT } from './read-source.ts';
import { gitFailed, runGit } from './run-git.ts';
import { UnfitFile, wordFileError } from './word-file-error.ts';

interface TreeEntry {
  /** Relative to the project. */
  readonly path: string;
  /** The same, byte by byte: git keeps names in any encoding. */
  readonly name: Buffer;
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
  const within = prefix === '' ? [] : ['--', prefix];
  const tree = await runGit(project, ['ls-tree', '--full-tree', '-r', '-z', commit, ...within]);
  if (tree.status !== 0) throw gitFailed(tree.err);
  const from = Buffer.byteLength(prefix);
  return tree.out
    .toString('latin1')
    .split('\0')
    .flatMap((line) => {
      const [, mode, object, written] = /^(\d+) blob ([0-9a-f]+)\t([\s\S]+)$/.exec(line) ?? [];
      if (!mode || !object || !written) return [];
      const name = Buffer.from(written, 'latin1').subarray(from);
      const path = name.toString();
      return NOT_NEEDED.test(path) ? [] : [{ path, name, object, link: mode === '120000' }];
    });
}

async function unpack(project: string, entries: readonly TreeEntry[], folder: string): Promise<void> {
  // Links come last: no file is written through one.
  const ordered = [...entries.filter(({ link }) => !link), ...entries.filter(({ link }) => link)];
  const inside = ordered.filter(({ path }) => liesInside(folder, join(folder, path)));
  const sizes = await readSizes(
    project,
    inside.map(({ object }) => object),
  );
  for (const some of inPortions(inside, ({ object }) => sizes.get(object)!)) {
    const contents = await readObjects(
      project,
      some.map(({ object }) => object).filter((object) => sizes.get(object)! <= LARGEST_READ),
    );
    for (const entry of some) {
      const { object, path } = entry;
      await put(folder, entry, contents.get(object), sizes.get(object)!).catch((cause) => {
        const twice = (cause as NodeJS.ErrnoException).code === 'EEXIST';
        const reason = twice ? 'another of the commit has its name here' : wordFileError(cause);
        throw gitFailed(`${path} cannot be a file here: ${reason}`);
      });
    }
  }
}

/** What is larger is nowhere read: it is there, with its size, and says what it says in the working tree. */
const LARGEST_READ = Math.max(LARGEST_TEXT, LARGEST_IMAGE);
/** So many bytes are held at a time. */
const PORTION = 64 * 1024 * 1024;

async function put(
  folder: string,
  { name, link }: TreeEntry,
  content: Buffer | undefined,
  size: number,
): Promise<void> {
  const file = Buffer.concat([Buffer.from(join(folder, '/')), name]);
  await mkdir(file.subarray(0, file.lastIndexOf('/')), { recursive: true });
  if (link) {
    if (!content || content.length === 0 || content.includes(0))
      throw new UnfitFile('it is a link to nowhere');
    await symlink(content, file);
    return;
  }
  await writeFile(file, content ?? '', { flag: 'wx' });
  if (content === undefined) await truncate(file, size);
}

function inPortions<T>(all: readonly T[], sizeOf: (one: T) => number): T[][] {
  const portions: T[][] = [];
  let room = 0;
  for (const one of all) {
    const size = Math.min(sizeOf(one), LARGEST_READ);
    if (portions.length === 0 || size > room) {
      portions.push([]);
      room = PORTION;
    }
    portions.at(-1)!.push(one);
    room -= size;
  }
  return portions;
}

async function readSizes(project: string, objects: readonly string[]): Promise<Map<string, number>> {
  const { status, out, err } = await runGit(
    project,
    ['cat-file', '--batch-check'],
    `${objects.join('\n')}\n`,
  );
  if (status !== 0) throw gitFailed(err);
  const lines = out.toString().split('\n');
  return new Map(objects.map((object, i) => [object, sizeIn(lines[i]!)]));
}

/** The contents of objects by their ids. */
async function readObjects(project: string, objects: readonly string[]): Promise<Map<string, Buffer>> {
  const { status, out, err } = await runGit(project, ['cat-file', '--batch'], `${objects.join('\n')}\n`);
  if (status !== 0) throw gitFailed(err);
  const contents = new Map<string, Buffer>();
  let at = 0;
  for (const object of objects) {
    const end = out.indexOf('\n', at);
    const size = sizeIn(out.subarray(at, end).toString());
    contents.set(object, out.subarray(end + 1, end + 1 + size));
    at = end + 1 + size + 1;
  }
  return contents;
}

function sizeIn(header: string): number {
  const size = /^[0-9a-f]+ blob (\d+)$/.exec(header)?.[1];
  if (size === undefined) throw gitFailed(header);
  return Number(size);
}
