import { type Document, isCollection, visit, type YAMLError } from 'yaml';
import { Collector } from '../diagnostics/collector.ts';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import type { Code } from '../diagnostics/messages.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { Place } from '../diagnostics/place.ts';
import { TextLines } from '../diagnostics/text-lines.ts';
import type { PlaceMap } from './map-places.ts';

export const TAGS = ['!ref', '!formula'] as const;

interface Text {
  readonly text: string;
  readonly document: Document.Parsed;
  readonly place: PlaceMap;
  readonly collector: Collector;
}

/**
 * Reports what the YAML parser found, in our words and at the place where the author has to act. Gives the faults by which the
 * structure cannot be trusted. One fault often makes the parser stumble several times: a line is reported once,
 * tabs once, and nothing behind a quote that is not closed.
 */
export function reportYamlFaults(
  text: string,
  document: Document.Parsed,
  place: PlaceMap,
  collector: Collector,
): readonly Diagnostic[] {
  const syntax = new Collector();
  const source = { text, document, place, collector: syntax };
  const faults = [...document.errors, ...document.warnings].sort((a, b) => a.pos[0] - b.pos[0]);
  const syntaxFaults = faults.filter((fault) => fault.code !== 'TAG_RESOLVE_FAILED');
  for (const fault of faults)
    if (fault.code === 'TAG_RESOLVE_FAILED') reportTagFault(fault, { ...source, collector });
  const lines = new TextLines(text);
  const seen = new Set<number>();
  let tabs = false;
  for (const fault of syntaxFaults) {
    const line = lines.lineAt(fault.pos[0]);
    if (seen.has(line) || (tabs && fault.code === 'TAB_AS_INDENT')) continue;
    seen.add(line);
    if (fault.code === 'TAB_AS_INDENT') tabs = true;
    if (reportSyntax(fault, syntaxFaults, source) === 'unclosed') break;
  }
  collector.addAll(syntax);
  return syntax.list();
}

function reportTagFault(fault: YAMLError, { text, place, collector }: Text): void {
  const [start] = fault.pos;
  const tag = /^(?:!<[^>\s]*>|![^\s,[\]{}]*)/.exec(text.slice(start, start + 300))?.[0] ?? '!';
  reportTag(tag, place(start, start + tag.length), collector);
}

/** Reports a tag that cannot stand where it does: one that is not ours, or one of ours without a text. */
export function reportTag(tag: string, place: Place, collector: Collector): void {
  if (TAGS.some((known) => known === tag)) collector.error('tag-without-text', place, { tag });
  else collector.error('unknown-tag', place, { tag, nearest: nearestName(tag, TAGS) });
}

function reportSyntax(fault: YAMLError, all: readonly YAMLError[], source: Text): 'unclosed' | undefined {
  const { text, place, collector } = source;
  const [start] = fault.pos;
  const end = endOfLine(text, start);
  const line = text.slice(start, end).trimEnd();
  const here = (length = line.length) => place(start, start + length);
  const report = (
    code: Code & `${'bad-indentation' | 'several-documents' | 'tab-indentation' | 'yaml-syntax'}`,
  ) => collector.error(code, place(firstWord(text, start), end), {});
  switch (fault.code) {
    case 'TAB_AS_INDENT':
      collector.error('tab-indentation', here(1), {});
      return undefined;
    case 'BAD_INDENT':
      if (/^Flow/.test(fault.message)) return reportBracket(start, source);
      report('bad-indentation');
      return undefined;
    case 'MISSING_CHAR':
      if (/quote/.test(fault.message)) return reportQuote(start, source);
      if (/^Flow|comma|\}|\]/.test(fault.message)) return reportBracket(start, source);
      reportKey(start, source);
      return undefined;
    case 'BLOCK_AS_IMPLICIT_KEY':
      reportNested(fault, all, source);
      return undefined;
    case 'MULTILINE_IMPLICIT_KEY':
      reportKey(start, source);
      return undefined;
    case 'BAD_SCALAR_START':
      collector.error('reserved-character', here(), { character: line[0] ?? '' });
      return undefined;
    case 'BAD_DQ_ESCAPE': {
      const backslash = text.indexOf('\\', start);
      const from = backslash >= 0 && backslash < start + 3 ? backslash : start;
      collector.error('bad-escape', place(from, from + 2), { escape: text.slice(from, from + 2) });
      return undefined;
    }
    case 'MULTIPLE_DOCS':
      report('several-documents');
      return undefined;
    case 'UNEXPECTED_TOKEN':
      reportUnexpected(fault, source);
      return undefined;
    default:
      report('yaml-syntax');
      return undefined;
  }
}

