import type { FrontMatter } from '../../source/note-source.ts';
import type { Person } from '../../source/project-source.ts';
import type { ResultsDigest } from '../digest-results.ts';
import { sha256 } from '../digest-sources.ts';
import { ALLOWED_SIGNERS_FILE, type AllowedSigner, refuseSigner } from './allowed-signers.ts';
import { ROLES, type Role } from './roles.ts';
import type { SignOffRecord } from './sign-off-file.ts';
import { NAMESPACE, verifySshSignature } from './ssh-signature.ts';
import type { Statement } from './statement.ts';

/** What sign-offs are held against: the note as it is now. */
export interface SignOffContext {
  readonly frontMatter: Pick<FrontMatter, 'number' | 'revision' | 'prepared' | 'checked' | 'approved'>;
  readonly people: readonly Person[];
  readonly sourceSha256: string;
  readonly results: ResultsDigest;
  /** Undefined where the project has no such file. */
  readonly allowedSigners: readonly AllowedSigner[] | undefined;
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
  /** Of the SSH key; absent where there is no signature. */
  readonly fingerprint?: string;
  /** This program, where another version computed what was signed and this one finds the same. */
  readonly recomputedBy?: string;
  /** It is void because the results differ, and another version computed them: that says nothing of whoever signed. */
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
  const signature = verifySignature(record, context);
  const reason =
    findDamage(records, index) ??
    findChange(statement, context) ??
    (typeof signature === 'string' ? signature : undefined) ??
    findConflict(
      record,
      records,
      earlier,
      typeof signature === 'string' ? undefined : signature?.fingerprint,
    );
  const fingerprint = typeof signature === 'object' ? { fingerprint: signature.fingerprint } : {};
  if (reason !== undefined) {
    const byVersion =
      reason === wordOtherResults(statement, context) && statement.software !== context.software;
    const differs = byVersion ? { differsByVersion: true as const } : {};
    return { role, state: 'void', reason, statement, ...fingerprint, ...differs };
  }
  const other = statement.software === context.software ? {} : { recomputedBy: context.software };
  return { role, state: 'valid', statement, ...fingerprint, ...other };
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
  if (statement.sourceSha256 !== context.sourceSha256) return 'the note or what it uses was changed since';
  if (statement.earlierForm !== undefined) {
    return `it was given in an earlier form (${statement.earlierForm}), which cannot be held against the results any more`;
  }
  if (!context.results.sameAs(statement.resultsSha256)) {
    return wordOtherResults(statement, context);
  }
  const named = context.frontMatter[statement.role];
  if (named !== undefined && named !== statement.by) return 'the note names another person';
  return undefined;
}

function wordOtherResults(statement: Statement, { software }: SignOffContext): string {
  const differ = 'the results differ from those that were signed';
  return statement.software === software ? differ : `recomputed by ${software}: ${differ}`;
}

/** The signature where there is one and it holds; a text says why it does not hold. */
function verifySignature(
  record: SignOffRecord,
  context: SignOffContext,
): { fingerprint: string } | string | undefined {
  if (record.signature === undefined) {
    return record.statement.signature === undefined ? undefined : 'its signature was taken away';
  }
  const found = verifySshSignature(record.text, record.signature);
  if (typeof found === 'string') return `its signature does not hold: ${found}`;
  if (context.allowedSigners === undefined)
    return `the project has no ${ALLOWED_SIGNERS_FILE}, which says whose key it is`;
  const { by, date, earlierForm } = record.statement;
  const present = principalOf(by, context.people);
  const principal = record.statement.principal ?? (earlierForm === undefined ? undefined : present);
  if (principal === undefined) return 'it does not say by which name lists of signers know the person';
  if (present !== principal) {
    return `project.yaml calls the signer '${present}' now, while the statement says '${principal}'`;
  }
  const refusal = refuseSigner(context.allowedSigners, found.key, {
    principal,
    namespace: NAMESPACE,
    day: date,
  });
  return refusal === undefined ? found : `the signer is not allowed: ${refusal}`;
}

/** The name by which the allowed signers know a person: `signer` in project.yaml, else the key. */
export function principalOf(key: string, people: readonly Person[]): string {
  return people.find((person) => person.key === key)?.signer ?? key;
}

/** The order holds, and nobody signs twice. */
function findConflict(
  { statement }: SignOffRecord,
  records: readonly SignOffRecord[],
  earlier: ReadonlyMap<Role, SignOff>,
  fingerprint: string | undefined,
): string | undefined {
  for (const [role, signOff] of earlier) {
    if (signOff.state !== 'valid') return `there is no valid sign-off '${role}' before it`;
    const before = signOff.statement!;
    if (before.by === statement.by) return `${statement.name} has signed '${role}' too`;
    if (fingerprint !== undefined && fingerprint === signOff.fingerprint) {
      return `the key has signed '${role}' too`;
    }
    const place = (one: Statement): number => records.findIndex((record) => record.statement === one);
    if (place(before) > place(statement)) return `it was signed before the sign-off '${role}'`;
    if (before.date > statement.date) return `it is dated before the sign-off '${role}'`;
  }
  return undefined;
}
