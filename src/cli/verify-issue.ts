import { createHash } from 'node:crypto';
import { Collector } from '../diagnostics/collector.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { reportDiagnostics } from '../diagnostics/report-diagnostics.ts';
import { readWholeFile } from '../files/read-whole-file.ts';
import { listRevisionEnds } from '../pdf/account-for-bytes.ts';
import { type IssueRegister, parseIssueRegister } from '../review/sign-off/issue-register.ts';
import type { Issue } from '../review/sign-off/register-entry.ts';
import type { Finding } from './finding.ts';

const LARGEST_REGISTER = 10_000_000;
const ABOUT = 'issue';

/** A register of issues that the reader has from elsewhere than from the PDF. */
export interface GivenRegister extends IssueRegister {
  readonly path: string;
  readonly text: string;
}

/**
 * Reads the register that was given. That it is not as it was written is no failure: `verifyRegister` says so.
 *
 * @throws {OutsideFailure} `not-found`, `too-large`; `register-unreadable` where it is no register of issues
 */
export async function readGivenRegister(path: string | undefined): Promise<GivenRegister | undefined> {
  if (path === undefined) return undefined;
  const collector = new Collector();
  const text = new TextDecoder().decode(await readWholeFile(path, LARGEST_REGISTER));
  const register = parseIssueRegister(path, text, collector);
  if (register) return { path, text, ...register };
  const faults = reportDiagnostics(collector.list(), collector).map(
    ({ position, message }) => `${position.line}: ${message}`,
  );
  throw new OutsideFailure('register-unreadable', `${path} is no register of issues: ${faults.join('; ')}`);
}

/** How many first bytes of the PDF are the print that the register names; undefined where none are. */
export function findRegisteredPrint(pdf: Uint8Array, issue: Issue | undefined): number | undefined {
  const wanted = issue?.unsignedPdfSha256;
  if (wanted === undefined) return undefined;
  // Each byte is digested once, however often the file says that it ends.
  const digest = createHash('sha256');
  let from = 0;
  return listRevisionEnds(pdf).find((end) => {
    digest.update(pdf.subarray(from, end));
    from = end;
    return digest.copy().digest('hex') === wanted;
  });
}

export function findIssue(issues: readonly Issue[], number: string, revision: string): Issue | undefined {
  return issues.find((issue) => issue.number === number && issue.revision === revision);
}

/**
 * Whether the revision was issued, for what, and whether it is the latest. The copy of the register in the PDF knows of no later
 * issue and was written by its maker: only a register from elsewhere proves anything.
 *
 * @param carried the issues of this note that the PDF itself names
 * @param printLength how many first bytes are the print that the given register names
 */
export function verifyIssue(
  { number, revision }: { readonly number: string; readonly revision: string },
  carried: readonly Issue[],
  given: GivenRegister | undefined,
  printLength: number | undefined,
): Finding {
  const own = findIssue(carried, number, revision);
  if (given === undefined) {
    const text = own
      ? `issued on ${own.date} (${wordPurpose(own)}), as the PDF itself says; whether that is so, and whether it is the latest issue, is not known: --register FILE`
      : 'not issued: the PDF names no issue of this revision';
    return { about: ABOUT, state: 'not proven', text };
  }
  const registered = findIssue(given.issues, number, revision);
  if (!registered) {
    return {
      about: ABOUT,
      state: 'contradicted',
      text: `${given.path} knows no issue of revision ${revision}`,
    };
  }
  if (registered.unsignedPdfSha256 === undefined) {
    const text = `${given.path} says that revision ${revision} was issued, and not as which PDF: it is a copy out of a PDF, not the register of the issuer`;
    return { about: ABOUT, state: 'not proven', text };
  }
  if (printLength === undefined) {
    const text = `${given.path} names another PDF as revision ${revision}`;
    return { about: ABOUT, state: 'contradicted', text };
  }
  const said = `issued on ${registered.date} (${wordPurpose(registered)})`;
  const contradict = (text: string): Finding => ({ about: ABOUT, state: 'contradicted', text });
  const differs = compare(registered, carried, { number, revision });
  if (differs !== undefined) return contradict(`${said}, says ${given.path}, and ${differs}`);
  const { withdrawal } = registered;
  if (withdrawal) {
    return contradict(
      `${said}, withdrawn on ${withdrawal.date} (${withdrawal.withdrawn}), says ${given.path}`,
    );
  }
  const latest = given.issues.filter((issue) => issue.number === number).at(-1)!;
  if (latest.revision !== revision) {
    return contradict(
      `${said}, superseded by revision ${latest.revision} of ${latest.date}, says ${given.path}`,
    );
  }
  const last = given.entries.at(-1)!.entry.date;
  const text = `${said}, current as far as ${given.path} knows, whose last entry is of ${last}`;
  return given.faults.length > 0
    ? { about: ABOUT, state: 'not proven', text: `${text}; but that register is not as it was written` }
    : { about: ABOUT, state: 'proven', text };
}

/** What the register says of the issue otherwise than the copy that the PDF carries; undefined where nothing. */
function compare(
  registered: Issue,
  carried: readonly Issue[],
  { number, revision }: { readonly number: string; readonly revision: string },
): string | undefined {
  const own = findIssue(carried, number, revision);
  if (!own) return 'the PDF itself names no such issue';
  const differs = TOLD.filter((key) => own[key] !== registered[key]);
  const [key] = differs;
  if (key === undefined) return undefined;
  return `the PDF itself says otherwise: ${LABELS[key]} ${own[key] ?? 'none'}, not ${registered[key] ?? 'none'}`;
}

/** What both have, in words. */
const LABELS = {
  date: 'day of issue',
  status: 'purpose of issue',
  suitability: 'suitability',
  prepared: 'prepared by',
  checked: 'checked by',
  approved: 'approved by',
  sourceSha256: 'SHA-256 of the source',
  resultsSha256: 'SHA-256 of the results',
  signOffsSha256: 'SHA-256 of the sign-offs',
} as const;
const TOLD = Object.keys(LABELS) as readonly (keyof typeof LABELS)[];

function wordPurpose({ status, suitability }: Issue): string {
  return [status.replaceAll('-', ' '), ...(suitability === undefined ? [] : [suitability])].join(', ');
}
