import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import type { GivenSource } from './note-source.ts';
import { freeEntries, nameNode, optional, type Read, readRecord, required, text } from './read-shape.ts';
import type { MapEntry, SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';

/** A value of any form; what it must be is for the calculation to say. */
export const anyValue: Read<SourceNode> = (node) => node;

export type RangeSource = NonNullable<GivenSource['range']>;

/** Both ends of a value that is not known exactly: `[7 m, 8 m]`. */
const range: Read<RangeSource> = (node, key, collector) => {
  if (node.type !== 'list') {
    collector.error('malformed-range', node.place, { key, found: nameNode(node) });
    return undefined;
  }
  const [low, high] = node.items.map((item) => single(item, key, collector));
  if (node.items.length !== 2) {
    const found = node.items.length === 1 ? 'one value' : `a list of ${node.items.length}`;
    collector.error('malformed-range', node.place, { key, found });
    return undefined;
  }
  return low && high ? { low, high, place: node.place } : undefined;
};

/** One value: a quantity, a reference or a formula. */
const single: Read<SourceNode> = (node, key, collector) => {
  if (node.type !== 'list' && node.type !== 'map' && node.type !== 'empty') return node;
  collector.error('value-expected', node.place, { key, found: nameNode(node), example: '7.5 m' });
  return undefined;
};

/** The keys of a value that is written as a mapping. */
export const VALUE_SHAPE = {
  value: required(anyValue, '7.5 m'),
  source: optional(text),
  range: optional(range),
  plus_minus: optional(single),
};

export interface ValueSource {
  /** Empty where the value is missing or at fault; that has been reported. */
  readonly value: SourceNode;
  readonly source?: string;
  readonly range?: RangeSource;
  readonly plusMinus?: SourceNode;
}

/** Whether nothing stands behind a key that needs something; reports it. */
export function isEmpty({ key, keyPlace, value }: MapEntry, collector: Collector, example?: string): boolean {
  if (value.type !== 'empty') return false;
  if (!value.reported) collector.error('empty-value', keyPlace, { key, example });
  return true;
}

/** What follows the name of a given: the value itself, or a mapping of value, source and range. */
function readValue(entry: MapEntry, collector: Collector): ValueSource {
  const { key, value } = entry;
  if (isEmpty(entry, collector, '7.5 m')) return { value: faulty(value.place) };
  if (value.type !== 'map') return { value: withoutPieces(value, collector) };
  const reading = readRecord(value, VALUE_SHAPE, { where: `'${key}'` }, collector);
  return reading ? composeValue(reading.values, value, collector) : { value: faulty(value.place) };
}

/** Puts a value together from its keys. */
export function composeValue(
  values: {
    readonly value: SourceNode | undefined;
    readonly source: string | undefined;
    readonly range: RangeSource | undefined;
    readonly plus_minus: SourceNode | undefined;
  },
  written: SourceNode,
  collector: Collector,
): ValueSource {
  let value = values.value ? withoutPieces(values.value, collector) : faulty(written.place);
  if (value.type === 'map') {
    collector.error('value-expected', value.place, { key: 'value', found: 'a mapping', example: '7.5 m' });
    value = faulty(value.place);
  }
  const spread = values.range?.place ?? values.plus_minus?.place;
  if (values.range && values.plus_minus) collector.error('range-and-plus-minus', values.plus_minus.place, {});
  else if (spread && value.type === 'list') collector.error('plus-minus-of-list', spread, {});
  return withoutUndefined({
    value,
    source: values.source,
    range: values.range,
    plusMinus: values.plus_minus,
  });
}

/** Stands for a value whose fault has been reported. */
export function faulty(place: Place): SourceNode {
  return { type: 'empty', place, reported: true };
}

/** A list whose rows are freed of the pieces of texts that a comma has cut. */
function withoutPieces(node: SourceNode, collector: Collector): SourceNode {
  if (node.type !== 'list') return node;
  const items = node.items.map((item) =>
    item.type === 'map' ? { ...item, entries: freeEntries(item, collector) } : item,
  );
  return { ...node, items };
}

/** The givens of a calculation, in the order in which they are written. */
export const givens: Read<readonly GivenSource[]> = (node, key, collector) => {
  const entries = namedEntries(node, key, collector);
  return entries?.map((entry) => ({
    name: entry.key,
    namePlace: entry.keyPlace,
    ...readValue(entry, collector),
  }));
};

/** The entries of a mapping from names to something. */
export function namedEntries(
  node: SourceNode,
  key: string,
  collector: Collector,
): readonly MapEntry[] | undefined {
  if (node.type === 'map') return freeEntries(node, collector);
  if (node.type !== 'empty' || !node.reported) {
    collector.error('mapping-expected', node.place, { where: `'${key}'`, found: nameNode(node), known: [] });
  }
  return undefined;
}
