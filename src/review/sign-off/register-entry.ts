import type { Place } from '../../diagnostics/place.ts';
import type { Role } from './roles.ts';

/** What every entry of the register says. */
interface Entered {
  /** Document number. */
  readonly number: string;
  readonly revision: string;
  /** Day of the entry, ISO 8601. */
  readonly date: string;
  readonly software: string;
  /** Who made the entry: key in project.yaml, name, and name in lists of signers. Absent in entries up to version 0.2.0. */
  readonly by?: string;
  readonly name?: string;
  readonly principal?: string;
  /** A signature of this kind belongs to the entry: one that was taken away is noticed. */
  readonly signed?: 'ssh';
}

/** A note as it was issued within a submittal. */
export interface IssuedNote {
  readonly number: string;
  readonly revision: string;
  readonly sourceSha256: string;
  readonly resultsSha256: string;
  /** Of the statement that approves the note. */
  readonly signOffsSha256: string;
}

/** A revision of a note, or of a submittal, that was issued. */
export interface Issue extends Entered {
  /** Purpose of issue. */
  readonly status: string;
  /** The project's code for what the document may be used for. */
  readonly suitability?: string;
  readonly reason: string;
  /** The revision that was current until then. */
  readonly supersedes?: string;
  /** Names with the days on which they signed; absent for a submittal, of which the notes are signed. */
  readonly prepared?: string;
  readonly checked?: string;
  readonly approved?: string;
  /** Of a submittal alone: what is in it, in its order. */
  readonly notes?: readonly IssuedNote[];
  /** Name of the PDF. */
  readonly file: string;
  readonly sourceSha256: string;
  readonly resultsSha256: string;
  /** Of the statement that approves, which follows the others. */
  readonly signOffsSha256?: string;
  /**
   * The browser that printed it, and the SHA-256 of the PDF before signatures were put into it: what another compilation must
   * give again. Absent in the copy of the register that this PDF itself carries.
   */
  readonly browser?: string;
  readonly unsignedPdfSha256?: string;
  /** Where a later entry withdraws it. */
  readonly withdrawal?: Withdrawal;
}

/** An entry by which an issue counts no more, without another that takes its place. */
export interface Withdrawal extends Entered {
  /** Why. */
  readonly withdrawn: string;
}

export interface PlacedIssue extends Issue {
  readonly place: Place;
}

/** One entry as it stands in the file. */
export interface RegisterEntry {
  readonly entry: Issue | Withdrawal;
  readonly place: Place;
  /** Its lines without signature and time stamp: what is signed. */
  readonly text: string;
  /** OpenSSH signature, armoured. */
  readonly signature?: string;
  /** RFC 3161 time-stamp token over `stampedBytes`, its DER in base64. */
  readonly timeStamp?: string;
  /** A key that stands behind the signature, which it does not cover. */
  readonly uncovered?: string;
  /** The SHA-256 of all that stands before it, as it says; entries of before this was written say none. */
  readonly follows?: string;
  /** The same as it is. */
  readonly sha256Before: string;
}

export function isWithdrawal(entry: Issue | Withdrawal): entry is Withdrawal {
  return 'withdrawn' in entry;
}

/** Key in the file -> key here, in the order of the file. */
export const ISSUE_KEYS = {
  number: 'number',
  revision: 'revision',
  date: 'date',
  status: 'status',
  suitability: 'suitability',
  reason: 'reason',
  supersedes: 'supersedes',
  prepared: 'prepared',
  checked: 'checked',
  approved: 'approved',
  file: 'file',
  source_sha256: 'sourceSha256',
  results_sha256: 'resultsSha256',
  sign_offs_sha256: 'signOffsSha256',
  notes: 'notes',
  software: 'software',
  browser: 'browser',
  unsigned_pdf_sha256: 'unsignedPdfSha256',
  by: 'by',
  name: 'name',
  principal: 'principal',
  signed: 'signed',
} as const satisfies Readonly<Record<string, keyof Issue>>;

export const ISSUED_NOTE_KEYS = {
  number: 'number',
  revision: 'revision',
  source_sha256: 'sourceSha256',
  results_sha256: 'resultsSha256',
  sign_offs_sha256: 'signOffsSha256',
} as const satisfies Readonly<Record<string, keyof IssuedNote>>;

export const WITHDRAWAL_KEYS = {
  number: 'number',
  revision: 'revision',
  date: 'date',
  withdrawn: 'withdrawn',
  software: 'software',
  by: 'by',
  name: 'name',
  principal: 'principal',
  signed: 'signed',
} as const satisfies Readonly<Record<string, keyof Withdrawal>>;

/** Who signed an issued revision, without the days; of a submittal, which nobody signs, dashes. */
export function namesOfIssue(issue: Pick<Issue, Role>): Readonly<Record<Role, string>> {
  const nameIn = (signed: string | undefined): string => signed?.replace(/, \d{4}-\d{2}-\d{2}$/, '') ?? '–';
  return {
    prepared: nameIn(issue.prepared),
    checked: nameIn(issue.checked),
    approved: nameIn(issue.approved),
  };
}
