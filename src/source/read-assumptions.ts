import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import type { Assumption } from './note-source.ts';
import { readItems } from './read-items.ts';
import { itemId } from './read-names.ts';
import { date, option, optional, type Read, readRecord, required, text } from './read-shape.ts';
import type { SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';

export const ASSUMPTION = {
  id: required(itemId, 'A1'),
  text: required(text),
  basis: optional(text),
  state: required(option(['confirmed', 'to be confirmed']), 'to be confirmed'),
  owner: optional(text),
  due: optional(date),
  closed_by: optional(text),
};

const assumption: Read<Assumption> = (node, _, collector) => {
  const reading = readRecord(node, ASSUMPTION, { where: 'an assumption' }, collector);
  const { id, text, basis, state, owner, due, closed_by } = reading?.values ?? {};
  if (!id || !text || !state) return undefined;
  const place = reading?.places.get('id') ?? node.place;
  return withoutUndefined({ id, text, basis, state, owner, due, closedBy: closed_by, place });
};

/** Reads a `yaml assumptions` block. */
export function readAssumptions(
  node: SourceNode,
  claimed: Map<string, Place>,
  collector: Collector,
): readonly Assumption[] {
  return readItems(node, 'assumptions', assumption, claimed, collector);
}
