import { mapNode, type RecordedNode, textNode } from '../recorded-node.ts';
import { wordTree } from '../write-results.ts';
import { digestBefore } from './issue-register.ts';
import {
  ISSUE_KEYS,
  ISSUED_NOTE_KEYS,
  type Issue,
  type IssuedNote,
  isWithdrawal,
  WITHDRAWAL_KEYS,
  type Withdrawal,
} from './register-entry.ts';
import { foldBase64 } from './sign-off-file.ts';

const HEAD = '# Register of issues, written by surgenote issue: each is appended, none is ever changed.';

/** An entry that is going to stand in a register, and what stands there before it. */
export interface NewEntry {
  readonly before: string;
  /** The lines of the entry, which are what is signed. */
  readonly text: string;
}

/** The text of an entry that follows what stands in a register so far: it names the digest of that. */
export function prepareEntry(register: string | undefined, entry: Issue | Withdrawal): NewEntry {
  const before =
    register === undefined || register.trim() === '' ? `${HEAD}\n` : register.replace(/\n?$/, '\n');
  const keys: Readonly<Record<string, string>> = isWithdrawal(entry) ? WITHDRAWAL_KEYS : ISSUE_KEYS;
  const facts = Object.entries(keys).map(([key, name]): [string, RecordedNode | undefined] => {
    const value = entry[name as keyof typeof entry] as string | readonly IssuedNote[] | undefined;
    if (value === undefined) return [key, undefined];
    return [key, typeof value === 'string' ? textNode(value) : nodeOfNotes(value)];
  });
  const chained: typeof facts = [...facts, ['follows', textNode(digestBefore(before))]];
  const lines = wordTree({ type: 'list', items: [mapNode(chained)] });
  return { before, text: `${lines.join('\n')}\n` };
}

function nodeOfNotes(notes: readonly IssuedNote[]): RecordedNode {
  const items = notes.map((note) =>
    mapNode(Object.entries(ISSUED_NOTE_KEYS).map(([key, name]) => [key, textNode(note[name])])),
  );
  return { type: 'list', items };
}

/** The text of the register with the entry; what stood there stays as it was. */
export function appendEntry({ before, text }: NewEntry, signature?: string, timeStamp?: string): string {
  const block = (key: string, content: string): string =>
    `  ${key}: |\n${content.trimEnd().replace(/^/gm, '    ')}\n`;
  return [
    before,
    text,
    ...(signature === undefined ? [] : [block('signature', signature)]),
    ...(timeStamp === undefined ? [] : [block('time_stamp', foldBase64(timeStamp))]),
  ].join('');
}

/**
 * The register that the PDF of a note or submittal carries: the issues that belong to it alone, as facts. It is no register of the issuer: nobody signed
 * it, and it knows nothing of later.
 */
export function writeIssues(issues: readonly Issue[]): string | undefined {
  return issues
    .flatMap((issue) => (issue.withdrawal ? [issue, issue.withdrawal] : [issue]))
    .reduce<string | undefined>((text, { signed: _, ...entry }) => appendIssue(text, entry), undefined);
}

/** The register with an entry more that nobody signs. */
export function appendIssue(register: string | undefined, entry: Issue | Withdrawal): string {
  return appendEntry(prepareEntry(register, entry));
}
