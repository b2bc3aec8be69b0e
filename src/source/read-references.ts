import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import type { DocumentReference } from './note-source.ts';
import { readItems } from './read-items.ts';
import { itemId } from './read-names.ts';
import { optional, type Read, readRecord, required, text } from './read-shape.ts';
import type { SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';

export const REFERENCE = {
  id: required(itemId, 'routine-test-report'),
  title: required(text),
  designation: optional(text),
  edition: optional(text),
  issuer: optional(text),
};

const reference: Read<DocumentReference> = (node, _, collector) => {
  const reading = readRecord(node, REFERENCE, { where: 'a reference' }, collector);
  const { id, title, designation, edition, issuer } = reading?.values ?? {};
  if (!id || !title) return undefined;
  const place = reading?.places.get('id') ?? node.place;
  return withoutUndefined({ id, title, designation, edition, issuer, place });
};

/** Reads a `yaml references` block: documents that the note builds on. */
export function readReferences(
  node: SourceNode,
  claimed: Map<string, Place>,
  collector: Collector,
): readonly DocumentReference[] {
  return readItems(node, 'references', reference, claimed, collector);
}
