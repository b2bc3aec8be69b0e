import type { PlaceMap } from './map-places.ts';
import { isReferenceTarget } from './reference-target.ts';
import type { MapEntry, ScalarNode, SourceNode } from './source-node.ts';

/**
 * Reads YAML that is written as blocks of a note mostly are: keys of word characters with one-line texts, references and formulas,
 * lists and mappings between brackets within a line, nested by indentation. Gives undefined for all other YAML, and for whatever has a
 * fault: that the library reads, with which this has to agree on every node and place.
 */
export function readQuickYaml(text: string, places: PlaceMap): SourceNode | undefined {
  if (text.length > LONGEST || UNUSUAL.test(text)) return undefined;
  const lines = linesOf(text);
  if (lines.length === 0) return undefined;
  try {
    return new QuickReader(text, lines, places).readAll();
  } catch (error) {
    if (error === OTHERWISE) return undefined;
    throw error;
  }
}

/** Other ends of lines, tabs, comments and double braces, wherever they stand. */
const UNUSUAL = /[\r\t\0\uFEFF]|(?:^|\s)#|\{\{/;
/** Thrown where a text is written in another way than is read here. */
const OTHERWISE = Symbol('otherwise');
const LONGEST = 100_000;
const DEEPEST = 20;
const FORBIDDEN = new Set(['constructor', 'prototype', '__proto__']);

/** A line with words. */
interface Line {
  readonly start: number;
  readonly indent: number;
  /** Where its words end, and where the next line begins. */
  readonly end: number;
  readonly next: number;
}

function linesOf(text: string): Line[] {
  const lines: Line[] = [];
  for (let start = 0; start < text.length; ) {
    const feed = text.indexOf('\n', start);
    const next = feed < 0 ? text.length : feed + 1;
    let end = feed < 0 ? text.length : feed;
    while (end > start && text[end - 1] === ' ') end -= 1;
    if (end > start) {
      let from = start;
      while (text[from] === ' ') from += 1;
      lines.push({ start: from, indent: from - start, end, next });
    }
    start = next;
  }
  return lines;
}

