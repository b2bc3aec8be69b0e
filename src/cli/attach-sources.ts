import type { Collector } from '../diagnostics/collector.ts';
import { startOf } from '../diagnostics/place.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { PROJECT_FILE } from '../files/find-project.ts';
import { readBytesIfPresent, readIfPresent } from '../files/read-if-present.ts';
import type { SourceText } from '../files/read-source.ts';
import type { Attachment } from '../pdf/attach-files.ts';
import { foldPath, isPlainPath, MOST_ATTACHED_BYTES } from '../pdf/attachment-path.ts';
import { ALLOWED_SIGNERS_FILE } from '../review/sign-off/allowed-signers.ts';
import { ISSUES_FILE } from '../review/sign-off/issue-register.ts';
import type { Issue } from '../review/sign-off/register-entry.ts';
import type { ReliedOnNote } from '../review/sign-off/relied-on-notes.ts';
import { REVOKED_KEYS_FILE } from '../review/sign-off/revoked-keys.ts';
import { signOffPath } from '../review/sign-off/sign-off-file.ts';
import { writeIssues } from '../review/sign-off/write-register.ts';
import { resultsPath } from '../review/write-results.ts';
import { carriedPagePath } from './carried-page.ts';
import type { LoadedProject } from './load-and-evaluate.ts';
import { recordSchedules } from './record-results.ts';

/** What of the review of a note goes into its PDF. */
export interface AttachedReview {
  readonly issues: readonly Issue[];
  readonly restsOn?: readonly ReliedOnNote[];
}

/** The rest of what a PDF may carry is for its page, which holds the text of drawings once more. */
const MOST_SOURCE_BYTES = MOST_ATTACHED_BYTES / 2;

/**
 * What the PDF of a note carries beside its page, so that the note can be recomputed from the PDF alone: the files on which it rests, its
 * recorded results and, where there are some, its sign-off records and issues; the same of the notes on which it rests, but for their
 * recorded results, by which the note itself is known among them. Each by its path in the project. Reports files that cannot be
 * carried.
 */
export async function attachSources(
  loaded: LoadedProject,
  note: EvaluatedNote,
  results: string,
  { issues, restsOn = [] }: AttachedReview,
  collector: Collector,
): Promise<Attachment[]> {
  const { path } = note.source;
  const attachments = loaded.sourcesOf(note).map((file): Attachment => {
    const { path: name, bytes } = file;
    if (name === PROJECT_FILE) return { ...yaml('Project and register'), name, bytes };
    if (loaded.project?.includes?.includes(name)) return { ...includedRegister(name), name, bytes };
    if (name === path) return { ...NOTE, name, bytes };
    return {
      name,
      bytes,
      mimeType: file.mimeType ?? 'application/octet-stream',
      description: 'Used by the note',
      relationship: 'Data',
    };
  });
  attachments.push({
    ...yaml('Recorded results'),
    name: resultsPath(path),
    bytes: new TextEncoder().encode(results),
    relationship: 'Data',
  });
  for (const { path: name, fresh } of await recordSchedules(loaded, note, collector)) {
    attachments.push({
      name,
      bytes: new TextEncoder().encode(fresh),
      mimeType: 'text/csv',
      description: 'Results of all rows of a schedule',
      relationship: 'Data',
    });
  }
  const records: SourceText[] = [];
  for (const one of [path, ...restsOn.map((other) => other.note.path)]) {
    const signoff = await readIfPresent(loaded.folder, signOffPath(one), collector);
    if (!signoff) continue;
    records.push(signoff);
    const { bytes } = signoff;
    attachments.push({ ...yaml('Sign-off records'), name: signoff.path, bytes, relationship: 'Data' });
  }
  const signed = new Set(records.map((one) => one.path));
  attachments.push(...attachOthers(loaded, restsOn, signed, new Set(attachments.map(({ name }) => name))));
  const signers = await readIfPresent(loaded.folder, ALLOWED_SIGNERS_FILE, collector);
  if (records.length > 0 && signers) {
    attachments.push({
      name: signers.path,
      bytes: signers.bytes,
      mimeType: 'text/plain',
      description: 'Whose key is whose, for the signatures of the sign-off records',
      relationship: 'Data',
    });
  }
  const authorities = await readTimeStampCertificates(loaded, collector);
  if (authorities) {
    attachments.push({
      name: authorities.path,
      bytes: authorities.bytes,
      mimeType: 'application/x-pem-file',
      description: 'Certificates to which time stamps of the project must lead',
      relationship: 'Data',
    });
  }
  const revoked = await readBytesIfPresent(loaded.folder, REVOKED_KEYS_FILE, collector);
  if (records.length > 0 && revoked) {
    attachments.push({
      name: REVOKED_KEYS_FILE,
      bytes: revoked,
      mimeType: 'application/octet-stream',
      description: 'Keys that were revoked, for the signatures of the sign-off records',
      relationship: 'Data',
    });
  }
  attachments.push(...attachIssues([...restsOn.flatMap((other) => other.issues), ...issues]));
  reportUnfit(attachments, path, collector);
  return attachments;
}

