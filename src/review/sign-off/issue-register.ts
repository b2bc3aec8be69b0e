import { createHash } from 'node:crypto';
import { Collector } from '../../diagnostics/collector.ts';
import type { Place } from '../../diagnostics/place.ts';
import { TextLines, unifyLineEnds } from '../../diagnostics/text-lines.ts';
import { findMergeConflict } from '../../source/find-merge-conflict.ts';
import { wholeFile } from '../../source/map-places.ts';
import {
  date,
  listItems,
  listOf,
  option,
  optional,
  type Read,
  readRecord,
  required,
  text,
} from '../../source/read-shape.ts';
import { readYaml } from '../../source/read-yaml.ts';
import type { SourceNode } from '../../source/source-node.ts';
import { withoutUndefined } from '../../source/without-undefined.ts';
import { sha256 } from '../digest-sources.ts';
import { findRegisterFaults, type RegisterFault } from './find-register-faults.ts';
import {
  ISSUE_KEYS,
  ISSUED_NOTE_KEYS,
  type Issue,
  type IssuedNote,
  isWithdrawal,
  type PlacedIssue,
  type RegisterEntry,
  WITHDRAWAL_KEYS,
  type Withdrawal,
} from './register-entry.ts';
import { verbatim } from './sign-off-file.ts';

/** The register of issues of a project; no sign-off covers it. */
export const ISSUES_FILE = 'issues.yaml';

/** A register, read. */
export interface IssueRegister {
  readonly entries: readonly RegisterEntry[];
  /** The oldest first, each with its withdrawal. */
  readonly issues: readonly PlacedIssue[];
  /** What shows that the register is not as it was written. */
  readonly faults: readonly RegisterFault[];
}

const ENTERED = {
  number: required(text),
  revision: required(text),
  date: required(date),
  software: required(text),
  by: optional(text),
  name: optional(text),
  principal: optional(text),
  signed: optional(option(['ssh'])),
  follows: optional(text),
  signature: optional(verbatim),
  time_stamp: optional(verbatim),
};

const ISSUED_NOTE = {
  number: required(text),
  revision: required(text),
  source_sha256: required(text),
  results_sha256: required(text),
  sign_offs_sha256: required(text),
} satisfies Record<keyof typeof ISSUED_NOTE_KEYS, unknown>;

const issuedNote: Read<IssuedNote> = (node, _, collector) => {
  const values = readRecord(node, ISSUED_NOTE, { where: 'a note of a submittal' }, collector)?.values ?? {};
  const entries = Object.entries(ISSUED_NOTE_KEYS).map(([key, name]) => [
    name,
    values[key as keyof typeof values],
  ]);
  return entries.some(([, value]) => value === undefined)
    ? undefined
    : (Object.fromEntries(entries) as unknown as IssuedNote);
};

const ISSUE = {
  ...ENTERED,
  status: required(text),
  suitability: optional(text),
  reason: required(text),
  supersedes: optional(text),
  prepared: required(text),
  checked: required(text),
  approved: required(text),
  notes: optional(listOf(issuedNote, '- number: ...')),
  file: required(text),
  source_sha256: required(text),
  results_sha256: required(text),
  sign_offs_sha256: optional(text),
  browser: optional(text),
  unsigned_pdf_sha256: optional(text),
} satisfies Record<keyof typeof ISSUE_KEYS | keyof typeof ENTERED, unknown>;

/** Nobody signs a submittal: its notes are signed. */
const SUBMITTAL = {
  ...ISSUE,
  prepared: optional(text),
  checked: optional(text),
  approved: optional(text),
};

const WITHDRAWAL = { ...ENTERED, withdrawn: required(text) };

/** The digest of the register before an entry, whatever its line ends. */
export function digestBefore(text: string): string {
  return sha256(unifyLineEnds(text));
}

/** Reads a register of issues. Undefined where it cannot be read; that is reported. */
export function parseIssueRegister(
  file: string,
  content: string,
  collector: Collector,
): IssueRegister | undefined {
  const reading = new Collector();
  const entries = readEntries(file, content, reading);
  collector.addAll(reading);
  return reading.hasErrors
    ? undefined
    : { entries, issues: listIssues(entries), faults: findRegisterFaults(entries) };
}

