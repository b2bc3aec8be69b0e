import { basename } from 'node:path';
import { Collector } from '../../diagnostics/collector.ts';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { startOf } from '../../diagnostics/place.ts';
import { readIfPresent } from '../../files/read-if-present.ts';
import { signatureKindOf } from '../../page/ink-signatures-view.ts';
import type { Attachment } from '../../pdf/attach-files.ts';
import { sha256 } from '../../review/digest-sources.ts';
import { ISSUES_FILE } from '../../review/sign-off/issue-register.ts';
import { refuseIssue } from '../../review/sign-off/refuse-issue.ts';
import type { Issue } from '../../review/sign-off/register-entry.ts';
import type { Role } from '../../review/sign-off/roles.ts';
import { signOffPath } from '../../review/sign-off/sign-off-file.ts';
import { findState } from '../../source/document-states.ts';
import { isSubmittalName } from '../../source/submittal-source.ts';
import { withoutUndefined } from '../../source/without-undefined.ts';
import { cautionDates } from '../caution-dates.ts';
import { chooseIssuer } from '../enter-in-register.ts';
import { EXIT } from '../exit-status.ts';
import { type IssueOptions, type IssueOrder, issueDocument } from '../issue-document.ts';
import { issueSubmittal } from '../issue-submittal.ts';
import { loadForSignOff, type NoteForSignOff } from '../load-for-sign-off.ts';
import { makePages } from '../make-pages.ts';
import { readRegister } from '../review-notes.ts';
import { SOFTWARE_NAME } from '../software.ts';
import type { Terminal } from '../terminal.ts';
import { readDay } from '../today.ts';
import { wordIssues } from '../word-issues.ts';

/** Prints the formal PDF of a note or submittal and enters it in the register of issues; both are written, or neither. */
export function issueCommand(path: string, options: IssueOptions, terminal: Terminal): Promise<number> {
  const issue = isSubmittalName(basename(path)) ? issueSubmittal : issueNote;
  return issue(path, options, terminal);
}

async function issueNote(path: string, options: IssueOptions, terminal: Terminal): Promise<number> {
  const date = readDay(options.date);
  const found = await loadForSignOff(path, terminal, { withRecords: true });
  if (!found) return EXIT.sourceWrong;
  const { note, project, loaded, review, collector, recording } = found;
  for (const refusal of refuseIssue(note, project, review, date)) {
    collector.error('refused-sign-off', refusal.place ?? startOf(note.source.path), refusal);
  }
  if (collector.hasErrors) {
    terminal.diagnostics(collector.list(), collector);
    return EXIT.sourceWrong;
  }
  if (options.signatureFields && signatureKindOf(note.source.frontMatter, project) === 'ink') {
    throw new OutsideFailure(
      'usage',
      'the note is signed by hand on the print, and has no signature fields',
      {
        hint: 'leave --signature-fields out, or write signatures: keys into the front matter',
      },
    );
  }
  cautionDates(date, startOf(ISSUES_FILE), undefined, collector);
  terminal.diagnostics(collector.list(), loaded);
  const order: IssueOrder = {
    ...{ loaded, date, options, signers: review.context.signers },
    ...{ path: note.source.path, revision: note.source.frontMatter.revision },
    issuer: chooseIssuer(options, project.people, note.source.frontMatter.approved),
    issueAs: (file) => makeIssue(found, date, file),
    makePage: async (issue) => {
      const fields = options.signatureFields ? { signatureFields: true } : {};
      const results = new Map([[note, recording.fresh]]);
      const pages = await makePages([loaded], results, terminal, { issue, ...fields });
      return pages?.notes[0];
    },
    readUnchanged: (printed) => readUnchanged(found, printed),
  };
  return issueDocument(order, terminal);
}

/**
 * The register of issues as it is after printing. Others may have entered issues of other notes meanwhile; of this one and of those on
 * which it rests, what is printed must still be so.
 */
async function readUnchanged(
  { loaded, note, review }: NoteForSignOff,
  printed: readonly Attachment[],
): Promise<string | undefined> {
  const { number, revision } = note.source.frontMatter;
  const faults = new Collector();
  const register = await readRegister(loaded.folder, review.context.signers, faults);
  const signOffs = await readIfPresent(loaded.folder, signOffPath(note.source.path), faults);
  const own = register.issues.filter((issue) => issue.number === number);
  const refuse = (what: string): OutsideFailure =>
    new OutsideFailure('changed-meanwhile', `nothing was written: while the note was printed, ${what}`, {
      hint: 'look at what is there now, and issue again if it is still due',
    });
  if (faults.hasErrors) throw refuse(`${ISSUES_FILE} or the sign-offs were changed, and cannot be read`);
  if (own.some((issue) => issue.revision === revision)) {
    throw refuse(`another run entered revision ${revision} of ${number} in ${ISSUES_FILE}`);
  }
  if (wordIssues(own) !== wordIssues(review.issues))
    throw refuse(`the issues of ${number} in ${ISSUES_FILE} were changed`);
  if (Buffer.compare(signOffs?.bytes ?? NOTHING, review.recordsBytes ?? NOTHING) !== 0) {
    throw refuse('its sign-offs were changed');
  }
  for (const { note: other, issues } of review.restsOn ?? []) {
    const { path, number } = other;
    const now = await readIfPresent(loaded.folder, signOffPath(path), faults);
    const carried = printed.find(({ name }) => name === signOffPath(path));
    const same = Buffer.compare(now?.bytes ?? NOTHING, carried?.bytes ?? NOTHING) === 0;
    const listed = register.issues.filter((issue) => issue.number === number);
    if (!same || wordIssues(listed) !== wordIssues(issues))
      throw refuse(`sign-offs or issues of ${number}, on which it rests, were changed`);
  }
  return register.text;
}

const NOTHING = new Uint8Array(0);

function makeIssue({ note, project, review }: NoteForSignOff, date: string, file: string): Issue {
  const { frontMatter } = note.source;
  const statementOf = (role: Role) => review.signOffs.find((one) => one.role === role)!.statement!;
  const signed = (role: Role): string => `${statementOf(role).name}, ${statementOf(role).date}`;
  const approval = review.records.find(({ statement }) => statement === statementOf('approved'))!;
  const last = review.issues.at(-1);
  return {
    number: frontMatter.number,
    revision: frontMatter.revision,
    date,
    status: frontMatter.status,
    ...withoutUndefined({ suitability: findState(project, frontMatter.status).suitability }),
    reason: frontMatter.revisions.find(({ revision }) => revision === frontMatter.revision)!.reason,
    prepared: signed('prepared'),
    checked: signed('checked'),
    approved: signed('approved'),
    file,
    ...(last && !last.withdrawal ? { supersedes: last.revision } : {}),
    sourceSha256: review.sourceSha256,
    resultsSha256: review.results.sha256,
    signOffsSha256: sha256(approval.text),
    software: SOFTWARE_NAME,
  };
}
