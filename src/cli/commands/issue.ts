import { stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { startOf } from '../../diagnostics/place.ts';
import { replaceFiles } from '../../files/replace-file.ts';
import { sha256 } from '../../review/digest-sources.ts';
import { appendIssue, ISSUES_FILE, type Issue } from '../../review/sign-off/issue-register.ts';
import { refuseIssue } from '../../review/sign-off/refuse-issue.ts';
import type { Role } from '../../review/sign-off/roles.ts';
import { EXIT } from '../exit-status.ts';
import { loadForSignOff, type NoteForSignOff } from '../load-for-sign-off.ts';
import { makePages } from '../make-pages.ts';
import { printPages } from '../print-pages.ts';
import { SOFTWARE_NAME } from '../software.ts';
import type { Terminal } from '../terminal.ts';
import { readDay } from '../today.ts';

export interface IssueOptions {
  readonly date?: string;
  readonly out?: string;
  readonly browser?: string;
  readonly signatureFields?: boolean;
}

/** Prints the formal PDF of a note and enters it in the register of issues; both are written, or neither. */
export async function issueCommand(path: string, options: IssueOptions, terminal: Terminal): Promise<number> {
  const date = readDay(options.date);
  const found = await loadForSignOff(path, terminal);
  if (!found) return EXIT.sourceWrong;
  const { note, project, loaded, review, collector, recording } = found;
  for (const refusal of refuseIssue(note, project, review, date)) {
    collector.error('refused-sign-off', refusal.place ?? startOf(note.source.path), refusal);
  }
  if (collector.hasErrors) {
    terminal.diagnostics(collector.list(), loaded.textOf);
    return EXIT.sourceWrong;
  }
  const target = join(options.out ?? loaded.folder, pdfName(found));
  await refuseExisting(target);
  const issue = makeIssue(found, date, basename(target));
  const pages = await makePages([loaded], new Map([[note, recording.fresh]]), terminal, {
    issue,
    ...(options.signatureFields ? { signatureFields: true } : {}),
  });
  if (!pages) return EXIT.sourceWrong;
  const [printed] = await printPages(pages, options.browser ? { browser: options.browser } : {}, terminal);
  const { pdf, browser } = printed!;
  const entered = { ...issue, browser, unsignedPdfSha256: sha256(pdf) };
  const register = appendIssue(review.registerText, entered);
  const files = [
    { path: target, bytes: pdf },
    { path: join(loaded.folder, ISSUES_FILE), bytes: new TextEncoder().encode(register) },
  ];
  await replaceFiles(files);
  for (const file of files) terminal.out(`wrote ${file.path}`);
  return EXIT.done;
}

/** '003-intake-arresters.rev-B.pdf' */
function pdfName({ note: { source } }: NoteForSignOff): string {
  const revision = source.frontMatter.revision.replace(/[^\p{L}\p{N}-]+/gu, '-');
  return `${basename(source.path, '.md')}.rev-${revision}.pdf`;
}

async function refuseExisting(target: string): Promise<void> {
  const exists = await stat(target).then(
    () => true,
    () => false,
  );
  if (!exists) return;
  throw new OutsideFailure('already-there', `${target} is there already, and an issued PDF is not replaced`, {
    hint: 'name another folder with --out',
  });
}

function makeIssue({ note, review }: NoteForSignOff, date: string, file: string): Issue {
  const { frontMatter } = note.source;
  const signed = (role: Role): string => {
    const { name, date: day } = review.signOffs.find((one) => one.role === role)!.statement!;
    return `${name}, ${day}`;
  };
  return {
    number: frontMatter.number,
    revision: frontMatter.revision,
    date,
    status: frontMatter.status,
    reason: frontMatter.revisions.find(({ revision }) => revision === frontMatter.revision)!.reason,
    prepared: signed('prepared'),
    checked: signed('checked'),
    approved: signed('approved'),
    file,
    sourceSha256: review.sourceSha256,
    resultsSha256: review.results.sha256,
    software: SOFTWARE_NAME,
  };
}
