import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { Collector } from '../diagnostics/collector.ts';
import { hasErrors } from '../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { findProject } from '../files/find-project.ts';
import { findRevision, resolveRevision } from '../files/resolve-revision.ts';
import { withRevision } from '../files/unpack-revision.ts';
import type { ProjectState } from '../review/compare-notes.ts';
import { sha256 } from '../review/digest-sources.ts';
import { readResults } from '../review/read-results.ts';
import { resultsPath, withoutDigest, writeResults } from '../review/write-results.ts';
import type { NoteSource } from '../source/note-source.ts';
import { type LoadedProject, loadAndEvaluate } from './load-and-evaluate.ts';
import { documentPathOf, type UnpackedPdf, unpackPdfSource } from './unpack-pdf-source.ts';

/** The word for the working tree of the project. */
const WORKING_TREE = 'WORK';

/** What one side of a comparison names. */
export type StateName =
  | { readonly kind: 'work' }
  | { readonly kind: 'folder'; readonly folder: string }
  | { readonly kind: 'pdf'; readonly path: string }
  | { readonly kind: 'revision'; readonly revision: string };

/** One side of a comparison, read. */
export interface LoadedState {
  /** 'HEAD~1 (3f2c1ab)', 'the working tree' */
  readonly name: string;
  /** What it is, such as that it cannot be another: 'commit 3f2c1ab...', 'PDF with SHA-256 9b1e...', 'folder' */
  readonly identity: string;
  readonly loaded: LoadedProject;
  /** What must be known of it beside what is compared. */
  readonly notices: readonly string[];
}

/**
 * Tells PDFs, folders and revisions apart. What can only be a path is one; else a folder of that name counts.
 *
 * @throws {OutsideFailure} `usage` for a name that is both a folder and a revision
 */
