import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import type { ComparisonBlock } from './note-source.ts';
import { distinctNames } from './read-base.ts';
import { optional, readRecord, required, text } from './read-shape.ts';
import type { SourceNode } from './source-node.ts';

export const COMPARISON = {
  of: required(distinctNames, '[as-found, proposed]'),
  title: optional(text),
};

/** Reads a `yaml comparison` block; `place` is the opening fence. */
export function readComparison(
  node: SourceNode,
  place: Place,
  collector: Collector,
): ComparisonBlock | undefined {
  const reading = readRecord(node, COMPARISON, { where: 'the comparison', place }, collector);
  const { of, title } = reading?.values ?? {};
  if (!reading || !of) return undefined;
  if (of.length < 2) {
    collector.error('too-few-compared', reading.places.get('of')!, { count: of.length });
    return undefined;
  }
  return { of, place, ...(title === undefined ? {} : { title }) };
}