/**
 * The notes on which a note rests, with what they need to be recomputed. Their images count for their sign-offs alone.
 *
 * @param signed the files of sign-off records that there are
 * @param attached what is attached already
 */
function attachOthers(
  loaded: LoadedProject,
  restsOn: readonly ReliedOnNote[],
  signed: ReadonlySet<string>,
  attached: ReadonlySet<string>,
): readonly Attachment[] {
  const files = new Map<string, Attachment>();
  for (const { note } of restsOn) {
    const other = [...loaded.notes, ...loaded.others].find(({ source }) => source.path === note.path)!;
    for (const { path, bytes, mimeType } of loaded.sourcesOf(other)) {
      const isNeeded = signed.has(signOffPath(note.path)) || !mimeType?.startsWith('image/');
      if (attached.has(path) || !isNeeded) continue;
      files.set(
        path,
        path === note.path
          ? {
              ...NOTE,
              description: 'A note from which values are taken',
              name: path,
              bytes,
              relationship: 'Data',
            }
          : {
              name: path,
              bytes,
              mimeType: mimeType ?? 'application/octet-stream',
              description: 'Used by a note from which values are taken',
              relationship: 'Data',
            },
      );
    }
  }
  return [...files.values()];
}

/** The issues that belong to a document; nothing where there are none. */
export function attachIssues(issues: readonly Issue[]): readonly Attachment[] {
  const register = writeIssues(issues);
  if (register === undefined) return [];
  const bytes = new TextEncoder().encode(register);
  return [{ ...yaml('Issues of this document'), name: ISSUES_FILE, bytes, relationship: 'Data' }];
}

/** The file that project.yaml names for its time stamps */
async function readTimeStampCertificates({ project, folder }: LoadedProject, collector: Collector) {
  const path = project?.timeStamps?.certificates;
  return path === undefined ? undefined : readIfPresent(folder, path, collector);
}

const NOTE = {
  mimeType: 'text/markdown',
  description: 'The note from which this document was made',
  relationship: 'Source',
} as const;

function yaml(description: string): Pick<Attachment, 'mimeType' | 'description' | 'relationship'> {
  return { mimeType: 'application/yaml', description, relationship: 'Source' };
}

function includedRegister(name: string): Pick<Attachment, 'mimeType' | 'description' | 'relationship'> {
  const table = /\.csv$/i.test(name) ? { mimeType: 'text/csv' } : {};
  return { ...yaml('Register of the project'), ...table };
}

/** Reports files that a PDF cannot carry; `document` is the note or submittal. */
export function reportUnfit(
  attachments: readonly Attachment[],
  document: string,
  collector: Collector,
): void {
  const taken = new Map<string, string>();
  // The page that the PDF carries, too, has a name that no source may have.
  for (const { name } of [...attachments, { name: carriedPagePath(document) }]) {
    if (!isPlainPath(name)) collector.error('name-not-portable', startOf(document), { name });
    const other = taken.get(foldPath(name));
    if (other !== undefined) collector.error('names-differ-by-case', startOf(document), { name, other });
    taken.set(foldPath(name), name);
  }
  const size = attachments.reduce((sum, { bytes }) => sum + bytes.length, 0);
  if (size <= MOST_SOURCE_BYTES) return;
  collector.error('source-too-large', startOf(document), { size, most: MOST_SOURCE_BYTES });
}
