import { join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { PROJECT_FILE } from '../files/find-project.ts';
import { makeFolders } from '../files/make-folders.ts';
import { makePrivateFolder } from '../files/private-folder.ts';
import { readWholeFile } from '../files/read-whole-file.ts';
import { writeNewFiles } from '../files/write-new-files.ts';
import { foldPath } from '../pdf/attachment-path.ts';
import { LARGEST_FILE } from '../pdf/open-document.ts';
import type { AttachedFile } from '../pdf/read-attachments.ts';
import { type PdfContents, readPdf } from '../pdf/read-pdf.ts';
import { resultsPath } from '../review/write-results.ts';
import { isSubmittalName } from '../source/submittal-source.ts';
import { SOFTWARE } from './software.ts';

/** A PDF of ours, with its source unpacked into a folder for this user alone. */
export interface UnpackedPdf {
  readonly bytes: Uint8Array;
  readonly contents: PdfContents;
  /** The files that the PDF carries, by their paths in the project. */
  readonly files: readonly AttachedFile[];
  /** The temporary folder of the project; it vanishes with `remove`, and when the process ends. Absolute. */
  readonly folder: string;
  /** The note or submittal from which the PDF was made: its path in the project. */
  readonly documentPath: string;
  remove(): Promise<void>;
}

/**
 * Reads a PDF that came from anybody and unpacks the source that it carries, as one project: with one note, or one submittal with its notes, and those on which they rest.
 *
 * @throws {OutsideFailure} `not-found`, `too-large`; `pdf-not-a-pdf`, `pdf-damaged`, `pdf-encrypted`, `pdf-too-large`;
 *   `pdf-foreign` where another program made it; `pdf-attachment` where what it carries is not sound (a path that leaves its
 *   folder, two files of one name, too many or too large files: see `attachment-path.ts`); `pdf-without-source`
 */
export async function unpackPdfSource(path: string): Promise<UnpackedPdf> {
  const bytes = await readWholeFile(path, LARGEST_FILE);
  const contents = await readNamed(path, bytes);
  refuseForeign(path, contents);
  const files = contents.attachments;
  const documentPath = findSubmittal(path, files) ?? findNote(path, files);
  refuseAmbiguous(path, files);
  const { path: temporary, release } = await makePrivateFolder();
  // Beside what a temporary folder holds of its own.
  const folder = join(temporary, 'project');
  try {
    await makeFolders(folder, 0o700);
    await writeNewFiles(
      folder,
      files.map((file) => ({ path: file.name, bytes: file.bytes })),
    );
  } catch (failure) {
    await release();
    throw failure;
  }
  return { bytes, contents, files, folder, documentPath, remove: release };
}

/** The note or submittal of an unpacked PDF as a path that `loadAndEvaluate` takes. */
export function documentPathOf({ folder, documentPath }: UnpackedPdf): string {
  return join(folder, documentPath);
}

/** As `readPdf`; failures name the file. */
async function readNamed(path: string, bytes: Uint8Array): Promise<PdfContents> {
  try {
    return await readPdf(bytes);
  } catch (failure) {
    if (!(failure instanceof OutsideFailure)) throw failure;
    const { code, message, hint } = failure;
    throw new OutsideFailure(code, `${path}: ${message}`, { ...(hint ? { hint } : {}), cause: failure });
  }
}

function refuseForeign(path: string, { information }: PdfContents): void {
  const { Creator: creator } = information;
  if (creator?.startsWith(`${SOFTWARE.name} `)) return;
  const maker = creator?.trim() ? `it says that ${JSON.stringify(creator)} did` : 'it does not say who did';
  throw new OutsideFailure('pdf-foreign', `${path} was not made by ${SOFTWARE.name}: ${maker}`);
}

/** The submittal from which a PDF of ours was made; undefined for the PDF of a note, which carries none. */
function findSubmittal(path: string, files: readonly AttachedFile[]): string | undefined {
  const [submittal, second] = files.filter(({ name }) => isSubmittalName(name));
  if (second) throw unsound(path, `it carries two submittals, ${submittal!.name} and ${second.name}`);
  const isWhole = files.some(({ name }) => name === PROJECT_FILE);
  return isWhole ? submittal?.name : undefined;
}

/** The note from which a PDF of ours was made: the only one, or the one with recorded results. */
function findNote(path: string, files: readonly AttachedFile[]): string {
  const lacks = (what: string): OutsideFailure =>
    new OutsideFailure('pdf-without-source', `${path} does not carry its source: ${what}`, {
      hint: `only a PDF that ${SOFTWARE.name} compiled from a note carries one; printing a PDF anew takes it out`,
    });
  if (files.length === 0) throw lacks('no file is in it');
  if (!files.some(({ name }) => name === PROJECT_FILE)) throw lacks(`${PROJECT_FILE} is missing`);
  const notes = files.filter(({ name }) => name.endsWith('.md'));
  const [note, second] = notes;
  if (!note) throw lacks('the note is missing');
  if (!second) return note.name;
  // Of the notes from which values are taken, the PDF carries no results.
  const recorded = new Set(files.map(({ name }) => name));
  const [own, another] = notes.filter(({ name }) => recorded.has(resultsPath(name)));
  if (own && !another) return own.name;
  const [one, other] = own && another ? [own, another] : [note, second];
  throw unsound(path, `it is not known of which note it is, ${one.name} or ${other.name}`);
}

/** Paths that cannot all be files of one project. */
function refuseAmbiguous(path: string, files: readonly AttachedFile[]): void {
  const taken = new Map(files.map(({ name }) => [foldPath(name), name]));
  for (const { name } of files) {
    const parts = foldPath(name).split('/');
    if (parts.length > 1 && parts.at(-1) === PROJECT_FILE)
      throw unsound(path, `it carries a second project, ${name}`);
    const folder = parts.map((_, i) => parts.slice(0, i).join('/')).find((part) => taken.has(part));
    if (folder !== undefined) throw unsound(path, `${taken.get(folder)} in it is both a file and a folder`);
  }
}

function unsound(path: string, reason: string): OutsideFailure {
  return new OutsideFailure('pdf-attachment', `${path}: The PDF cannot be used: ${reason}.`);
}