export async function readStateName(text: string): Promise<StateName> {
  if (text === WORKING_TREE) return { kind: 'work' };
  if (/\.pdf$/i.test(text)) return { kind: 'pdf', path: text };
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

/**
 * Reads and evaluates both sides. A PDF holds one note, or one submittal with its notes: of the other side the same document counts, found
 * by its path, else by its number. `findFolder` finds the folder of the project that revisions and the working tree mean.
 *
 * @throws {OutsideFailure} `no-such-note`, and whatever hinders reading
 */
export async function loadStates(
  [before, after]: readonly [StateName, StateName],
  findFolder: () => Promise<string>,
): Promise<readonly [LoadedState, LoadedState]> {
  const load = async (side: StateName, wanted?: LoadedState): Promise<LoadedState> =>
    side.kind === 'pdf' ? loadPdf(side.path) : loadOther(side, findFolder, documentOf(wanted));
  // The PDF comes first, for it says which note counts.
  if (after.kind === 'pdf') {
    const last = await load(after);
    return [await load(before, last), last];
  }
  const first = await load(before);
  return [first, await load(after, before.kind === 'pdf' ? first : undefined)];
}

/** The note or submittal that a PDF holds. */
interface WantedDocument {
  readonly isSubmittal: boolean;
  readonly path: string;
  readonly number: string;
}

function documentOf(state: LoadedState | undefined): WantedDocument | undefined {
  const [submittal] = state?.loaded.submittals ?? [];
  const document = submittal ?? state?.loaded.notes[0];
  if (!document) return undefined;
  const { path, frontMatter } = document.source;
  return { isSubmittal: submittal !== undefined, path, number: frontMatter.number };
}

async function loadOther(
  state: Exclude<StateName, { kind: 'pdf' }>,
  findFolder: () => Promise<string>,
  wanted: WantedDocument | undefined,
): Promise<LoadedState> {
  const put = async (name: string, identity: string, loaded: Promise<LoadedProject>) => ({
    name,
    identity,
    loaded: narrow(await loaded, name, wanted),
    notices: [],
  });
  switch (state.kind) {
    case 'work':
      return put('the working tree', 'working tree', loadFolder(await findFolder(), wanted));
    case 'folder':
      return put(state.folder, 'folder', loadFolder(await findProject(state.folder), wanted));
    case 'revision': {
      const { revision } = state;
      const project = await findFolder();
      const commit = await resolveRevision(project, revision);
      const name = commit.startsWith(revision) ? revision : `${revision} (${commit.slice(0, 7)})`;
      const loaded = withRevision(project, commit, revision, (folder) => loadFolder(folder, wanted));
      return put(name, `commit ${commit}`, loaded);
    }
  }
}

/** All documents of a project; only the wanted one where it lies at its path, so that faults of others do no harm. */
export async function loadFolder(folder: string, wanted: WantedDocument | undefined): Promise<LoadedProject> {
  const note = wanted && join(folder, wanted.path);
  const isThere = note !== undefined && (await stat(note).catch(() => undefined))?.isFile();
  const [loaded] = await loadAndEvaluate([isThere ? note : folder]);
  return loaded!;
}

function narrow(loaded: LoadedProject, name: string, wanted: WantedDocument | undefined): LoadedProject {
  if (!wanted || hasErrors(loaded.diagnostics)) return loaded;
  const isMeant = ({ source }: { readonly source: Pick<NoteSource, 'path' | 'frontMatter'> }): boolean =>
    source.path === wanted.path || source.frontMatter.number === wanted.number;
  if (wanted.isSubmittal) {
    const submittals = loaded.submittals.filter(isMeant);
    const notes = new Set(submittals.flatMap((one) => one.notes.map(({ note }) => note)));
    if (submittals.length > 0)
      return { ...loaded, submittals, notes: loaded.notes.filter((note) => notes.has(note)) };
  } else {
    const notes = loaded.notes.filter(isMeant);
    if (notes.length > 0) return { ...loaded, notes, submittals: [] };
  }
  throw new OutsideFailure(
    'no-such-note',
    `${name} does not hold the ${wanted.isSubmittal ? 'submittal' : 'note'} of the PDF: none lies at ${wanted.path}, none has the number ${wanted.number}`,
    { hint: 'name the state of the project from which the PDF was made' },
  );
}

/** The note or submittal that a PDF holds, with what must be known of it. */
export async function loadPdf(path: string): Promise<LoadedState> {
  const unpacked = await unpackPdfSource(path);
  try {
    const [loaded] = await loadAndEvaluate([documentPathOf(unpacked)]);
    const digest = sha256(unpacked.bytes);
    const notices = agreesWithRecorded(loaded!, unpacked)
      ? []
      : [
          `${path}: its own results are not those that this version computes from its source; these are compared`,
        ];
    return { name: path, identity: `PDF with SHA-256 ${digest}`, loaded: loaded!, notices };
  } finally {
    await unpacked.remove();
  }
}

/** Whether the results that a PDF carries are those of its sources; also true where that cannot be told for its faults. */
function agreesWithRecorded(loaded: LoadedProject, { files }: UnpackedPdf): boolean {
  if (hasErrors(loaded.diagnostics)) return true;
  return loaded.notes.every((note) => {
    const path = resultsPath(note.source.path);
    const file = files.find(({ name }) => name === path);
    if (!file) return false;
    const text = new TextDecoder().decode(file.bytes);
    const fresh = writeResults(note, '', readResults(path, text, new Collector()));
    return withoutDigest(fresh) === withoutDigest(text);
  });
}

/** A side that was read without errors, as the comparison needs it. */
export function toProjectState({ loaded }: LoadedState): ProjectState {
  if (!loaded.project) throw new Error('a project without errors was not read');
  return {
    project: loaded.project,
    notes: loaded.notes,
    submittals: loaded.submittals,
    imagesOf: (note) =>
      new Map([...loaded.imagesOf(note)].map(([address, { bytes }]) => [address, sha256(bytes)])),
  };
}