const KEY = /([A-Za-z_][\w-]{0,99}):(?= |\n|$) */y;
/** A text without quotes: what it may begin with, and where it ends. */
const PLAIN = /(?:[\p{L}\p{N}_+.(\\/<=~$;^°≤≥±]|-(?=[\p{L}\p{N}.]))[^\n]*/uy;
const PLAIN_IN_FLOW = /(?:[\p{L}\p{N}_+.(\\/<=~$;^°≤≥±]|-(?=[\p{L}\p{N}.]))[^,[\]{}:\n]*/uy;
const COLON = /:(?: |$)/;
const QUOTED = /"[^"\\\n]*"|'[^'\n]*'/y;
const TAG = /!(ref|formula) +/y;
const DASH = /- +/y;
/** Without a blank behind it a comma may stand within a number. */
const COMMA = / *, +/y;
const BLANKS = / */y;

class QuickReader {
  readonly #text: string;
  readonly #lines: readonly Line[];
  readonly #place: PlaceMap;
  /** The line at hand, and where in it what is read next begins. */
  #line = 0;
  #at = 0;

  constructor(text: string, lines: readonly Line[], place: PlaceMap) {
    this.#text = text;
    this.#lines = lines;
    this.#place = place;
  }

  readAll(): SourceNode {
    const { start, indent } = this.#lines[0]!;
    this.#at = start;
    const node = this.#block(indent, 0);
    if (this.#line < this.#lines.length) throw OTHERWISE;
    return node;
  }

  /** A list or mapping whose lines are indented by so much, from where it begins. */
  #block(indent: number, depth: number): SourceNode {
    if (depth > DEEPEST) throw OTHERWISE;
    return this.#text[this.#at] === '-' ? this.#list(indent, depth) : this.#map(indent, depth);
  }

  #map(indent: number, depth: number): SourceNode {
    const start = this.#at;
    const entries: MapEntry[] = [];
    const keys = new Set<string>();
    do {
      const from = this.#at;
      const key = this.#take(KEY)?.[1];
      if (key === undefined || FORBIDDEN.has(key) || keys.has(key)) throw OTHERWISE;
      keys.add(key);
      const keyPlace = this.#place(from, from + key.length);
      entries.push({ key, keyPlace, value: this.#value(indent, depth) });
    } while (this.#goesOn(indent, false));
    return { type: 'map', entries, place: this.#place(start, this.#endOfLast()) };
  }

  #list(indent: number, depth: number): SourceNode {
    const start = this.#at;
    const items: SourceNode[] = [];
    do {
      if (!this.#take(DASH)) throw OTHERWISE;
      KEY.lastIndex = this.#at;
      const column = indent + this.#at - this.#lines[this.#line]!.start;
      items.push(KEY.test(this.#text) ? this.#map(column, depth + 1) : this.#oneLine());
    } while (this.#goesOn(indent, true));
    return { type: 'list', items, place: this.#place(start, this.#endOfLast()) };
  }

  /** What stands behind a key: on its line, or as a block below it; a list may be indented as its key is. */
  #value(indent: number, depth: number): SourceNode {
    if (this.#at < this.#lines[this.#line]!.end) return this.#oneLine();
    this.#line += 1;
    const below = this.#lines[this.#line];
    if (!below) throw OTHERWISE;
    this.#at = below.start;
    const isList = this.#text[below.start] === '-';
    if (below.indent < (isList ? indent : indent + 1)) throw OTHERWISE;
    return this.#block(below.indent, depth + 1);
  }

  /** Whether the line at hand is the next one of a block: behind its last one the lines are indented by less. */
  #goesOn(indent: number, isList: boolean): boolean {
    const line = this.#lines[this.#line];
    if (!line || line.indent < indent) return false;
    if (line.indent > indent) throw OTHERWISE;
    this.#at = line.start;
    // Below a list that is indented as its key is, the next key.
    return !isList || this.#text[line.start] === '-';
  }

  #endOfLast(): number {
    return this.#lines[this.#line - 1]!.next;
  }

  /** What fills the rest of the line. */
  #oneLine(): SourceNode {
    const { end } = this.#lines[this.#line]!;
    const node = this.#node(PLAIN, 0);
    if (this.#at < end) throw OTHERWISE;
    this.#line += 1;
    return node;
  }

  #node(plain: RegExp, depth: number): SourceNode {
    const first = this.#text[this.#at];
    if (first === '{') return this.#flowMap(depth);
    if (first === '[') return this.#flowList(depth);
    if (first === '!') return this.#tagged(plain);
    return this.#scalar(plain);
  }

  #scalar(plain: RegExp): ScalarNode {
    const start = this.#at;
    const quoted = this.#take(QUOTED)?.[0];
    if (quoted !== undefined) {
      const text = quoted.slice(1, -1);
      const inset = text === '' ? 0 : 1;
      return { type: 'scalar', text, place: this.#place(start + inset, this.#at - inset) };
    }
    const text = this.#take(plain)?.[0].trimEnd();
    if (text === undefined || COLON.test(text)) throw OTHERWISE;
    this.#at = start + text.length;
    return { type: 'scalar', text, place: this.#place(start, this.#at) };
  }

  #tagged(plain: RegExp): SourceNode {
    const tag = this.#take(TAG)?.[1];
    if (tag === undefined) throw OTHERWISE;
    const { text: written, place } = this.#scalar(plain);
    const text = written.trim();
    if (text === '') throw OTHERWISE;
    if (tag === 'formula') return { type: 'formula', text, place };
    if (!isReferenceTarget(text)) throw OTHERWISE;
    return { type: 'reference', target: text, place };
  }

  #flowMap(depth: number): SourceNode {
    const start = this.#at;
    const entries: MapEntry[] = [];
    const keys = new Set<string>();
    this.#open(depth);
    do {
      const from = this.#at;
      const key = this.#take(KEY)?.[1];
      if (key === undefined || FORBIDDEN.has(key) || keys.has(key)) throw OTHERWISE;
      keys.add(key);
      entries.push({
        key,
        keyPlace: this.#place(from, from + key.length),
        value: this.#node(PLAIN_IN_FLOW, depth + 1),
      });
    } while (this.#take(COMMA));
    this.#close('}');
    return { type: 'map', entries, place: this.#place(start, this.#at) };
  }

  #flowList(depth: number): SourceNode {
    const start = this.#at;
    const items: SourceNode[] = [];
    this.#open(depth);
    do items.push(this.#node(PLAIN_IN_FLOW, depth + 1));
    while (this.#take(COMMA));
    this.#close(']');
    return { type: 'list', items, place: this.#place(start, this.#at) };
  }

  #open(depth: number): void {
    if (depth > DEEPEST) throw OTHERWISE;
    this.#at += 1;
    this.#take(BLANKS);
  }

  #close(bracket: string): void {
    this.#take(BLANKS);
    if (this.#text[this.#at] !== bracket) throw OTHERWISE;
    this.#at += 1;
  }

  /** Goes on behind what stands here, if it is that. */
  #take(pattern: RegExp): RegExpExecArray | null {
    pattern.lastIndex = this.#at;
    const found = pattern.exec(this.#text);
    if (found) this.#at = pattern.lastIndex;
    return found;
  }
}
