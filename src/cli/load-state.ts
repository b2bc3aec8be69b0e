import { createHash } from 'node:crypto';
import { stat } from 'node:fs/promises';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { findProject } from '../files/find-project.ts';
import { findRevision, resolveRevision } from '../files/resolve-revision.ts';
import { withRevision } from '../files/unpack-revision.ts';
import type { ProjectState } from '../review/compare-notes.ts';
import { type LoadedProject, loadAndEvaluate } from './load-and-evaluate.ts';

/** The word for the working tree of the project. */
export const WORKING_TREE = 'WORK';

/** What one side of a comparison names. */
export type StateName =
  | { readonly kind: 'work' }
  | { readonly kind: 'folder'; readonly folder: string }
  | { readonly kind: 'revision'; readonly revision: string };

/** One side of a comparison, read. */
export interface LoadedState {
  /** 'HEAD~1 (3f2c1ab)', 'the working tree' */
  readonly name: string;
  readonly loaded: LoadedProject;
}

/**
 * Tells a folder from a revision. What can only be a path is one; else a folder of that name counts.
 *
 * @throws {OutsideFailure} `usage` for PDFs, and for a name that is both a folder and a revision
 */
export async function readStateName(text: string): Promise<StateName> {
  if (text === WORKING_TREE) return { kind: 'work' };
  if (/\.pdf$/i.test(text)) {
    throw new OutsideFailure('usage', `${text}: PDFs cannot be compared yet`, {
      hint: 'name revisions, WORK or folders',
    });
  }
  const isFolder = await stat(text).then(
    (found) => found.isDirectory(),
    () => false,
  );
  const isPath = /^\.{1,2}$|^\.{0,2}\/|\/$/.test(text);
  if (!isFolder && !isPath) return { kind: 'revision', revision: text };
  if (!isPath && (await findRevision('.', text).catch(() => undefined)) !== undefined) {
    throw new OutsideFailure('usage', `'${text}' is a folder and a revision`, {
      hint: `write ./${text} for the folder, refs/heads/${text} for the branch`,
    });
  }
  return { kind: 'folder', folder: text };
}

/** Reads and evaluates one side. `project` is the folder of the project that revisions and the working tree mean. */
export async function loadState(state: StateName, project: string): Promise<LoadedState> {
  switch (state.kind) {
    case 'work':
      return { name: 'the working tree', loaded: await loadFolder(project) };
    case 'folder':
      return { name: state.folder, loaded: await loadFolder(await findProject(state.folder)) };
    case 'revision': {
      const { revision } = state;
      const commit = await resolveRevision(project, revision);
      const name = commit.startsWith(revision) ? revision : `${revision} (${commit.slice(0, 7)})`;
      return { name, loaded: await withRevision(project, commit, revision, loadFolder) };
    }
  }
}

async function loadFolder(folder: string): Promise<LoadedProject> {
  const [loaded] = await loadAndEvaluate([folder]);
  return loaded!;
}

/** A side that was read without errors, as the comparison needs it. */
export function toProjectState({ loaded }: LoadedState): ProjectState {
  if (!loaded.project) throw new Error('a project without errors was not read');
  return {
    project: loaded.project,
    notes: loaded.notes,
    imagesOf: (note) =>
      new Map(
        [...loaded.imagesOf(note)].map(([address, { bytes }]) => [
          address,
          createHash('sha256').update(bytes).digest('hex'),
        ]),
      ),
  };
}
