import { Collector } from '../../diagnostics/collector.ts';
import type { Place } from '../../diagnostics/place.ts';
import { findMergeConflict } from '../../source/find-merge-conflict.ts';
import { mapPlaces, splitLines } from '../../source/map-places.ts';
import { date, listItems, optional, readRecord, required, text } from '../../source/read-shape.ts';
import { readYaml } from '../../source/read-yaml.ts';
import { sha256 } from '../digest-sources.ts';
import { mapNode, textNode } from '../recorded-node.ts';
import { wordTree } from '../write-results.ts';

/** The register of issues of a project; no sign-off covers it. */
export const ISSUES_FILE = 'issues.yaml';

/** A revision of a note that was issued. */
export interface Issue {
  /** Document number. */
  readonly number: string;
  readonly revision: string;
  /** Day of issue, ISO 8601. */
  readonly date: string;
  /** Purpose of issue. */
  readonly status: string;
  readonly reason: string;
  /** Names with the days on which they signed. */
  readonly prepared: string;
  readonly checked: string;
  readonly approved: string;
  /** Name of the PDF. */
  readonly file: string;
  readonly sourceSha256: string;
  readonly resultsSha256: string;
  readonly software: string;
  /**
   * The browser that printed it, and the SHA-256 of the PDF before signatures were put into it: what another compilation must
   * give again. Absent in the copy of the register that this PDF itself carries.
   */
  readonly browser?: string;
  readonly unsignedPdfSha256?: string;
}

export interface PlacedIssue extends Issue {
  readonly place: Place;
}

const HEAD = '# Register of issues, written by surgenote issue: each is appended, none is ever changed.';

/** Key in the file -> key here, in the order of the file. */
const KEYS = {
  number: 'number',
  revision: 'revision',
  date: 'date',
  status: 'status',
  reason: 'reason',
  prepared: 'prepared',
  checked: 'checked',
  approved: 'approved',
  file: 'file',
  source_sha256: 'sourceSha256',
  results_sha256: 'resultsSha256',
  software: 'software',
  browser: 'browser',
  unsigned_pdf_sha256: 'unsignedPdfSha256',
} as const satisfies Readonly<Record<string, keyof Issue>>;

/** The digest of the register before an entry, whatever its line ends. */
function digestBefore(text: string): string {
  return sha256(text.replace(/\r\n?/g, '\n'));
}

/** The text of the register with one issue more, which names the digest of what stands there so far; that stays as it is. */
export function appendIssue(register: string | undefined, issue: Issue): string {
  const before =
    register === undefined || register.trim() === '' ? `${HEAD}\n` : register.replace(/\n?$/, '\n');
  const entries = Object.entries(KEYS).map(([key, name]) => {
    const value = issue[name];
    return [key, value === undefined ? undefined : textNode(value)] as const;
  });
  const chained = [...entries, ['follows', textNode(digestBefore(before))] as const];
  const lines = wordTree({ type: 'list', items: [mapNode(chained)] });
  return `${before}${lines.join('\n')}\n`;
}

const SHAPE = {
  number: required(text),
  revision: required(text),
  date: required(date),
  status: required(text),
  reason: required(text),
  prepared: required(text),
  checked: required(text),
  approved: required(text),
  file: required(text),
  source_sha256: required(text),
  results_sha256: required(text),
  software: required(text),
  browser: optional(text),
  unsigned_pdf_sha256: optional(text),
  /** SHA-256 of all that stands before the entry; entries of before this was written have none. */
  follows: optional(text),
} satisfies Record<keyof typeof KEYS | 'follows', unknown>;

/** The register that the PDF of a note carries: the issues of this note alone. */
export function writeIssues(issues: readonly Issue[]): string | undefined {
  return issues.reduce<string | undefined>((text, issue) => appendIssue(text, issue), undefined);
}

/** Reads a register of issues. Undefined where it is at fault; that is reported. */
export function readIssueRegister(
  file: string,
  content: string,
  collector: Collector,
): readonly PlacedIssue[] | undefined {
  const reading = new Collector();
  const issues = readIssues(file, content, reading);
  for (const diagnostic of reading.list()) collector.add(diagnostic);
  return reading.hasErrors ? undefined : issues;
}

function readIssues(file: string, content: string, collector: Collector): readonly PlacedIssue[] {
  if (findMergeConflict(file, content, collector)) return [];
  const lines = splitLines(content);
  const places = mapPlaces(file, content, lines, 1);
  let chained = false;
  const { node, broken } = readYaml(content, places, collector, { bracesAreText: true });
  if (broken || node.type === 'empty') return [];
  const issues = (listItems(node, 'the file', '- number: ...', collector) ?? []).flatMap((item) => {
    const values = readRecord(item, SHAPE, { where: 'an issue' }, collector)?.values;
    if (!values) return [];
    const { follows } = values;
    const before = lines.slice(0, item.place.line - 1).map((line) => `${line}\n`);
    const broken = follows === undefined ? chained : follows !== digestBefore(before.join(''));
    if (broken) collector.error('register-chain', item.place, { number: values.number ?? '' });
    chained ||= follows !== undefined;
    const entries = Object.entries(KEYS).flatMap(([key, name]) => {
      const value = values[key as keyof typeof KEYS];
      return value === undefined ? [] : [[name, value]];
    });
    return [{ ...(Object.fromEntries(entries) as unknown as Issue), place: item.place }];
  });
  issues.forEach(({ number, revision, place }, i) => {
    if (issues.findIndex((other) => other.number === number && other.revision === revision) < i) {
      collector.error('register-order', place, { number, revision });
    }
  });
  return issues;
}
