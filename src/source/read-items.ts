import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { claimId } from './read-names.ts';
import { listOf, type Read } from './read-shape.ts';
import type { SourceNode } from './source-node.ts';

/** Reads a block that is a list of items with ids; an id that is taken already is refused. */
export function readItems<T extends { readonly id: string; readonly place: Place }>(
  node: SourceNode,
  kind: string,
  read: Read<T>,
  claimed: Map<string, Place>,
  collector: Collector,
): readonly T[] {
  if (node.type === 'empty') {
    if (!node.reported) collector.error('empty-value', node.place, { key: kind });
    return [];
  }
  const items = listOf(read, "each on lines of its own, beginning with '- id: ...'")(node, kind, collector);
  return (items ?? []).filter((item) => claimId(item.id, item.place, claimed, collector));
}
