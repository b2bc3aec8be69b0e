import { Collector } from '../diagnostics/collector.ts';
import { type Diagnostic, hasErrors } from '../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { SourceTexts } from '../diagnostics/positions.ts';
import { reportDiagnostics } from '../diagnostics/report-diagnostics.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { readWholeFile } from '../files/read-whole-file.ts';
import { readAllowedSigners } from '../review/sign-off/allowed-signers.ts';
import type { SignerLists } from '../review/sign-off/judge-signature.ts';
import type { Issue } from '../review/sign-off/register-entry.ts';
import { type RevokedKeys, readRevokedKeys } from '../review/sign-off/revoked-keys.ts';
import { withoutUndefined } from '../source/without-undefined.ts';
import type { Finding } from './finding.ts';
import { type LoadedProject, loadAndEvaluate } from './load-and-evaluate.ts';
import { type Recording, recordNote } from './record-results.ts';
import { type ReviewedProject, reviewProject, type SignersText } from './review-notes.ts';
import { SOFTWARE_NAME } from './software.ts';
import type { Terminal } from './terminal.ts';
import { readMoment } from './today.ts';
import { documentPathOf, type UnpackedPdf, unpackPdfSource } from './unpack-pdf-source.ts';
import { verifyDates } from './verify-dates.ts';
import { verifyFile } from './verify-file.ts';
import {
  findIssue,
  findRegisteredPrint,
  type GivenRegister,
  readGivenRegister,
  verifyIssue,
} from './verify-issue.ts';
import { verifyIssuedNotes } from './verify-issued-notes.ts';
import { type NoteFindings, verifyNoteOf } from './verify-note.ts';
import { type PageVerification, verifyPages } from './verify-pages.ts';
import { verifyRegister } from './verify-register.ts';
import { verifySignatures } from './verify-signatures.ts';
import { verifyIssueTime } from './verify-stamped-texts.ts';

export interface VerifyReport {
  /** Number, revision and title; absent where the source cannot be read. */
  readonly note?: { readonly number: string; readonly revision: string; readonly title: string };
  readonly madeBy: string;
  readonly verifiedBy: string;
  readonly findings: readonly Finding[];
  /** The issue of this revision that the PDF itself names. */
  readonly issue?: Issue;
}

export interface VerifyRequest {
  /** File that says whose SSH key is whose; the list in the PDF itself, which proves nothing, where absent. */
  readonly allowedSigners?: string;
  /** File that says which SSH keys were revoked. */
  readonly revokedKeys?: string;
  readonly trust?: readonly string[];
  /** Certificates of authorities that are trusted to stamp times. */
  readonly timeStampTrust?: readonly string[];
  /** Files that say which certificates were revoked. */
  readonly revocation?: readonly string[];
  /** The day as of which certificates and times are judged, instead of now. */
  readonly date?: string;
  /** Register of issues from elsewhere than the PDF. */
  readonly register?: string;
  readonly browser?: string;
  /** Whether the note is printed again, to compare its pages. */
  readonly print: boolean;
}

const MOST_SIGNERS = 1_000_000;

/**
 * Recomputes a PDF from the source that it carries, and finds out whether source, results, sign-offs, page and digital
 * signatures belong together.
 *
 * @throws {OutsideFailure} where the PDF is damaged, foreign or without source, and whatever hinders reading
 */
export async function verifyPdf(
  path: string,
  request: VerifyRequest,
  terminal: Terminal,
): Promise<VerifyReport> {
  const register = await readGivenRegister(request.register);
  const signersText = await readSigners(request.allowedSigners);
  const revokedKeys = await readRevoked(request.revokedKeys);
  const unpacked = await unpackPdfSource(path);
  try {
    const madeBy = unpacked.contents.information.Creator ?? '';
    const [loaded] = await loadAndEvaluate([documentPathOf(unpacked)], {
      progress: (done, pieces) => terminal.progress(`simulated ${done} of ${pieces} strokes`),
    });
    const given = { register, signersText, revokedKeys };
    const { findings, issue } = await findAll({
      unpacked,
      loaded: loaded!,
      madeBy,
      ...given,
      request,
      terminal,
    });
    const { number, revision, title } = (loaded!.submittals[0] ?? loaded!.notes[0])?.source.frontMatter ?? {};
    const note = number !== undefined && revision !== undefined && title !== undefined;
    return {
      ...(note ? { note: { number, revision, title } } : {}),
      madeBy,
      verifiedBy: SOFTWARE_NAME,
      findings,
      ...(issue ? { issue } : {}),
    };
  } finally {
    await unpacked.remove();
  }
}

interface Work {
  readonly unpacked: UnpackedPdf;
  readonly loaded: LoadedProject;
  readonly madeBy: string;
  readonly register: GivenRegister | undefined;
  readonly signersText: SignersText | undefined;
  readonly revokedKeys: RevokedKeys | undefined;
  readonly request: VerifyRequest;
  readonly terminal: Terminal;
}

/** The list of signers that was given; one that is at fault says nothing of the PDF. */
async function readSigners(path: string | undefined): Promise<SignersText | undefined> {
  if (path === undefined) return undefined;
  const text = new TextDecoder().decode(await readWholeFile(path, MOST_SIGNERS));
  const collector = new Collector();
  readAllowedSigners(path, text, collector);
  if (collector.hasErrors) {
    throw new OutsideFailure(
      'signers-unreadable',
      `${path} is no list of signers: ${list(collector.list(), collector)}`,
    );
  }
  return { path, text };
}

