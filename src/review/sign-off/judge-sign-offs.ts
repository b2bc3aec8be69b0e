import { outlineOfName } from '../../source/alike-names.ts';
import type { FrontMatter } from '../../source/note-source.ts';
import type { Person } from '../../source/project-source.ts';
import { withoutUndefined } from '../../source/without-undefined.ts';
import type { ResultsDigest } from '../digest-results.ts';
import { sha256 } from '../digest-sources.ts';
import { judgeSignature, type SignatureVerdict, type SignerLists } from './judge-signature.ts';
import { ROLES, type Role } from './roles.ts';
import type { SignOffRecord } from './sign-off-file.ts';
import { NAMESPACE } from './ssh-signature.ts';
import type { Statement } from './statement.ts';

/** What sign-offs are held against: the note as it is now. */
export interface SignOffContext {
  readonly frontMatter: Pick<FrontMatter, 'number' | 'revision' | 'prepared' | 'checked' | 'approved'>;
  readonly people: readonly Person[];
  readonly sourceSha256: string;
  /** The same as statements of earlier forms have it. */
  readonly earlierSourceSha256: string;
  readonly results: ResultsDigest;
  /** Whose keys are allowed, and which are revoked. */
  readonly signers: SignerLists;
  /** Name and version of this program. */
  readonly software: string;
}

/** How one role of a note stands. */
export interface SignOff {
  readonly role: Role;
  readonly state: 'valid' | 'void' | 'missing';
  /** Why it is void. */
  readonly reason?: string;
  /** The statement; also that of a void sign-off. */
  readonly statement?: Statement;
  /** Of the SSH key whose signature holds. */
  readonly fingerprint?: string;
  /** Of an SSH key whose signature fits the statement, and which may not sign for the person. */
  readonly refusedKey?: string;
  /**
   * It is void only because the list of signers names no key of the person for that day, or of one who signed before: nothing
   * speaks against it.
   */
  readonly signerUnknown?: true;
  /** This program, where another version computed what was signed and this one finds the same. */
  readonly recomputedBy?: string;
  /** Its record holds a time stamp, which is not judged here. */
  readonly timeStamped?: true;
  /**
   * It is void because the results differ, and another version computed or digested them: that says nothing of whoever
   * signed.
   */
  readonly differsByVersion?: true;
}

/**
 * Judges the sign-offs of the note's present revision: of each role the last record counts. An earlier revision's records
 * say nothing about this one.
 */
export function judgeSignOffs(
  records: readonly SignOffRecord[],
  context: SignOffContext,
): readonly SignOff[] {
  const found = new Map<Role, SignOff>();
  for (const role of ROLES) found.set(role, judgeRole(role, records, context, found));
  return ROLES.map((role) => found.get(role)!);
}

function judgeRole(
  role: Role,
  records: readonly SignOffRecord[],
  context: SignOffContext,
  earlier: ReadonlyMap<Role, SignOff>,
): SignOff {
  const index = records.findLastIndex(
    ({ statement }) => statement.role === role && statement.revision === context.frontMatter.revision,
  );
  const record = records[index];
  if (!record) return { role, state: 'missing' };
  const { statement } = record;
  const signature = judgeRecordSignature(record, context);
  const refused = signature && !signature.held ? signature : undefined;
  const fingerprint = signature?.held ? signature.fingerprint : undefined;
  const sound = [findDamage(records, index), findChange(statement, context)];
  const conflict = findConflict(record, records, earlier, fingerprint ?? refused?.fingerprint);
  const waiting = findMissingBefore(earlier);
  const form = wordEarlierForm(statement, context);
  const reasons = [...sound, refused?.reason, conflict, form, waiting?.reason];
  const [reason] = reasons.filter((one) => one !== undefined);
  const key = withoutUndefined({
    fingerprint,
    refusedKey: refused?.fingerprint,
    timeStamped: record.timeStamp === undefined ? undefined : (true as const),
  });
  if (reason !== undefined) {
    const byVersion =
      reason === wordOtherResults(statement, context) && statement.software !== context.software;
    const differs = byVersion || reason === form ? { differsByVersion: true as const } : {};
    const against = [...sound, conflict].some((one) => one !== undefined);
    const blamed = [refused, waiting].filter((one) => one !== undefined);
    const silent = blamed.length > 0 && blamed.every((one) => one.silent);
    const unknown = !against && silent ? { signerUnknown: true as const } : {};
    return { role, state: 'void', reason, statement, ...key, ...differs, ...unknown };
  }
  const other = statement.software === context.software ? {} : { recomputedBy: context.software };
  return { role, state: 'valid', statement, ...key, ...other };
}

/** Whether the record is as it was written, and those before it are too. */
function findDamage(records: readonly SignOffRecord[], index: number): string | undefined {
  const record = records[index]!;
  if (sha256(record.text) !== record.sha256) return 'the record was changed by hand';
  for (let i = 0; i <= index; i += 1) {
    const before = records[i - 1];
    if (records[i]!.statement.follows !== (before === undefined ? 'none' : sha256(before.text))) {
      return 'a record before it was changed or removed';
    }
  }
  return undefined;
}