/** Reads the register of a project. Undefined where it is at fault; that is reported. */
export function readIssueRegister(
  file: string,
  content: string,
  collector: Collector,
): IssueRegister | undefined {
  const register = parseIssueRegister(file, content, collector);
  for (const { code, place, data } of register?.faults ?? []) collector.error(code, place, data as never);
  return register && register.faults.length === 0 ? register : undefined;
}

/** The issues among entries; a withdrawal belongs to the issue of its revision. */
function listIssues(entries: readonly RegisterEntry[]): readonly PlacedIssue[] {
  const nameOf = ({ number, revision }: Issue | Withdrawal): string => JSON.stringify([number, revision]);
  const withdrawals = new Map(
    entries.flatMap(({ entry }) => (isWithdrawal(entry) ? [[nameOf(entry), entry] as const] : [])),
  );
  return entries.flatMap(({ entry, place }) => {
    if (isWithdrawal(entry)) return [];
    const withdrawal = withdrawals.get(nameOf(entry));
    return [withoutUndefined({ ...entry, withdrawal, place }) as PlacedIssue];
  });
}

function readEntries(file: string, content: string, collector: Collector): readonly RegisterEntry[] {
  collector.keepText(file, content);
  if (findMergeConflict(file, content, collector)) return [];
  const { node, broken } = readYaml(content, wholeFile(file), collector, {
    bracesAreText: true,
    isRecord: true,
  });
  if (broken || node.type === 'empty') return [];
  const lines = new TextLines(content);
  const items = listItems(node, 'the file', '- number: ...', collector) ?? [];
  const starts = items.map(({ place }) => lines.lineAt(place.start));
  const sums = digestsBefore(lines, starts);
  return items.flatMap((item, i) => {
    const end = starts[i + 1] ?? lines.lines.length;
    const reading = readEntry(item, lines, end, collector);
    return reading ? [{ ...reading, sha256Before: sums[i]! }] : [];
  });
}

/** Of what stands before each of the lines, whatever the line ends: taken in one go, for a register may be long. */
function digestsBefore(lines: TextLines, starts: readonly number[]): readonly string[] {
  const hash = createHash('sha256');
  let done = 0;
  return starts.map((start) => {
    hash.update(wordLines(lines, done, start));
    done = start;
    return hash.copy().digest('hex');
  });
}

function wordLines({ lines }: TextLines, from: number, to: number): string {
  return lines
    .slice(from, to)
    .map((line) => `${line}\n`)
    .join('');
}

function readEntry(
  item: SourceNode,
  lines: TextLines,
  end: number,
  collector: Collector,
): Omit<RegisterEntry, 'sha256Before'> | undefined {
  const has = (wanted: string) => item.type === 'map' && item.entries.some(({ key }) => key === wanted);
  const [shape, keys, where] = has('withdrawn')
    ? ([WITHDRAWAL, WITHDRAWAL_KEYS, 'a withdrawal'] as const)
    : ([has('notes') ? SUBMITTAL : ISSUE, ISSUE_KEYS, 'an issue'] as const);
  const reading = readRecord(item, shape, { where }, collector);
  if (!reading) return undefined;
  const values = reading.values as Readonly<Record<string, string | undefined>>;
  const entry = Object.fromEntries(
    Object.entries(keys).flatMap(([key, name]) => (values[key] === undefined ? [] : [[name, values[key]]])),
  ) as unknown as Issue | Withdrawal;
  const { signature, time_stamp, follows } = values;
  const outside = [reading.keyPlaces.get('signature'), reading.keyPlaces.get('time_stamp')];
  const lineOf = ({ start }: Place): number => lines.lineAt(start);
  const first = lineOf(item.place);
  const last = Math.min(end, ...outside.flatMap((place) => (place ? [lineOf(place)] : [])));
  const uncovered = [...reading.keyPlaces].find(
    ([key, place]) => key !== 'signature' && key !== 'time_stamp' && last < end && lineOf(place) >= last,
  )?.[0];
  return withoutUndefined({
    entry,
    place: item.place,
    text: wordLines(lines, first, last),
    signature,
    uncovered,
    timeStamp: time_stamp?.replace(/\s/g, ''),
    follows,
  });
}