function reportUnexpected(fault: YAMLError, source: Text): void {
  const { text, place, collector } = source;
  const [start] = fault.pos;
  const line = text.slice(start, endOfLine(text, start)).trimEnd();
  if (/^Block scalar header|^Not a YAML token/.test(fault.message)) {
    const opener = Math.max(
      text.lastIndexOf('>', start),
      text.lastIndexOf('|', start),
      lineStart(text, start),
    );
    const at = place(opener, endOfLine(text, opener));
    collector.error('reserved-character', at, { character: text[opener] ?? '>' });
    return;
  }
  const word = text.slice(lineStart(text, start), start).trimEnd().split(/\s/).at(-1)!;
  const mark = word.search(/[*&]/);
  if (mark >= 0) {
    const alias = word.slice(mark);
    const from = text.lastIndexOf(alias, start);
    collector.error('yaml-alias', place(from, from + alias.length), { text: alias });
    return;
  }
  if (/at node end/.test(fault.message) && line !== '') {
    collector.error('text-after-value', place(start, start + line.length), { text: line });
    return;
  }
  collector.error('yaml-syntax', place(firstWord(text, start), endOfLine(text, start)), {});
}

/** A key inside a value: either a colon in a text, or a line that is indented below a finished value. */
function reportNested(fault: YAMLError, all: readonly YAMLError[], source: Text): void {
  const { text, place, collector } = source;
  const [start] = fault.pos;
  const end = endOfLine(text, start);
  const multiline = all.find((f) => f.code === 'MULTILINE_IMPLICIT_KEY' && f.pos[0] === start);
  if (multiline && multiline.pos[1] > end) {
    const from = firstWord(text, lineStart(text, multiline.pos[1] - 1));
    const above = text.slice(firstWord(text, lineStart(text, start)), end).trim();
    collector.error('indented-under-value', place(from, endOfLine(text, from)), { above });
    return;
  }
  const line = text.slice(start, end).trimEnd();
  if (/^[^"'[{&*!|>%@`-].*:\s/.test(line)) {
    const shown = line.split(/\s#/, 1)[0]!.trimEnd();
    collector.error('colon-in-text', place(start, start + line.length), { text: shown });
    return;
  }
  collector.error('yaml-syntax', place(firstWord(text, start), end), {});
}

/** A line that should begin with a key. */
function reportKey(start: number, { text, place, collector }: Text): void {
  const line = text.slice(start, endOfLine(text, start)).trimEnd();
  const pressed = /^([\w-]+):(\S.*)$/.exec(line);
  const at = place(start, start + line.length);
  if (pressed) collector.error('missing-blank-after-colon', at, { instead: `${pressed[1]}: ${pressed[2]}` });
  else if (/^[\w -]+$/.test(line) && !line.startsWith('-'))
    collector.error('missing-colon', at, { text: line });
  else collector.error('yaml-syntax', at, {});
}

function reportQuote(position: number, { text, document, place, collector }: Text): 'unclosed' {
  let opening = position;
  visit(document, {
    Scalar: (_, node) => {
      const from = node.range?.[0] ?? 0;
      if ((node.type === 'QUOTE_DOUBLE' || node.type === 'QUOTE_SINGLE') && from <= position) opening = from;
    },
  });
  const at = place(opening, endOfLine(text, opening));
  collector.error('unclosed-quote', at, { quote: text[opening] ?? '"' });
  return 'unclosed';
}

function reportBracket(position: number, { text, document, place, collector }: Text): 'unclosed' {
  let opening = -1;
  let last = -1;
  visit(document, {
    Node: (_, node) => {
      if (!isCollection(node) || !node.flow || !node.range || node.range[0] > position) return;
      const [from, to] = node.range;
      if (text[from] !== '{' && text[from] !== '[') return; // a pair within brackets has none of its own
      last = from;
      if (to - from < 2 || text[to - 1] !== (text[from] === '{' ? '}' : ']')) opening = from;
    },
  });
  // A comment can swallow the bracket that closes; the text then ends with it all the same.
  const at = opening < 0 ? last : opening;
  if (at < 0) {
    collector.error('yaml-syntax', place(position, endOfLine(text, position)), {});
    return 'unclosed';
  }
  const [open, close] = text[at] === '{' ? ['{', '}'] : ['[', ']'];
  collector.error('unclosed-bracket', place(at, endOfLine(text, at)), { open, close });
  return 'unclosed';
}

function endOfLine(text: string, from: number): number {
  const end = text.slice(from).search(/[\r\n]/);
  return end < 0 ? text.length : from + end;
}

function lineStart(text: string, from: number): number {
  return Math.max(text.lastIndexOf('\n', from - 1), text.lastIndexOf('\r', from - 1)) + 1;
}

/** The first character of the line at `from` that is not a blank, where `from` stands among its blanks. */
function firstWord(text: string, from: number): number {
  const blanks = /^[ \t]*/.exec(text.slice(from))?.[0].length ?? 0;
  return from + blanks < text.length ? from + blanks : from;
}
