import {
  type Alias,
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  type Pair,
  type ParsedNode,
  parseDocument,
  type Range,
  type Scalar,
  type YAMLMap,
  type YAMLSeq,
} from 'yaml';
import type { Collector } from '../diagnostics/collector.ts';
import type { Code, DataOf } from '../diagnostics/messages.ts';
import type { Place } from '../diagnostics/place.ts';
import { relatedNote } from '../diagnostics/related-note.ts';
import { listCommaFault } from '../quantity/number-fault.ts';
import type { PlaceMap } from './map-places.ts';
import { type OnceRead, readSound } from './read-sound.ts';
import { isReferenceTarget, seemsOfOtherNote } from './reference-target.ts';
import { reportTag, reportYamlFaults, TAGS } from './report-yaml-faults.ts';
import type { EmptyNode, MapEntry, SourceNode } from './source-node.ts';

const LONGEST_TEXT = 1_000_000;
/** A record grows with the note, or with the years; its file is bounded where files are read and written. */
const LONGEST_RECORD = 10_000_000;
const DEEPEST = 40;
/** Names that mean something to the language this program is written in. */
const FORBIDDEN_KEYS = new Set(['__proto__', 'constructor', 'prototype']);
const PROSE_VALUE = /\{\{\s*(?:\d+\/)?[\w-]+(\.[\w-]+)+\s*\}\}/;

export interface YamlReading {
  readonly node: SourceNode;
  /** The text is not well-formed: what the node holds may be misread, and the fault is reported. */
  readonly broken: boolean;
}

export interface YamlOptions {
  /** What the program wrote itself: as long as a file may be. */
  readonly isRecord?: boolean;
  /** Double braces are what somebody wrote, as in a record; in a source they ask for a value and are refused. */
  readonly bracesAreText?: boolean;
  /** Keys of the outermost mapping whose texts may hold values in double braces: whoever reads them looks for these. */
  readonly valuesIn?: readonly string[];
}

/** Reads YAML, however it is written, with the library; see `readYaml`. */
export function readLibraryYaml(
  text: string,
  place: PlaceMap,
  collector: Collector,
  options: YamlOptions,
): YamlReading {
  const whole: SourceNode = { type: 'empty', place: place(0, 1) };
  const limit = options.isRecord ? LONGEST_RECORD : LONGEST_TEXT;
  if (text.length > limit) {
    collector.error('yaml-too-long', place(0, 1), { limit });
    return { node: whole, broken: true };
  }
  try {
    return readSound(text, (left, places, found) => readOnce(left, places, found, options), place, collector);
  } catch (error) {
    // Of a text that is nested too deeply only that is said: what else seems wrong follows from it.
    if (!(error instanceof RangeError || error instanceof TooDeep)) throw error;
    collector.error('yaml-too-deep', error instanceof TooDeep ? error.place : place(0, 1), {});
    return { node: whole, broken: true };
  }
}

function readOnce(text: string, place: PlaceMap, collector: Collector, options: YamlOptions): OnceRead {
  const document = parseDocument(text, {
    schema: 'failsafe',
    resolveKnownTags: false, // `!!binary` and its like would else be known, and their values other than written
    strict: true,
    uniqueKeys: false, // `#entries` reports both places
    prettyErrors: false,
    customTags: TAGS.map((tag) => ({ tag, resolve: (value: string) => value })),
  });
  const faults = reportYamlFaults(text, document as Document.Parsed, place, collector);
  const converter = new Converter(text, place, collector, options);
  const node = converter.convert(document.contents, 0) ?? { type: 'empty', place: place(0, 1) };
  return { node, faults };
}

class TooDeep extends Error {
  readonly place: Place;

  constructor(place: Place) {
    super();
    this.place = place;
  }
}

/** `{{ block.name }}` without quotes is to YAML a mapping with a mapping for its key. */
function isBraces(map: YAMLMap): boolean {
  const [first] = map.items;
  return map.flow === true && map.items.length === 1 && isMap(first?.key) && first.value === null;
}

type OurTag = (typeof TAGS)[number];

function isOurs(tag: string): tag is OurTag {
  return TAGS.some((known) => known === tag);
}

