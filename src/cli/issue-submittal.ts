import { Collector } from '../diagnostics/collector.ts';
import { hasErrors } from '../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { startOf } from '../diagnostics/place.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { readIfPresent } from '../files/read-if-present.ts';
import type { Attachment } from '../pdf/attach-files.ts';
import { sha256 } from '../review/digest-sources.ts';
import { ISSUES_FILE } from '../review/sign-off/issue-register.ts';
import { refuseSubmittal } from '../review/sign-off/refuse-submittal.ts';
import type { Issue, IssuedNote } from '../review/sign-off/register-entry.ts';
import { signOffPath } from '../review/sign-off/sign-off-file.ts';
import { concerns } from '../review/sign-off/superseded-notes.ts';
import { findState } from '../source/document-states.ts';
import { withoutUndefined } from '../source/without-undefined.ts';
import { cautionDates } from './caution-dates.ts';
import { chooseIssuer } from './enter-in-register.ts';
import { EXIT } from './exit-status.ts';
import { type IssueOptions, issueDocument } from './issue-document.ts';
import { loadAndEvaluate } from './load-and-evaluate.ts';
import { refuseUncommitted, refuseUnkept } from './load-for-sign-off.ts';
import { digestOfSubmittal, makeSubmittalPage, reviewOf, type SubmittalWork } from './make-submittal-page.ts';
import { type Recording, recordNote } from './record-results.ts';
import { readRegister, reviewProject } from './review-notes.ts';
import { SOFTWARE_NAME } from './software.ts';
import type { Terminal } from './terminal.ts';
import { readDay } from './today.ts';
import { wordIssues } from './word-issues.ts';

/**
 * Issues a submittal. Nobody signs it: every note in it must have its sign-offs, and whoever issues it may sign the entry in the
 * register, which holds the digests of all notes.
 */
export async function issueSubmittal(
  path: string,
  options: IssueOptions,
  terminal: Terminal,
): Promise<number> {
  refuseOptions(options);
  const date = readDay(options.date);
  const found = await loadSubmittal(path, terminal);
  if (!found) return EXIT.sourceWrong;
  const { work, collector } = found;
  const { loaded, submittal } = work;
  const project = loaded.project!;
  const { source } = submittal;
  const review = reviewOf(work);
  for (const refusal of refuseSubmittal(submittal, project, review, date)) {
    collector.error('refused-sign-off', refusal.place ?? startOf(source.path), refusal);
  }
  const taken = work.reviewed.register.find(
    ({ number, notes }) => number === source.frontMatter.number && notes === undefined,
  );
  if (taken) {
    collector.error('refused-sign-off', source.frontMatter.places.get('number') ?? startOf(source.path), {
      what: `${ISSUES_FILE} knows ${taken.number} as a note that was issued on ${taken.date}`,
      hint: 'give the submittal a number of its own',
    });
  }
  if (collector.hasErrors) {
    terminal.diagnostics(collector.list(), collector);
    return EXIT.sourceWrong;
  }
  cautionDates(date, startOf(ISSUES_FILE), undefined, collector);
  terminal.diagnostics(collector.list(), loaded);
  return issueDocument(
    {
      ...{ loaded, date, options, signers: work.reviewed.signers },
      ...{ path: source.path, revision: source.frontMatter.revision },
      issuer: chooseIssuer(options, project.people, undefined),
      issueAs: (file) => makeIssue(work, date, file),
      makePage: async (issue) => {
        const making = new Collector(loaded);
        const page = await makeSubmittalPage(work, { issue }, making);
        terminal.diagnostics(making.list(), making);
        return making.hasErrors ? undefined : page;
      },
      readUnchanged: (printed) => readUnchanged(work, printed),
    },
    terminal,
  );
}

function refuseOptions({ key, by, signatureFields }: IssueOptions): void {
  if (key !== undefined && by === undefined) {
    throw new OutsideFailure('usage', 'nobody is named who issues the submittal', {
      hint: 'name with --by whose key it is; a submittal has nobody who approves it',
    });
  }
  if (signatureFields) {
    throw new OutsideFailure('usage', 'a submittal has no signature fields: its notes are signed', {
      hint: 'leave --signature-fields out',
    });
  }
}

interface SubmittalForIssue {
  readonly work: SubmittalWork;
  /** Takes what stands against it; holds already that results are not recorded, or that sources are not committed. */
  readonly collector: Collector;
}

