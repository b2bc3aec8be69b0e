import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { hasErrors } from '../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { findRevision } from '../files/resolve-revision.ts';
import { gitFailed, runGit } from '../files/run-git.ts';
import { withRevision } from '../files/unpack-revision.ts';
import { digestSources } from '../review/digest-sources.ts';
import { ISSUES_FILE } from '../review/sign-off/issue-register.ts';
import type { Issue } from '../review/sign-off/register-entry.ts';
import type { LoadedProject } from './load-and-evaluate.ts';
import { loadFolder, loadPdf } from './load-state.ts';

/** A note as it was at an earlier time. */
export interface EarlierState {
  /** 'revision A', 'commit 3f2c1ab' */
  readonly name: string;
  readonly issued?: string;
  readonly loaded: LoadedProject;
  readonly note: EvaluatedNote;
}

/** An issue of a note, by itself or within a submittal. */
interface NoteIssue {
  readonly revision: string;
  readonly date: string;
  readonly file: string;
  readonly sourceSha256: string;
}

/**
 * Finds the state of a note since which changes are to be shown.
 *
 * @param revision a revision that was issued, or one of git; the last issue where absent
 * @throws {OutsideFailure} `no-earlier-issue`, `unknown-revision`, `no-such-note`, `issue-not-found`, `earlier-state-at-fault`
 */
export async function findEarlierState(
  loaded: LoadedProject,
  note: EvaluatedNote,
  register: readonly Issue[],
  revision: string | undefined,
): Promise<EarlierState> {
  const { number } = note.source.frontMatter;
  const issues = register.flatMap((issue) => issuesOf(issue, number));
  const issue = revision === undefined ? issues.at(-1) : issues.findLast((one) => one.revision === revision);
  if (issue) return loadIssue(loaded.folder, note, issue);
  if (revision === undefined) {
    throw new OutsideFailure('no-earlier-issue', `${note.source.path}: no revision of ${number} was issued`, {
      hint: 'name a revision of git: --since HEAD~3',
    });
  }
  return loadCommit(loaded.folder, note, revision, issues);
}

function issuesOf(
  { number, revision, date, file, sourceSha256, notes = [] }: Issue,
  wanted: string,
): NoteIssue[] {
  if (number === wanted) return [{ revision, date, file, sourceSha256 }];
  return notes
    .filter((one) => one.number === wanted)
    .map((one) => ({ revision: one.revision, date, file, sourceSha256: one.sourceSha256 }));
}

/** From the issued PDF where it lies in the project, else from the commits in which it was entered in the register. */
async function loadIssue(folder: string, note: EvaluatedNote, issue: NoteIssue): Promise<EarlierState> {
  const name = `revision ${issue.revision}`;
  const isMeant = ({ loaded, before }: Candidate): boolean =>
    digestSources(before, loaded.project!, loaded.sourcesOf(before)) === issue.sourceSha256;
  for await (const loaded of candidates(folder, note, issue)) {
    const before = hasErrors(loaded.diagnostics) ? undefined : noteIn(loaded, note);
    if (before && isMeant({ loaded, before })) return { name, issued: issue.date, loaded, note: before };
  }
  throw new OutsideFailure(
    'issue-not-found',
    `${note.source.path}: the source of ${name} was found neither in ${issue.file} nor in the commits that entered it in ${ISSUES_FILE}`,
    { hint: `put ${issue.file} beside the note, or name a revision of git` },
  );
}

interface Candidate {
  readonly loaded: LoadedProject;
  readonly before: EvaluatedNote;
}

async function* candidates(
  folder: string,
  note: EvaluatedNote,
  issue: NoteIssue,
): AsyncGenerator<LoadedProject> {
  const pdf = join(folder, issue.file);
  if (existsSync(pdf)) yield (await loadPdf(pdf)).loaded;
  if ((await findRevision(folder, 'HEAD').catch(() => undefined)) === undefined) return;
  const { status, out, err } = await runGit(folder, [
    ...['log', '--format=%H', '--reverse', `-S${issue.sourceSha256}`],
    // No program that the repository names has a say.
    ...['--no-textconv', '--no-ext-diff', '--no-show-signature', '--', ISSUES_FILE],
  ]);
  if (status !== 0) throw gitFailed(err);
  for (const entered of out
    .toString()
    .split('\n')
    .filter((line) => line !== '')) {
    // What is issued is committed before it is entered.
    for (const commit of [`${entered}^`, entered]) {
      const found = await findRevision(folder, commit).catch(() => undefined);
      if (found !== undefined)
        yield await withRevision(folder, found, commit, (at) => loadFolder(at, wantedOf(note)));
    }
  }
}

async function loadCommit(
  folder: string,
  note: EvaluatedNote,
  revision: string,
  issues: readonly NoteIssue[],
): Promise<EarlierState> {
  const { path, frontMatter } = note.source;
  const commit = await findRevision(folder, revision);
  if (commit === undefined) {
    const known = issues.map((one) => one.revision).join(', ');
    throw new OutsideFailure(
      'unknown-revision',
      `${path}: '${revision}' is neither an issued revision of ${frontMatter.number} nor one of git`,
      {
        hint:
          known === ''
            ? 'no revision of it was issued: name a commit, a branch or a tag'
            : `issued: ${known}`,
      },
    );
  }
  const loaded = await withRevision(folder, commit, revision, (at) => loadFolder(at, wantedOf(note)));
  const name = `commit ${commit.slice(0, 10)}`;
  const before = noteIn(loaded, note);
  if (hasErrors(loaded.diagnostics)) {
    throw new OutsideFailure('earlier-state-at-fault', `${path}: the source has errors at '${revision}'`, {
      hint: `surgenote compare ${revision} WORK tells them`,
    });
  }
  if (!before) throw new OutsideFailure('no-such-note', `${path}: the note did not exist at '${revision}'`);
  return { name, loaded, note: before };
}

function wantedOf({ source }: EvaluatedNote) {
  return { isSubmittal: false, path: source.path, number: source.frontMatter.number };
}

/** The note by its path, else by its number. */
function noteIn(loaded: LoadedProject, { source }: EvaluatedNote): EvaluatedNote | undefined {
  const { notes } = loaded;
  return (
    notes.find((one) => one.source.path === source.path) ??
    notes.find((one) => one.source.frontMatter.number === source.frontMatter.number)
  );
}