function findChange(statement: Statement, context: SignOffContext): string | undefined {
  const { number } = context.frontMatter;
  if (statement.note !== number) return `it belongs to ${statement.note}`;
  if (statement.earlierForm === 1) {
    return 'it was given in the first form of sign-offs, which cannot be held against the results any more';
  }
  const source = statement.earlierForm === 2 ? context.earlierSourceSha256 : context.sourceSha256;
  if (statement.sourceSha256 !== source) {
    const changed = 'the note or what it uses was changed since';
    // Nothing of the text is forgiven for that; it tells the checker what need not be computed again.
    return statement.earlierForm === undefined && context.results.sameAs(statement.resultsSha256)
      ? `${changed}; the results that it covers are unchanged`
      : changed;
  }
  if (statement.earlierForm === undefined && !context.results.sameAs(statement.resultsSha256)) {
    return wordOtherResults(statement, context);
  }
  const named = context.frontMatter[statement.role];
  if (named !== undefined && named !== statement.by) return 'the note names another person';
  return undefined;
}

/** The second form covered the words too: where they are others now, nobody can tell whether the results are the same. */
function wordEarlierForm({ earlierForm, resultsSha256 }: Statement, { results }: SignOffContext) {
  return earlierForm === undefined || results.sameInWords(resultsSha256)
    ? undefined
    : 'it was signed over results in an earlier form, and these or their words are others now';
}

function wordOtherResults(statement: Statement, { software }: SignOffContext): string {
  const differ = 'the results differ from those that were signed';
  return statement.software === software ? differ : `recomputed by ${software}: ${differ}`;
}

/** Whether the signature holds; undefined where there is none, and none belongs there. */
function judgeRecordSignature(
  { statement, text, signature }: SignOffRecord,
  { people, signers }: SignOffContext,
): SignatureVerdict | undefined {
  if (signature === undefined) {
    if (statement.signature === undefined) return undefined;
    return { held: false, reason: 'its signature was taken away', silent: false };
  }
  const { by, date, earlierForm } = statement;
  const present = principalOf(by, people);
  const principal = statement.principal ?? (earlierForm === 1 ? present : undefined);
  const refuse = (reason: string, fingerprint?: string): SignatureVerdict =>
    withoutUndefined({ held: false as const, reason, fingerprint, silent: false });
  if (principal === undefined)
    return refuse('it does not say by which name lists of signers know the person');
  const verdict = judgeSignature(
    { text, signature },
    { principal, namespace: NAMESPACE, day: date },
    signers,
  );
  if (verdict.fingerprint !== undefined && present !== principal) {
    return refuse(
      `project.yaml calls the signer '${present}' now, while the statement says '${principal}'`,
      verdict.fingerprint,
    );
  }
  return verdict;
}

/** The name by which the allowed signers know a person: `signer` in project.yaml, else the key. */
export function principalOf(key: string, people: readonly Person[]): string {
  return people.find((person) => person.key === key)?.signer ?? key;
}

/** An earlier role in which there is no valid sign-off. */
function findMissingBefore(
  earlier: ReadonlyMap<Role, SignOff>,
): { readonly reason: string; readonly silent: boolean } | undefined {
  const missing = [...earlier.values()].find(({ state }) => state !== 'valid');
  if (!missing) return undefined;
  const reason = `there is no valid sign-off '${missing.role}' before it`;
  return { reason, silent: missing.signerUnknown === true };
}

/** The order holds, and nobody signs twice. */
function findConflict(
  { statement }: SignOffRecord,
  records: readonly SignOffRecord[],
  earlier: ReadonlyMap<Role, SignOff>,
  fingerprint: string | undefined,
): string | undefined {
  for (const [role, signOff] of earlier) {
    const before = signOff.statement;
    if (!before) continue;
    if (before.by === statement.by) return `${statement.name} has signed '${role}' too`;
    if (before.principal !== undefined && before.principal === statement.principal) {
      return `lists of signers know ${before.name}, who has signed '${role}', and ${statement.name} as one person, '${statement.principal}'`;
    }
    if (outlineOfName(before.name) === outlineOfName(statement.name)) {
      return `the name ${statement.name} reads like that of '${role}', ${before.name}: what tells them apart must stand in the names`;
    }
    if (fingerprint !== undefined && fingerprint === (signOff.fingerprint ?? signOff.refusedKey)) {
      return `the key has signed '${role}' too`;
    }
    const place = (one: Statement): number => records.findIndex((record) => record.statement === one);
    if (place(before) > place(statement)) return `it was signed before the sign-off '${role}'`;
    if (before.date > statement.date) return `it is dated before the sign-off '${role}'`;
  }
  return undefined;
}