/** Undefined where the source is at fault; the terminal says so. */
async function loadSubmittal(path: string, terminal: Terminal): Promise<SubmittalForIssue | undefined> {
  const [loaded] = await loadAndEvaluate([path], {
    progress: (done, pieces) => terminal.progress(`simulated ${done} of ${pieces} strokes`),
    tell: terminal.err,
  });
  const { diagnostics, submittals, project } = loaded!;
  const [submittal] = submittals;
  if (hasErrors(diagnostics) || !project || !submittal) {
    terminal.diagnostics(diagnostics, loaded!);
    return undefined;
  }
  const reading = new Collector(loaded);
  const recordings = new Map<EvaluatedNote, Recording>();
  for (const { note } of submittal.notes) recordings.set(note, await recordNote(loaded!, note, reading));
  const reviewed = await reviewProject(loaded!, reading);
  if (reading.hasErrors) {
    terminal.diagnostics(reading.list(), reading);
    return undefined;
  }
  const collector = new Collector(reading);
  await refuseUncommitted(loaded!.folder, [submittal.source.path], collector);
  for (const { note } of submittal.notes) {
    const review = reviewed.notes.get(note)!;
    await refuseUnkept(loaded!, { note, review, recording: recordings.get(note)! }, true, collector);
  }
  const results = new Map([...recordings].map(([note, { fresh }]) => [note, fresh]));
  return { work: { loaded: loaded!, submittal, reviewed, results }, collector };
}

function makeIssue(work: SubmittalWork, date: string, file: string): Issue {
  const { submittal, reviewed, loaded } = work;
  const { number, revision, status, revisions } = submittal.source.frontMatter;
  const last = reviewOf(work).issues.at(-1);
  const notes = submittal.notes.map(({ note }): IssuedNote => {
    const review = reviewed.notes.get(note)!;
    const approval = review.signOffs.find(({ role }) => role === 'approved')!.statement;
    const record = review.records.find(({ statement }) => statement === approval)!;
    return {
      number: note.source.frontMatter.number,
      revision: note.source.frontMatter.revision,
      sourceSha256: review.sourceSha256,
      resultsSha256: review.results.sha256,
      signOffsSha256: sha256(record.text),
    };
  });
  return {
    ...{ number, revision, date, status },
    ...withoutUndefined({ suitability: findState(loaded.project!, status).suitability }),
    reason: revisions.find((row) => row.revision === revision)!.reason,
    ...(last && !last.withdrawal ? { supersedes: last.revision } : {}),
    file,
    sourceSha256: digestOfSubmittal(work),
    resultsSha256: sha256(notes.map(({ resultsSha256 }) => `${resultsSha256}\n`).join('')),
    notes,
    software: SOFTWARE_NAME,
  };
}

/** Of the submittal, its notes and those on which they rest, what is printed must still be so. */
async function readUnchanged(
  { loaded, submittal, reviewed }: SubmittalWork,
  printed: readonly Attachment[],
): Promise<string | undefined> {
  const faults = new Collector();
  const register = await readRegister(loaded.folder, reviewed.signers, faults);
  const refuse = (what: string): OutsideFailure =>
    new OutsideFailure('changed-meanwhile', `nothing was written: while the submittal was printed, ${what}`, {
      hint: 'look at what is there now, and issue again if it is still due',
    });
  if (faults.hasErrors) throw refuse(`${ISSUES_FILE} was changed, and cannot be read`);
  const others = submittal.notes.flatMap(({ note }) => reviewed.notes.get(note)!.restsOn ?? []);
  const paths = new Set([
    ...submittal.notes.map(({ note }) => note.source.path),
    ...others.map(({ note }) => note.path),
  ]);
  for (const path of [...paths].map(signOffPath)) {
    const now = await readIfPresent(loaded.folder, path, faults);
    const carried = printed.find(({ name }) => name === path);
    if (Buffer.compare(now?.bytes ?? NOTHING, carried?.bytes ?? NOTHING) !== 0)
      throw refuse(`${path} was changed`);
  }
  const numbers = new Set([
    submittal.source.frontMatter.number,
    ...submittal.notes.map(({ note }) => note.source.frontMatter.number),
    ...others.map(({ note }) => note.number),
  ]);
  // Another submittal may hold one of the notes.
  const concerned = (issues: readonly Issue[]): string =>
    wordIssues(issues.filter((issue) => concerns(issue, numbers)));
  if (concerned(register.issues) !== concerned(reviewed.register))
    throw refuse(`issues in ${ISSUES_FILE} were entered or changed that concern it`);
  return register.text;
}

const NOTHING = new Uint8Array(0);
