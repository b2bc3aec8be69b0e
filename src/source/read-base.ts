import type { Collector } from '../diagnostics/collector.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { Place } from '../diagnostics/place.ts';
import { relatedNote } from '../diagnostics/related-note.ts';
import type { Block, WrittenName } from './note-source.ts';
import { blockId } from './read-names.ts';
import { optional, type Read, type RecordReading, required } from './read-shape.ts';
import type { SourceNode } from './source-node.ts';
import { writtenNames } from './written-names.ts';

/** A list of names, each once, with their places. */
export const distinctNames: Read<readonly WrittenName[]> = (node, key, collector) => {
  const written = writtenNames(node, key, collector);
  const names = new Map<string, WrittenName>();
  for (const one of written ?? []) {
    const first = names.get(one.name);
    if (!first) names.set(one.name, one);
    else {
      const related = [{ place: first.place, note: relatedNote('first-written', {}) }];
      collector.error('named-twice', one.place, { name: one.name, key }, related);
    }
  }
  return written && [...names.values()];
};

/** The id of a block of this note. */
const baseId: Read<string> = (node, key, collector) => {
  if (node.type !== 'scalar' || !/^\d+\/|^[a-z][^ ]*\./.test(node.text)) return blockId(node, key, collector);
  const code = node.text.includes('/') ? 'base-in-other-note' : 'base-is-value';
  collector.error(code, node.place, { text: node.text });
  return undefined;
};

/** The keys by which a block stands on another. */
export const BASE_SHAPE = {
  based_on: optional(baseId),
  without: optional(distinctNames),
};

/** Where the key is there, it names a block. */
export const ON_BASE_SHAPE = { ...BASE_SHAPE, based_on: required(baseId, 'main-board') };

/** Whether a block means to stand on another, were the key misspelt. */
export function isOnBase(node: SourceNode): boolean {
  return node.type === 'map' && node.entries.some(({ key }) => nearestName(key, ['based_on']) !== undefined);
}

/** Places by key, of a mapping with further keys. */
interface BasePlaces {
  readonly places: { get(key: 'based_on'): Place | undefined };
  readonly keyPlaces: {
    has(key: 'based_on' | 'givens_from'): boolean;
    get(key: 'without'): Place | undefined;
  };
}

/** What a block says of its base; undefined where that is at fault, which is then reported. */
export function readBase(
  { values, places, keyPlaces }: Pick<RecordReading<typeof BASE_SHAPE>, 'values'> & BasePlaces,
  collector: Collector,
): Pick<Block, 'basedOn' | 'without'> | undefined {
  const { based_on: name, without } = values;
  if (name !== undefined) {
    return { basedOn: { name, place: places.get('based_on')! }, ...(without ? { without } : {}) };
  }
  if (keyPlaces.has('based_on')) return undefined;
  if (!without) return {};
  if (keyPlaces.has('givens_from')) return { without };
  collector.error('without-base', keyPlaces.get('without')!, {});
  return {};
}
