import { Collector } from '../diagnostics/collector.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { wordDiagnostic } from '../diagnostics/word-diagnostic.ts';
import { signWithSsh } from '../files/sign-with-ssh.ts';
import { parseIssueRegister } from '../review/sign-off/issue-register.ts';
import { judgeRegister } from '../review/sign-off/judge-register.ts';
import { principalOf } from '../review/sign-off/judge-sign-offs.ts';
import type { SignerLists } from '../review/sign-off/judge-signature.ts';
import type { Issue, Withdrawal } from '../review/sign-off/register-entry.ts';
import { ISSUE_NAMESPACE } from '../review/sign-off/ssh-signature.ts';
import { appendEntry, prepareEntry } from '../review/sign-off/write-register.ts';
import type { Person } from '../source/project-source.ts';
import { withoutUndefined } from '../source/without-undefined.ts';

export interface IssuerOptions {
  /** Key of the person in project.yaml. */
  readonly by?: string;
  /** SSH key with which the entry is signed. */
  readonly key?: string;
}

/** Who makes an entry, as the entry says it. */
export type Issuer = Pick<Issue, 'by' | 'name' | 'principal' | 'signed'>;

/**
 * Who issues or withdraws: the person who is named, else, with a key, whoever approves; nobody where neither is said.
 *
 * @param approved key of the person who approves
 * @throws {OutsideFailure} `usage` where the project knows no such person
 */
export function chooseIssuer(
  { by, key }: IssuerOptions,
  people: readonly Person[],
  approved: string | undefined,
): Issuer {
  const wanted = by ?? (key === undefined ? undefined : approved);
  if (wanted === undefined) return {};
  const person = people.find((one) => one.key === wanted);
  if (!person) {
    const known = people.map((one) => one.key).join(', ');
    throw new OutsideFailure('usage', `'${wanted}' is no person of project.yaml`, {
      hint: `name with --by who issues; the people are: ${known || 'nobody yet'}`,
    });
  }
  const signed = key === undefined ? {} : { signed: 'ssh' as const };
  return { by: person.key, name: person.name, principal: principalOf(person.key, people), ...signed };
}

/** Who stands in the register as having made an entry, for the terminal. */
export function wordEntry({ name, signed }: Issuer): string {
  const by = name === undefined ? '' : ` by ${name}`;
  return signed === undefined
    ? `entered in the register${by}, not signed cryptographically: --key FILE signs it`
    : `entered in the register${by}, signed`;
}

/**
 * The text of a register with one entry more, signed where the entry says so. The signature is judged as everybody is going to judge it.
 *
 * @param stamp makes the time stamp of the entry, where one is wanted
 * @throws {OutsideFailure} `issue-refused` where the register with the entry would not hold; `key-unreadable`, `ssh-missing`, `key-refused`
 */
export async function enterInRegister(
  register: string | undefined,
  entry: Issue | Withdrawal,
  key: string | undefined,
  signers: SignerLists,
  stamp: (signed: { readonly text: string; readonly signature?: string }) => Promise<string | undefined>,
): Promise<string> {
  const prepared = prepareEntry(register, entry);
  const signature = key === undefined ? undefined : await signWithSsh(prepared.text, key, ISSUE_NAMESPACE);
  const text = appendEntry(prepared, signature);
  const collector = new Collector();
  const read = parseIssueRegister('issues.yaml', text, collector);
  const faults = [
    ...collector.list().map((fault) => wordDiagnostic(fault).message),
    ...(read?.faults ?? []).map(wordFault),
  ];
  const own = read && judgeRegister(read.entries, signers).at(-1)?.verdict;
  if (own && !own.held) faults.push(own.reason);
  if (faults.length === 0) {
    const timeStamp = await stamp(withoutUndefined({ text: prepared.text, signature }));
    return appendEntry(prepared, signature, timeStamp);
  }
  throw new OutsideFailure(
    'issue-refused',
    `nothing was written, for the entry would not hold: ${faults[0]}`,
    {
      hint: `who issues must be listed in allowed_signers for ${ISSUE_NAMESPACE}: name namespaces="sign-off@surgenote,${ISSUE_NAMESPACE}" PUBLIC KEY; --by says who it is`,
    },
  );
}

function wordFault({ data }: { readonly data: Readonly<Record<string, string>> }): string {
  return data.reason ?? `the register is not whole before the entry of ${data.number}`;
}
