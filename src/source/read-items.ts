import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { claimId, writtenId } from './read-names.ts';
import { listItems, type Read } from './read-shape.ts';
import type { SourceNode } from './source-node.ts';

/** Reads a block that is a list of items with ids; an id that is taken already is refused. */
export function readItems<T>(
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
  const items = listItems(node, kind, "each on lines of its own, beginning with '- id: ...'", collector);
  return (items ?? []).flatMap((item) => {
    const id = writtenId(item);
    const isNew = !id || claimId(id.text, id.place, claimed, collector);
    const value = read(item, kind, collector);
    return value && isNew ? [value] : [];
  });
}
