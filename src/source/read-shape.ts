import type { Collector } from '../diagnostics/collector.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { Place } from '../diagnostics/place.ts';
import type { Problem } from '../diagnostics/problem.ts';
import { separatorFault } from '../quantity/number-fault.ts';
import { readQuantity } from '../quantity/read-quantity.ts';
import type { MapEntry, MapNode, ScalarNode, SourceNode } from './source-node.ts';

// A small reader of our own and not a schema library: every message needs the place of a key or of its neighbours,
// what stands there are texts, references and formulas rather than plain data, and the keys that are unknown must be
// told apart from the pieces of a text that an unquoted comma has cut.

/** Reads what stands behind a key; reports what is wrong with it and then returns nothing. */
export type Read<T> = (node: SourceNode, key: string, collector: Collector) => T | undefined;

interface Field<T> {
  readonly read: Read<T>;
  readonly required: boolean;
  readonly example?: string | undefined;
}

/** The keys of a mapping, in the order in which messages name them. */
export type Shape = Readonly<Record<string, Field<unknown>>>;

type Values<S extends Shape> = {
  readonly [K in keyof S]: S[K] extends Field<infer T> ? T | undefined : never;
};

export interface RecordReading<S extends Shape> {
  /** What could be read; undefined where a key is absent, empty or at fault. */
  readonly values: Values<S>;
  /** Places of the values that are written. */
  readonly places: ReadonlyMap<keyof S & string, Place>;
  readonly keyPlaces: ReadonlyMap<keyof S & string, Place>;
}

export function required<T>(read: Read<T>, example?: string): Field<T> {
  return { read, required: true, example };
}

export function optional<T>(read: Read<T>): Field<T> {
  return { read, required: false };
}

export interface RecordContext {
  /** What the mapping is, for messages: 'the front matter', 'an assumption'. */
  readonly where: string;
  /** The place of a missing key, where it is not the mapping itself. */
  readonly place?: Place;
  /** Takes entries with keys that the shape does not know; without it they are errors. */
  readonly others?: (entry: MapEntry) => void;
}

/** Reads a mapping. An optional key that is left empty counts as not written. */
export function readRecord<S extends Shape>(
  node: SourceNode,
  shape: S,
  context: RecordContext,
  collector: Collector,
): RecordReading<S> | undefined {
  if (node.type === 'empty' && node.reported) return undefined;
  const map = node.type === 'empty' ? emptyMap(context.place ?? node.place) : node;
  const known = Object.keys(shape);
  if (map.type !== 'map') {
    const { where } = context;
    collector.error('mapping-expected', map.place, { where, found: nameNode(map), known });
    return undefined;
  }
  const values: Record<string, unknown> = {};
  const places = new Map<string, Place>();
  const keyPlaces = new Map<string, Place>();
  const { found, meant } = sortEntries(map, known, context, collector);
  for (const entry of found) {
    const field = shape[entry.key]!;
    places.set(entry.key, entry.value.place);
    keyPlaces.set(entry.key, entry.keyPlace);
    if (entry.value.type !== 'empty') values[entry.key] = field.read(entry.value, entry.key, collector);
    else if (field.required && !entry.value.reported) {
      collector.error('empty-value', entry.keyPlace, { key: entry.key, example: field.example });
    }
  }
  for (const [key, { required, example }] of Object.entries(shape)) {
    if (!required || keyPlaces.has(key) || meant.has(key)) continue;
    collector.error('missing-key', context.place ?? map.place, { key, where: context.where, example });
  }
  return { values: values as Values<S>, places, keyPlaces };
}

function emptyMap(place: Place): MapNode {
  return { type: 'map', entries: [], place };
}

/**
 * The entries that the shape knows, and the keys that a misspelt one probably meant, which are then not missing as well;
 * the other entries are handed on or reported.
 */
function sortEntries(
  map: MapNode,
  known: readonly string[],
  context: RecordContext,
  collector: Collector,
): { readonly found: readonly MapEntry[]; readonly meant: ReadonlySet<string> } {
  const found: MapEntry[] = [];
  const meant = new Set<string>();
  for (const [index, entry] of map.entries.entries()) {
    if (known.includes(entry.key)) found.push(entry);
    else if (entry.bare && reportComma(map, index, collector)) continue;
    else if (context.others) context.others(entry);
    else {
      const { key, keyPlace } = entry;
      const nearest = nearestName(key, known);
      if (nearest !== undefined) meant.add(nearest);
      collector.error('unknown-key', keyPlace, { key, where: context.where, known, nearest });
    }
  }
  return { found: found.map((entry) => withoutCut(map, entry)), meant };
}

/** The entries of a mapping whose keys are the author's own, without the pieces of a text cut by a comma. */
export function freeEntries(map: MapNode, collector: Collector): readonly MapEntry[] {
  return map.entries
    .filter((entry, index) => !(entry.bare && reportComma(map, index, collector)))
    .map((entry) => withoutCut(map, entry));
}

/** An entry whose number a comma has cut is reported as a whole; what is left of it says nothing of its own. */
function withoutCut(map: MapNode, entry: MapEntry): MapEntry {
  if (!cutNumber(map, map.entries.indexOf(entry))) return entry;
  return { ...entry, value: { type: 'empty', place: entry.value.place, reported: true } };
}

