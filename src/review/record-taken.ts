import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { TakenValue } from '../evaluation/other-notes/taken-value.ts';
import { recordQuantity } from './record-block.ts';
import { EXACT, mapNode, NUMERICAL, type RecordedNode, textNode } from './recorded-node.ts';

/** What is recorded of the values that a note takes from others: each by its reference; an empty map where it takes none. */
export function recordTaken({ taken }: Pick<EvaluatedNote, 'taken'>): RecordedNode {
  return mapNode(taken.map((value) => [value.target, recordValue(value)]));
}

function recordValue({ value, numerical }: TakenValue): RecordedNode {
  const precision = numerical ? NUMERICAL : EXACT;
  switch (value.type) {
    case 'quantity':
      return recordQuantity(value.quantity, precision);
    case 'list':
      return { type: 'list', items: value.items.map((item) => recordQuantity(item, precision)) };
    case 'choice':
      return textNode(value.choice);
    case 'words':
    case 'text':
      return textNode(value.print);
  }
}
