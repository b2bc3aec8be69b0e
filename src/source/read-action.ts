import type { BlockAction, ProseValue } from './note-source.ts';
import { date, optional, type Read, readRecord, required } from './read-shape.ts';
import { textWithValues, valuesIn } from './read-text-with-values.ts';
import { withoutUndefined } from './without-undefined.ts';

export const ACTION = {
  what: required(textWithValues, 'Move the SPD to the bus-bar chamber'),
  where: optional(textWithValues),
  owner: optional(textWithValues),
  due: optional(date),
  proof: optional(textWithValues),
};

/** What is to be done about a block; a key of every kind of calculation block. */
export const action: Read<BlockAction> = (node, _, collector) => {
  const reading = readRecord(node, ACTION, { where: 'an action' }, collector);
  const { what, where, owner, due, proof } = reading?.values ?? {};
  if (!reading || !what) return undefined;
  const { place } = node;
  return withoutUndefined({ what, where, owner, due, duePlace: reading.places.get('due'), proof, place });
};

/** The values that stand in the texts of an action. */
export function valuesOfAction({ what, where, owner, proof }: BlockAction): readonly ProseValue[] {
  return [what, where, owner, proof].flatMap(valuesIn);
}
