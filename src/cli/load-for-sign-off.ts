import { basename } from 'node:path';
import { Collector } from '../diagnostics/collector.ts';
import { hasErrors } from '../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { startOf } from '../diagnostics/place.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { listUncommitted } from '../files/list-uncommitted.ts';
import { readIfPresent } from '../files/read-if-present.ts';
import { ALLOWED_SIGNERS_FILE } from '../review/sign-off/allowed-signers.ts';
import { REVOKED_KEYS_FILE } from '../review/sign-off/revoked-keys.ts';
import { signOffPath } from '../review/sign-off/sign-off-file.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { isSubmittalName } from '../source/submittal-source.ts';
import { type LoadedProject, loadAndEvaluate } from './load-and-evaluate.ts';
import { type Recording, recordNote } from './record-results.ts';
import { type ReviewedNote, reviewProject } from './review-notes.ts';
import type { Terminal } from './terminal.ts';

/** One note that somebody wants to sign or issue. */
export interface NoteForSignOff {
  readonly loaded: LoadedProject;
  readonly project: ProjectSource;
  readonly note: EvaluatedNote;
  readonly review: ReviewedNote;
  readonly recording: Recording;
  /** Takes what stands against it; holds already that results are not recorded, or that sources are not committed. */
  readonly collector: Collector;
}

/**
 * Reads and evaluates a note that is to be signed or issued. Undefined where the source is at fault; the terminal says so.
 *
 * @param withRecords whether the sign-off records must be committed too: those of the role before may not be yet while people sign
 * @throws {OutsideFailure} `usage` where the path is not one note, `no-repository` where the project is not under git
 */
export async function loadForSignOff(
  path: string,
  terminal: Terminal,
  { withRecords }: { readonly withRecords: boolean },
): Promise<NoteForSignOff | undefined> {
  if (!path.endsWith('.md')) {
    throw new OutsideFailure('usage', `${path} is not a note`, {
      hint: isSubmittalName(basename(path))
        ? 'a submittal is not signed: its notes are, one by one, and then it is issued'
        : 'name one note, a .md file',
    });
  }
  const [loaded] = await loadAndEvaluate([path], {
    progress: (done, pieces) => terminal.progress(`simulated ${done} of ${pieces} strokes`),
    tell: terminal.err,
  });
  const { project, notes, diagnostics } = loaded!;
  const note = notes[0];
  if (hasErrors(diagnostics) || !project || !note) {
    terminal.diagnostics(diagnostics, loaded!);
    return undefined;
  }
  const collector = new Collector(loaded);
  const recording = await recordNote(loaded!, note, collector);
  const { notes: reviews } = await reviewProject(loaded!, collector);
  if (collector.hasErrors) {
    terminal.diagnostics(collector.list(), collector);
    return undefined;
  }
  const findings = new Collector(collector);
  const review = reviews.get(note)!;
  await refuseUnkept(loaded!, { note, review, recording }, withRecords, findings);
  return { loaded: loaded!, project, note, review, recording, collector: findings };
}

/** The files of the notes on which a note rests, and their sign-off records where these count. */
async function listOthers(
  loaded: LoadedProject,
  { restsOn = [] }: ReviewedNote,
  withRecords: boolean,
): Promise<readonly string[]> {
  const paths = restsOn.map(({ note }) => note.path);
  if (!withRecords) return paths;
  const records = await Promise.all(
    paths.map((path) => readIfPresent(loaded.folder, signOffPath(path), new Collector())),
  );
  return [...paths, ...records.flatMap((file) => file?.path ?? [])];
}

/**
 * Reports that the results of a note are not recorded, or that git does not have what is signed.
 *
 * @param withRecords whether git must have the sign-off records too
 */
export async function refuseUnkept(
  loaded: LoadedProject,
  { note, review, recording }: Pick<NoteForSignOff, 'note' | 'review' | 'recording'>,
  withRecords: boolean,
  collector: Collector,
): Promise<void> {
  const { allowed, revoked } = review.context.signers;
  const records = [
    ...(allowed === undefined ? [] : [ALLOWED_SIGNERS_FILE]),
    ...(revoked.length === 0 ? [] : [REVOKED_KEYS_FILE]),
    ...(withRecords && review.recordsText !== undefined ? [signOffPath(note.source.path)] : []),
    ...(await listOthers(loaded, review, withRecords)),
  ];
  const recorded = [recording, ...recording.tables];
  for (const file of recorded) {
    if (file.recorded === undefined) collector.error('results-missing', startOf(file.path), {});
    else if (file.recorded !== file.fresh) {
      collector.error('refused-sign-off', startOf(file.path), {
        what: 'the recorded results are not those that are computed now',
        hint: `surgenote compile ${note.source.path}, read the difference and commit the file`,
      });
    }
  }
  const missing = new Set(recorded.filter((file) => file.recorded === undefined).map(({ path }) => path));
  const kept = recorded.map(({ path }) => path);
  const paths = [...loaded.sourcesOf(note).map((file) => file.path), ...kept, ...records];
  await refuseUncommitted(
    loaded.folder,
    paths.filter((path) => !missing.has(path)),
    collector,
  );
}

/** Reports files that git does not have as they are. */
export async function refuseUncommitted(
  folder: string,
  paths: readonly string[],
  collector: Collector,
): Promise<void> {
  for (const path of await listUncommitted(folder, paths)) {
    collector.error('refused-sign-off', startOf(path), {
      what: 'git does not have this file as it is now',
      hint: `commit it, so that what is signed is kept: git add ${path} && git commit`,
    });
  }
}
