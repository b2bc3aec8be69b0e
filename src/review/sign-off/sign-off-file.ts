import { Collector } from '../../diagnostics/collector.ts';
import type { Place } from '../../diagnostics/place.ts';
import { wordDiagnostic } from '../../diagnostics/word-diagnostic.ts';
import { findMergeConflict } from '../../source/find-merge-conflict.ts';
import { wholeFile } from '../../source/map-places.ts';
import { listItems, optional, type Read, readRecord, readScalar, required } from '../../source/read-shape.ts';
import { readYaml } from '../../source/read-yaml.ts';
import type { SourceNode } from '../../source/source-node.ts';
import { withoutUndefined } from '../../source/without-undefined.ts';
import { sha256 } from '../digest-sources.ts';
import { readStatement, type Statement } from './statement.ts';

/** One record of the file: the statement as it was signed, byte for byte, and the signature over it. */
export interface SignOffRecord {
  readonly statement: Statement;
  readonly text: string;
  /** As the file says it. */
  readonly sha256: string;
  /** OpenSSH signature, armoured. */
  readonly signature?: string;
  /** RFC 3161 time-stamp token over `stampedBytes`, its DER in base64; no signature covers it. */
  readonly timeStamp?: string;
  readonly place: Place;
}

/**
 * What a time stamp of a signed text is over: its armoured signature with the end of its last line, as common tools take it out of
 * the file; the text itself where nobody signed it.
 */
export function stampedBytes({ text, signature }: Pick<SignOffRecord, 'text' | 'signature'>): Uint8Array {
  return new TextEncoder().encode(signature === undefined ? text : `${signature.trimEnd()}\n`);
}

/** The file of sign-off records that belongs to a note: '003-intake.md' -> '003-intake.signoff.yaml'. */
export function signOffPath(notePath: string): string {
  return notePath.replace(/\.md$/, '.signoff.yaml');
}

const HEAD =
  '# Sign-off records, written by surgenote sign: each is appended, none is ever changed. A statement changed by hand is void.';

/** The text of the file with one record more; what stands there so far stays as it is. */
export function appendSignOff(
  file: string | undefined,
  statement: string,
  signature?: string,
  timeStamp?: string,
): string {
  const before = file === undefined || file.trim() === '' ? `${HEAD}\n` : file.replace(/\n?$/, '\n');
  const indented = (text: string): string[] =>
    text
      .trimEnd()
      .split('\n')
      .map((line) => `    ${line}`);
  const lines = ['- statement: |', ...indented(statement), `  sha256: ${sha256(statement)}`];
  if (signature !== undefined) lines.push('  signature: |', ...indented(signature));
  if (timeStamp !== undefined) lines.push('  time_stamp: |', ...indented(foldBase64(timeStamp)));
  return `${before}${lines.join('\n')}\n`;
}

/** Base64 in lines of 70 characters, as the signatures above it are. */
export function foldBase64(text: string): string {
  return (
    text
      .replace(/\s/g, '')
      .match(/.{1,70}/g)
      ?.join('\n') ?? ''
  );
}

/** A text with its line ends. */
export const verbatim: Read<string> = (node, key, collector) => readScalar(node, key, collector)?.text;

const RECORD = {
  statement: required(verbatim),
  sha256: required(verbatim),
  signature: optional(verbatim),
  time_stamp: optional(verbatim),
};

/** Reads a file of sign-off records. Undefined where it is at fault; that is reported. */
export function readSignOffFile(
  file: string,
  text: string,
  collector: Collector,
): readonly SignOffRecord[] | undefined {
  const reading = new Collector();
  const records = readRecords(file, text, reading);
  collector.addAll(reading);
  return reading.hasErrors ? undefined : records;
}

function readRecords(file: string, text: string, collector: Collector): readonly SignOffRecord[] {
  collector.keepText(file, text);
  if (findMergeConflict(file, text, collector)) return [];
  const { node, broken } = readYaml(text, wholeFile(file), collector, {
    bracesAreText: true,
    isRecord: true,
  });
  if (broken || node.type === 'empty') return [];
  const items = listItems(node, 'the file', '- statement: ...', collector) ?? [];
  return items.flatMap((item) => readRecordNode(item, collector) ?? []);
}

function readRecordNode(item: SourceNode, collector: Collector): SignOffRecord | undefined {
  const reading = readRecord(item, RECORD, { where: 'a sign-off record' }, collector);
  const { statement: lines, sha256: digest, signature, time_stamp } = reading?.values ?? {};
  if (lines === undefined || digest === undefined) return undefined;
  // The reader of YAML takes the end of the last line off.
  const text = `${lines}\n`;
  const place = reading?.places.get('statement') ?? item.place;
  const inner = new Collector();
  const { node, broken } = readYaml(text, () => place, inner, { bracesAreText: true });
  const statement = broken ? undefined : readStatement(node, inner);
  for (const fault of inner.list()) {
    collector.error('sign-off-unreadable', place, { reason: wordDiagnostic(fault).message });
  }
  if (!statement) return undefined;
  const timeStamp = time_stamp?.replace(/\s/g, '');
  return withoutUndefined({ statement, text, sha256: digest, place, signature, timeStamp });
}