/** A comma in a text without quotes has cut it: the pieces behind it stand as keys without a value. */
function reportComma(map: MapNode, index: number, collector: Collector): boolean {
  let first = index;
  while (first > 0 && map.entries[first]!.bare) first -= 1;
  const whole = map.entries[first]!;
  if (whole.bare || whole.value.type !== 'scalar') return false;
  if (first < index - 1) return true; // reported with the first piece
  let last = index;
  while (map.entries[last + 1]?.bare) last += 1;
  const pieces = map.entries.slice(index, last + 1);
  const { text, place } = whole.value;
  const entry = map.entries[index]!;
  const number = cutNumber(map, first);
  if (number) {
    collector.problem(number, place);
    return true;
  }
  const rest = pieces.map((piece) => piece.key).join(', ');
  collector.error('unquoted-comma', entry.keyPlace, { key: whole.key, text: `${text}, ${rest}`, rest });
  return true;
}

/** The number that a comma has cut where no blank follows it: `1,5 m`; undefined where it is no such number. */
function cutNumber(map: MapNode, first: number): Problem | undefined {
  const { value } = map.entries[first]!;
  if (value.type !== 'scalar' || !/^[+\-−]?\d+$/.test(value.text)) return undefined;
  let written = value.text;
  let { end } = value.place;
  for (const { bare, key, keyPlace } of map.entries.slice(first + 1)) {
    const touches = keyPlace.start === end + 1;
    if (!bare || !touches || !/^\d/.test(key)) break;
    written += `,${key}`;
    ({ end } = keyPlace);
  }
  const unit = written.replace(/^[+\-−\d,.]+/, '');
  const found = written === value.text ? undefined : separatorFault(written);
  return found && readQuantity(`1${unit}`).ok ? found.problem : undefined;
}

/** What stands there, with an article, for messages. */
export function nameNode(node: SourceNode): string {
  return NODE_NAMES[node.type];
}

const NODE_NAMES = {
  scalar: 'a text',
  reference: 'a reference',
  formula: 'a formula',
  list: 'a list',
  map: 'a mapping',
  empty: 'nothing',
} as const;

export function readScalar(node: SourceNode, key: string, collector: Collector): ScalarNode | undefined {
  if (node.type !== 'scalar') {
    collector.error('text-expected', node.place, { key, found: nameNode(node) });
    return undefined;
  }
  return node;
}

export const text: Read<string> = (node, key, collector) => {
  if (node.type === 'empty' && node.reported) return undefined;
  const scalar = readScalar(node, key, collector);
  if (!scalar) return undefined;
  const trimmed = scalar.text.trim();
  if (trimmed !== '') return trimmed;
  collector.error('empty-value', scalar.place, { key });
  return undefined;
};

/** A list of texts. One text alone is refused, since a comma in it would look like a list. */
export const texts: Read<readonly string[]> = (node, key, collector) => {
  const example =
    node.type === 'scalar' && !/[,:#[\]{}]/.test(node.text)
      ? `${key}: [${node.text}]`
      : 'each on a line of its own, beginning with a dash';
  const items = listItems(node, key, example, collector);
  if (!items) return undefined;
  const read = items.map((item) => text(item, key, collector));
  return read.filter((item) => item !== undefined);
};

export function listItems(
  node: SourceNode,
  key: string,
  example: string,
  collector: Collector,
): readonly SourceNode[] | undefined {
  if (node.type === 'list') return node.items;
  collector.error('list-expected', node.place, { key, found: nameNode(node), example });
  return undefined;
}

/** A list of mappings: each read by `read`, and what could not be read left out. */
export function listOf<T>(read: Read<T>, example: string): Read<readonly T[]> {
  return (node, key, collector) =>
    listItems(node, key, example, collector)
      ?.map((item) => read(item, key, collector))
      .filter((item) => item !== undefined);
}

export function option<const T extends string>(options: readonly T[]): Read<T> {
  return (node, key, collector) => {
    const scalar = readScalar(node, key, collector);
    if (!scalar) return undefined;
    const chosen = options.find((candidate) => candidate === scalar.text.trim());
    if (chosen !== undefined) return chosen;
    if (scalar.text === '' && options.some((candidate) => candidate.startsWith('>'))) {
      collector.error('relation-unquoted', scalar.place, { key });
      return undefined;
    }
    const nearest = nearestName(scalar.text, options);
    collector.error('not-an-option', scalar.place, { key, text: scalar.text, options, nearest });
    return undefined;
  };
}

/** A day of the calendar, ISO 8601: '2026-03-31'. */
export const date: Read<string> = (node, key, collector) => {
  const scalar = readScalar(node, key, collector);
  if (!scalar) return undefined;
  const written = scalar.text.trim();
  if (!DAY.test(written)) {
    collector.error('not-a-date', scalar.place, { key, text: written });
    return undefined;
  }
  if (isDay(written)) return written;
  collector.error('no-such-day', scalar.place, { text: written });
  return undefined;
};

const DAY = /^(\d{4})-(\d{2})-(\d{2})$/;

/** Whether a text is a day of the calendar, as it is written: '2026-03-31'. */
export function isDay(written: string): boolean {
  const [year, month, day] = (DAY.exec(written) ?? []).slice(1).map(Number);
  if (year === undefined || month === undefined || day === undefined) return false;
  if (year < 1 || month < 1 || month > 12 || day < 1) return false;
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return day <= [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1]!;
}