async function readRevoked(path: string | undefined): Promise<RevokedKeys | undefined> {
  if (path === undefined) return undefined;
  const list = readRevokedKeys(await readWholeFile(path, MOST_SIGNERS));
  if (typeof list !== 'string') return list;
  throw new OutsideFailure('revoked-keys-unreadable', `${path} is no list of revoked keys: ${list}`);
}

async function findAll(work: Work): Promise<Pick<VerifyReport, 'findings' | 'issue'>> {
  const { unpacked, loaded, madeBy, register, signersText, revokedKeys, request, terminal } = work;
  const yardstick = {
    trust: request.trust ?? [],
    timeStampTrust: request.timeStampTrust ?? [],
    asOf: readMoment(request.date),
    revocation: request.revocation ?? [],
  };
  const [note] = loaded.notes;
  if (hasErrors(loaded.diagnostics) || !note || !loaded.project) {
    // What another version accepted, this one may refuse.
    const same = madeBy === SOFTWARE_NAME;
    const text = `the source in the PDF cannot be evaluated${same ? '' : ` by ${SOFTWARE_NAME}; ${madeBy} made the PDF`}`;
    const state = same ? 'contradicted' : 'not proven';
    const source: Finding = { about: 'source', state, text, detail: list(loaded.diagnostics, loaded) };
    return { findings: [source, ...(await verifySignatures(unpacked.bytes, yardstick, { signOffs: [] }))] };
  }
  const collector = new Collector(loaded);
  const recordings = new Map<EvaluatedNote, Recording>();
  for (const one of loaded.notes) recordings.set(one, await recordNote(loaded, one, collector));
  const reviewed = await reviewProject(
    loaded,
    collector,
    withoutUndefined({ signers: signersText, revoked: revokedKeys }),
  );
  if (collector.hasErrors) {
    const text = 'recorded results, sign-off records or the list of signers in the PDF cannot be read';
    const source: Finding = {
      about: 'source',
      state: 'contradicted',
      text,
      detail: list(collector.list(), collector),
    };
    return { findings: [source, ...(await verifySignatures(unpacked.bytes, yardstick, { signOffs: [] }))] };
  }
  const [submittal] = loaded.submittals;
  const ownList = request.allowedSigners !== undefined;
  const { frontMatter } = (submittal ?? note).source;
  const { number, revision } = frontMatter;
  const results = new Map([...recordings].map(([one, { fresh }]) => [one, fresh]));
  const registered = findRegisteredPrint(
    unpacked.bytes,
    register && findIssue(register.issues, number, revision),
  );
  const pages: PageVerification = request.print
    ? await verifyPages({ unpacked, loaded, results, madeBy, browser: request.browser, terminal })
    : { findings: [{ about: 'pages', state: 'not proven', text: 'not compared, as asked', notAsked: true }] };
  const printLength = pages.printLength ?? registered;
  const file = await verifyFile(unpacked.bytes, printLength);
  const issues = reviewed.register.filter((one) => one.number === number);
  const issue = findIssue(issues, number, revision);
  const verifyNote = (one: EvaluatedNote, label?: string): Promise<NoteFindings> =>
    verifyNoteOf({
      note: one,
      label,
      ...{ review: reviewed.notes.get(one)!, recording: recordings.get(one)! },
      ...{ issue, madeBy, ownList, yardstick },
    });
  const own = submittal
    ? await Promise.all(submittal.notes.map((one) => verifyNote(one.note, one.label)))
    : [await verifyNote(note)];
  const signOffs = submittal ? [] : reviewed.notes.get(note)!.signOffs;
  const day = yardstick.asOf.slice(0, 10);
  const whole = submittal && { loaded, submittal, reviewed, results };
  const findings: Finding[] = [
    ...own.flatMap(({ source }) => source),
    ...pages.findings,
    // Without a print, only what contradicts the file counts.
    request.print || file.state !== 'not proven' ? file : { ...file, notAsked: true },
    ...own.flatMap(({ people }) => people),
    ...(await verifySignatures(unpacked.bytes, yardstick, {
      signOffs,
      ...(issue ? { issued: issue.date } : {}),
    })),
    ...own.map(({ dates }) => dates),
    ...(submittal ? [verifyDates({ frontMatter, statements: [], issue }, day)] : []),
    verifyIssue({ number, revision }, issues, register, registered),
    ...(whole ? verifyIssuedNotes(whole, register) : []),
    ...(await verifyIssueTime({ number, revision }, register, yardstick)),
    ...(register ? [verifyRegister(register, ownLists(reviewed, request, revokedKeys))] : []),
  ];
  return { findings, ...(issue ? { issue } : {}) };
}

/** Of the lists, those of the reader alone: the list of signers in the PDF says nothing of a register that came from elsewhere. */
function ownLists(
  { signers }: Pick<ReviewedProject, 'signers'>,
  { allowedSigners }: VerifyRequest,
  revoked: RevokedKeys | undefined,
): SignerLists {
  return {
    allowed: allowedSigners === undefined ? undefined : signers.allowed,
    revoked: revoked ? [revoked] : [],
  };
}

/** What nobody reads any more of one file. */
const MOST_LISTED = 50;

/** The first of them, errors before cautions, and how many more there are. */
function list(diagnostics: readonly Diagnostic[], texts: SourceTexts): string {
  const isError = ({ severity }: Diagnostic): boolean => severity === 'error';
  const ordered = [...diagnostics.filter(isError), ...diagnostics.filter((one) => !isError(one))];
  const lines = reportDiagnostics(ordered.slice(0, MOST_LISTED), texts).map(
    ({ position, message }) => `${position.file}:${position.line}: ${message}`,
  );
  const rest = ordered.length - lines.length;
  return [...lines, ...(rest > 0 ? [`and ${rest} more`] : [])].join('\n');
}