const LONGEST_TAG = 300;
const TAG_BEFORE = /(!<[^>\s]*>|![^\s,[\]{}]*)(?:\s+(?:&\S+|#[^\r\n]*(?=[\r\n])))*\s*$/;

interface Ranged {
  readonly range?: Range | null | undefined;
}

type YamlNode = ParsedNode | Scalar | YAMLMap | YAMLSeq | Alias | null;

class Converter {
  readonly #text: string;
  readonly #place: PlaceMap;
  readonly #collector: Collector;
  readonly #bracesAreText: boolean;
  readonly #valuesIn: readonly string[];
  /** The key of the outermost mapping in whose value the converter is. */
  #outerKey: string | undefined;

  constructor(text: string, place: PlaceMap, collector: Collector, { bracesAreText, valuesIn }: YamlOptions) {
    this.#text = text;
    this.#place = place;
    this.#collector = collector;
    this.#bracesAreText = bracesAreText === true;
    this.#valuesIn = valuesIn ?? [];
  }

  convert(node: YamlNode, depth: number): SourceNode | undefined {
    if (node === null) return undefined;
    const [start, end] = node.range ?? [0, 1];
    if (depth > DEEPEST) throw new TooDeep(this.#place(start, start + 1));
    const place = this.#place(start, end);
    if (isAlias(node)) return this.#refuse('yaml-alias', place, { text: `*${node.source}` });
    if (node.anchor) this.#reportAnchor(node.anchor, start, place);
    // Whatever another tag was meant to make of the value, it is not what stands there.
    if (node.tag !== undefined && !(isScalar(node) && isOurs(node.tag))) return this.#refuseTag(node, place);
    if (isScalar(node)) return this.#scalar(node as Scalar<string>, start, end);
    if (isSeq(node)) {
      const cut = node.flow ? this.#cutNumber(node as YAMLSeq) : undefined;
      if (cut) return cut;
      const items = node.items.map((item) => this.convert(item as YamlNode, depth + 1));
      return { type: 'list', items: items.map((item) => item ?? { type: 'empty', place }), place };
    }
    if (isMap(node) && isBraces(node as YAMLMap)) return this.#refuseBraces(place);
    if (isMap(node)) return { type: 'map', entries: this.#entries(node as YAMLMap, depth), place };
    return undefined;
  }

  /** The anchor stands before the node that it names. */
  #reportAnchor(anchor: string, start: number, place: Place): void {
    const text = `&${anchor}`;
    const at = this.#text.lastIndexOf(text, start);
    const own = at < 0 ? place : this.#place(at, at + text.length);
    this.#collector.error('yaml-alias', own, { text });
  }

  /** `[1,5 m, 2 m]`: a comma that touches digits on both sides may be meant as a decimal sign. */
  #cutNumber({ items }: YAMLSeq): EmptyNode | undefined {
    const plain = items.map((item) => (isScalar(item) && item.type === 'PLAIN' ? item : undefined));
    const continues = (i: number): boolean => {
      const [before, item] = [plain[i - 1], plain[i]];
      if (!before?.range || !item?.range || item.range[0] !== before.range[1] + 1) return false;
      return /^[+\-−]?\d+$/.test(String(before.value)) && /^\d/.test(String(item.value));
    };
    const first = plain.findIndex((_, i) => continues(i + 1));
    if (first < 0) return undefined;
    let last = first + 1;
    while (continues(last + 1)) last += 1;
    const parts = plain.slice(first, last + 1).map((item) => String(item!.value));
    const fault = listCommaFault(parts);
    return this.#refuse(
      fault.code,
      this.#place(plain[first]!.range![0], plain[last]!.range![1]),
      fault.data as never,
    );
  }

  #scalar(node: Scalar<string>, start: number, end: number): SourceNode {
    const text = String(node.value);
    const place = this.#textPlace(text, start, end);
    this.#checkComment(node, end);
    if (node.tag !== undefined && isOurs(node.tag)) {
      const own = text.trim() === '' ? this.#tagBefore(node, place).place : place;
      return this.#tagged(node.tag, text.trim(), own);
    }
    if (start === end) return { type: 'empty', place };
    const mayHoldValues = this.#outerKey !== undefined && this.#valuesIn.includes(this.#outerKey);
    if (!this.#bracesAreText && !mayHoldValues && PROSE_VALUE.test(text)) return this.#refuseBraces(place);
    return { type: 'scalar', text: node.type?.startsWith('BLOCK') ? text.trimEnd() : text, place };
  }

  /** The place of the text without its quotes, so that a part of the text can be marked. */
  #textPlace(text: string, start: number, end: number): Place {
    const raw = this.#text.slice(start, end);
    const plainlyQuoted = /^["']/.test(raw) && text !== '' && raw.slice(1, -1) === text;
    return plainlyQuoted ? this.#place(start + 1, end - 1) : this.#place(start, end);
  }

  #tagged(tag: OurTag, text: string, place: Place): SourceNode {
    if (text === '') return this.#refuse('tag-without-text', place, { tag });
    if (tag === '!formula') return { type: 'formula', text, place };
    if (seemsOfOtherNote(text)) return this.#refuse('malformed-note-reference', place, { target: text });
    if (!isReferenceTarget(text)) return this.#refuse('reference-incomplete', place, { target: text });
    return { type: 'reference', target: text, place };
  }

  #refuseBraces(place: Place): SourceNode {
    return this.#refuse('prose-value-in-yaml', place, {});
  }

  #refuseTag(node: Ranged, place: Place): SourceNode {
    const found = this.#tagBefore(node, place);
    reportTag(found.tag, found.place, this.#collector);
    return { type: 'empty', place, reported: true };
  }

  /** The tag stands before the node, perhaps with an anchor, a comment or line ends between. */
  #tagBefore({ range }: Ranged, place: Place): { readonly tag: string; readonly place: Place } {
    const start = range?.[0] ?? 0;
    const from = Math.max(0, start - LONGEST_TAG);
    const found = TAG_BEFORE.exec(this.#text.slice(from, start));
    if (!found) return { tag: '!', place };
    const [tag, at] = [found[1]!, from + found.index];
    return { tag, place: this.#place(at, at + tag.length) };
  }

  /** The one way to a node that stands for a fault: what is marked as reported has been reported. */
  #refuse<C extends Code>(code: C, place: Place, data: DataOf<C>): EmptyNode {
    this.#collector.error(code, place, data);
    return { type: 'empty', place, reported: true };
  }

  /** `drawing #12` loses its number: YAML reads a comment. An ordinary comment has a blank behind the mark. */
  #checkComment(node: Scalar, end: number): void {
    if (!node.comment || /^\s/.test(node.comment)) return;
    const behind = /^[ \t]+#[^\r\n]*/.exec(this.#text.slice(end))?.[0];
    if (!behind) return;
    const start = end + behind.indexOf('#');
    const comment = behind.trim();
    this.#collector.caution('comment-in-text', this.#place(start, start + comment.length), { comment });
  }

  #entries(map: YAMLMap, depth: number): MapEntry[] {
    const entries: MapEntry[] = [];
    const places = new Map<string, Place>();
    for (const pair of map.items as Pair<YamlNode, YamlNode>[]) {
      const entry = this.#entry(pair, map.flow === true, depth);
      if (!entry) continue;
      const first = places.get(entry.key);
      if (first) {
        this.#collector.error('duplicate-key', entry.keyPlace, { key: entry.key }, [
          { place: first, note: relatedNote('first-written', {}) },
        ]);
        continue;
      }
      places.set(entry.key, entry.keyPlace);
      entries.push(entry);
    }
    return entries;
  }

  #entry(pair: Pair<YamlNode, YamlNode>, flow: boolean, depth: number): MapEntry | undefined {
    const [start, end] = pair.key?.range ?? [0, 1];
    const keyPlace = this.#place(start, end);
    if (!isScalar(pair.key)) {
      this.#collector.error('key-not-text', keyPlace, {});
      return undefined;
    }
    if (pair.key.tag !== undefined) {
      const { tag, place } = this.#tagBefore(pair.key, keyPlace);
      if (isOurs(tag)) this.#collector.error('tag-on-key', place, { tag });
      else reportTag(tag, place, this.#collector);
    }
    const key = String(pair.key.value);
    if (FORBIDDEN_KEYS.has(key)) {
      this.#collector.error('forbidden-key', keyPlace, { key });
      return undefined;
    }
    if (depth === 0) this.#outerKey = key;
    const value = this.convert(pair.value, depth + 1) ?? { type: 'empty', place: keyPlace };
    return { key, keyPlace, value, ...(flow && pair.value === null ? { bare: true as const } : {}) };
  }
}
