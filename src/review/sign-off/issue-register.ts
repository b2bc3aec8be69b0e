import { Collector } from '../../diagnostics/collector.ts';
import type { Place } from '../../diagnostics/place.ts';
import { findMergeConflict } from '../../source/find-merge-conflict.ts';
import { mapPlaces, splitLines } from '../../source/map-places.ts';
import { date, listItems, readRecord, required, text } from '../../source/read-shape.ts';
import { readYaml } from '../../source/read-yaml.ts';
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
  /** Of the PDF before signatures were put into it: what another compilation must give again. */
  readonly unsignedPdfSha256: string;
  readonly pdfSha256: string;
  readonly software: string;
  readonly browser: string;
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
  unsigned_pdf_sha256: 'unsignedPdfSha256',
  pdf_sha256: 'pdfSha256',
  software: 'software',
  browser: 'browser',
} as const satisfies Readonly<Record<string, keyof Issue>>;

/** The text of the register with one issue more; what stands there so far stays as it is. */
export function appendIssue(register: string | undefined, issue: Issue): string {
  const before =
    register === undefined || register.trim() === '' ? `${HEAD}\n` : register.replace(/\n?$/, '\n');
  const entries = Object.entries(KEYS).map(([key, name]) => [key, textNode(issue[name])] as const);
  const lines = wordTree({ type: 'list', items: [mapNode(entries)] });
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
  unsigned_pdf_sha256: required(text),
  pdf_sha256: required(text),
  software: required(text),
  browser: required(text),
} satisfies Record<keyof typeof KEYS, unknown>;

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
  const { node, broken } = readYaml(content, mapPlaces(file, content, splitLines(content), 1), collector);
  if (broken || node.type === 'empty') return [];
  const issues = (listItems(node, 'the file', '- number: ...', collector) ?? []).flatMap((item) => {
    const values = readRecord(item, SHAPE, { where: 'an issue' }, collector)?.values;
    if (!values || Object.values(values).includes(undefined)) return [];
    const entries = Object.entries(KEYS).map(([key, name]) => [name, values[key as keyof typeof KEYS]]);
    return [{ ...(Object.fromEntries(entries) as unknown as Issue), place: item.place }];
  });
  issues.forEach(({ number, revision, place }, i) => {
    if (issues.findIndex((other) => other.number === number && other.revision === revision) < i) {
      collector.error('register-order', place, { number, revision });
    }
  });
  return issues;
}
