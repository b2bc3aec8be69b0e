import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import type { Hold } from './note-source.ts';
import { readItems } from './read-items.ts';
import { itemId } from './read-names.ts';
import { date, option, optional, type Read, readRecord, required, text } from './read-shape.ts';
import type { SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';

export const HOLD = {
  id: required(itemId, 'H1'),
  missing: required(text),
  effect: required(text),
  owner: optional(text),
  due: optional(date),
  state: optional(option(['open', 'closed'])),
  closed_by: optional(text),
};

const hold: Read<Hold> = (node, _, collector) => {
  const reading = readRecord(node, HOLD, { where: 'a hold' }, collector);
  const { id, missing, effect, state, owner, due, closed_by } = reading?.values ?? {};
  if (!id || !missing || !effect) return undefined;
  const place = reading?.places.get('id') ?? node.place;
  return withoutUndefined({
    id,
    missing,
    effect,
    state: state ?? 'open',
    owner,
    due,
    closedBy: closed_by,
    place,
  });
};

/** Reads a `yaml holds` block: open points that block issue. */
export function readHolds(
  node: SourceNode,
  claimed: Map<string, Place>,
  collector: Collector,
): readonly Hold[] {
  return readItems(node, 'holds', hold, claimed, collector);
}
