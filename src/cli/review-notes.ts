import type { Collector } from '../diagnostics/collector.ts';
import { startOf } from '../diagnostics/place.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { readBytesIfPresent, readIfPresent } from '../files/read-if-present.ts';
import type { SourceText } from '../files/read-source.ts';
import { digestResults, type ResultsDigest } from '../review/digest-results.ts';
import { digestSources, digestSourcesEarlier } from '../review/digest-sources.ts';
import { ALLOWED_SIGNERS_FILE, readAllowedSigners } from '../review/sign-off/allowed-signers.ts';
import { ISSUES_FILE, readIssueRegister } from '../review/sign-off/issue-register.ts';
import { judgeRegister } from '../review/sign-off/judge-register.ts';
import { judgeSignOffs, type SignOffContext } from '../review/sign-off/judge-sign-offs.ts';
import type { SignerLists } from '../review/sign-off/judge-signature.ts';
import { type NoteReview, reviewNote } from '../review/sign-off/note-review.ts';
import type { PlacedIssue } from '../review/sign-off/register-entry.ts';
import { listReliedOn, type ReliedOnNote } from '../review/sign-off/relied-on-notes.ts';
import { REVOKED_KEYS_FILE, type RevokedKeys, readRevokedKeys } from '../review/sign-off/revoked-keys.ts';
import { readSignOffFile, type SignOffRecord, signOffPath } from '../review/sign-off/sign-off-file.ts';
import type { LoadedProject } from './load-and-evaluate.ts';
import { SOFTWARE_NAME } from './software.ts';

/** A note with what was read of its sign-off, for those who are going to add to it. */
export interface ReviewedNote extends NoteReview {
  /** Of everything that the note rests on. */
  readonly sourceSha256: string;
  readonly results: ResultsDigest;
  /** What its sign-offs were held against. */
  readonly context: SignOffContext;
  readonly records: readonly SignOffRecord[];
  /** The text of the file of records; undefined where there is none. */
  readonly recordsText: string | undefined;
  /** That file as it was read; null where there is none. */
  readonly recordsBytes: Uint8Array | null;
}

/** Lists that a reader has from elsewhere. */
export interface OwnLists {
  /** Instead of the list of the project. */
  readonly signers?: SignersText;
  /** Beside that of the project. */
  readonly revoked?: RevokedKeys;
}

/** A file of allowed signers, from wherever it comes. */
export interface SignersText {
  readonly path: string;
  readonly text: string;
}

/** How the notes of a project stand, and the issues in its register. */
export interface ReviewedProject {
  readonly notes: ReadonlyMap<EvaluatedNote, ReviewedNote>;
  readonly register: readonly PlacedIssue[];
  readonly signers: SignerLists;
}

/**
 * Judges the sign-offs of the notes of a project against their sources and results as they are now. Files that are at fault
 * are errors in the collector, void sign-offs are cautions.
 *
 * @param own whose keys are allowed, and which were revoked, by a reader's own lists
 */
export async function reviewProject(
  loaded: LoadedProject,
  collector: Collector,
  own: OwnLists = {},
): Promise<ReviewedProject> {
  const { project, folder } = loaded;
  if (!project) throw new Error('a note was evaluated without its project');
  const signers = await readSignerLists(folder, own, collector);
  const register = await readRegister(folder, signers, collector);
  const all = new Map<string, { readonly note: EvaluatedNote; readonly review: ReviewedNote }>();
  const asked = new Set(loaded.notes);
  for (const note of [...loaded.notes, ...loaded.others]) {
    const { frontMatter, path } = note.source;
    const { file: recordsFile, records } = await readRecords(folder, path, collector);
    const sourceSha256 = digestSources(note, project, loaded.sourcesOf(note));
    const results = digestResults(note);
    const context: SignOffContext = {
      frontMatter,
      people: project.people,
      sourceSha256,
      earlierSourceSha256: digestSourcesEarlier(note, project, loaded.sourcesOf(note)),
      results,
      signers,
      software: SOFTWARE_NAME,
    };
    const signOffs = judgeSignOffs(records, context);
    for (const { role, state, reason, statement } of signOffs) {
      if (!asked.has(note) || state !== 'void' || !statement || reason === undefined) continue;
      const place = records.findLast((record) => record.statement === statement)?.place ?? startOf(path);
      collector.caution('sign-off-void', place, { role, name: statement.name, reason });
    }
    const review = {
      ...reviewNote(frontMatter, signOffs, register.issues),
      sourceSha256,
      results,
      context,
      records,
      recordsText: recordsFile?.text,
      recordsBytes: recordsFile?.bytes ?? null,
    };
    all.set(path, { note, review });
  }
  const notes = new Map(
    loaded.notes.map((note) => {
      const restsOn = listReliedOn(note, (path) => all.get(path));
      for (const other of restsOn) cautionOther(other, collector);
      return [note, { ...all.get(note.source.path)!.review, restsOn }];
    }),
  );
  return { notes, register: register.issues, signers };
}

/** A value is worth what the note is worth from which it comes. */
function cautionOther({ note, state, place, through }: ReliedOnNote, collector: Collector): void {
  if (state.sound) return;
  const { number, revision } = note;
  collector.caution('other-note-not-valid', place, { number, revision, state: state.words, through });
}

/** Whose keys may sign in a project, and which were revoked. */
export async function readSignerLists(
  folder: string,
  own: OwnLists,
  collector: Collector,
): Promise<SignerLists> {
  const file = own.signers ?? (await readIfPresent(folder, ALLOWED_SIGNERS_FILE, collector));
  const bytes = await readBytesIfPresent(folder, REVOKED_KEYS_FILE, collector);
  const revoked = bytes && readRevokedKeys(bytes);
  if (typeof revoked === 'string') {
    collector.error('revoked-keys', startOf(REVOKED_KEYS_FILE), { reason: revoked });
  }
  return {
    allowed: file && readAllowedSigners(file.path, file.text, collector),
    revoked: [revoked, own.revoked].filter((list) => typeof list === 'object'),
  };
}

/** The register of issues of a project, as it is now. */
export async function readRegister(
  folder: string,
  signers: SignerLists,
  collector: Collector,
): Promise<{ text: string | undefined; issues: readonly PlacedIssue[] }> {
  const file = await readIfPresent(folder, ISSUES_FILE, collector);
  const register = file && readIssueRegister(file.path, file.text, collector);
  for (const { entry, place, verdict } of judgeRegister(register?.entries ?? [], signers)) {
    if (verdict === undefined || verdict.held) continue;
    const { number, revision } = entry;
    const data = { number, revision, reason: verdict.reason };
    // A key that was revoked or taken off the list later must not keep the project from being compiled.
    if (verdict.fingerprint !== undefined) collector.caution('register-signer', place, data);
    else collector.error('register-signature', place, data);
  }
  return { text: file?.text, issues: register?.issues ?? [] };
}

async function readRecords(
  folder: string,
  note: string,
  collector: Collector,
): Promise<{ file: SourceText | undefined; records: readonly SignOffRecord[] }> {
  const file = await readIfPresent(folder, signOffPath(note), collector);
  const records = file && readSignOffFile(file.path, file.text, collector);
  return { file, records: records ?? [] };
}
