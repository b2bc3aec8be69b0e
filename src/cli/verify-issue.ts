import { createHash } from 'node:crypto';
import { Collector } from '../diagnostics/collector.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { readWholeFile } from '../files/read-whole-file.ts';
import { listRevisionEnds } from '../pdf/account-for-bytes.ts';
import { type Issue, readIssueRegister } from '../review/sign-off/issue-register.ts';
import type { Finding } from './finding.ts';

const LARGEST_REGISTER = 10_000_000;
const ABOUT = 'issue';

/** A register of issues that the reader has from elsewhere than from the PDF. */
export interface GivenRegister {
  readonly path: string;
  readonly issues: readonly Issue[];
}

/**
 * Reads the register that was given.
 *
 * @throws {OutsideFailure} `not-found`, `too-large`; `register-unreadable` where it is no register of issues
 */
export async function readGivenRegister(path: string | undefined): Promise<GivenRegister | undefined> {
  if (path === undefined) return undefined;
  const collector = new Collector();
  const text = new TextDecoder().decode(await readWholeFile(path, LARGEST_REGISTER));
  const issues = readIssueRegister(path, text, collector);
  if (issues) return { path, issues };
  const faults = collector.list().map(({ place, message }) => `${place.line}: ${message}`);
  throw new OutsideFailure('register-unreadable', `${path} is no register of issues: ${faults.join('; ')}`);
}

/** How many first bytes of the PDF are the print that the register names; undefined where none are. */
export function findRegisteredPrint(pdf: Uint8Array, issue: Issue | undefined): number | undefined {
  const wanted = issue?.unsignedPdfSha256;
  if (wanted === undefined) return undefined;
  return listRevisionEnds(pdf).find(
    (end) => createHash('sha256').update(pdf.subarray(0, end)).digest('hex') === wanted,
  );
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
  const latest = given.issues.filter((issue) => issue.number === number).at(-1)!;
  return latest.revision === revision
    ? { about: ABOUT, state: 'proven', text: `${said}, the latest issue that ${given.path} names` }
    : {
        about: ABOUT,
        state: 'contradicted',
        text: `${said}, superseded by revision ${latest.revision} of ${latest.date}, says ${given.path}`,
      };
}

function wordPurpose({ status }: Issue): string {
  return status.replaceAll('-', ' ');
}
