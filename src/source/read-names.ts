import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { relatedNote } from '../diagnostics/related-note.ts';
import { type Read, readScalar } from './read-shape.ts';
import type { MapEntry, ScalarNode, SourceNode } from './source-node.ts';

/** Ids of blocks and keys of states: kebab-case. */
export const KEBAB_CASE = /^[a-z][a-z0-9]*(-[a-z0-9]+)*$/;
const ITEM_ID = /^[A-Za-z][A-Za-z0-9]*(-[A-Za-z0-9]+)*$/;
const NAME = /^[A-Za-z][A-Za-z0-9_]*$/;
const REGISTER_KEY = /^[A-Za-z0-9][\w-]*$/;

/** The id of a calculation block: kebab-case, since references and file names carry it. */
export const blockId: Read<string> = (node, key, collector) => {
  const scalar = readScalar(node, key, collector);
  if (!scalar || KEBAB_CASE.test(scalar.text)) return scalar?.text;
  const instead = suggest(scalar.text.toLowerCase(), '-', KEBAB_CASE);
  collector.error('malformed-id', scalar.place, { text: scalar.text, instead });
  return undefined;
};

/** The id of an assumption, a hold or a reference: offices write A1 or H-03 as well as kebab-case. */
export const itemId: Read<string> = (node, key, collector) => {
  const scalar = readScalar(node, key, collector);
  if (!scalar || ITEM_ID.test(scalar.text)) return scalar?.text;
  collector.error('malformed-id', scalar.place, {
    text: scalar.text,
    instead: suggest(scalar.text, '-', ITEM_ID),
  });
  return undefined;
};

/** Whether a key can be a symbol's name in formulas; reports it where it cannot. */
export function checkName({ key, keyPlace }: MapEntry, collector: Collector): boolean {
  if (NAME.test(key)) return true;
  collector.error('malformed-name', keyPlace, { text: key, instead: suggest(key, '_', NAME) });
  return false;
}

/** Whether a key can stand in a reference to the register; reports it where it cannot. */
export function checkRegisterKey(
  { key, keyPlace }: Pick<MapEntry, 'key' | 'keyPlace'>,
  collector: Collector,
): boolean {
  if (REGISTER_KEY.test(key)) return true;
  collector.error('malformed-name', keyPlace, { text: key, instead: suggest(key, '_', REGISTER_KEY) });
  return false;
}

function suggest(text: string, joint: '-' | '_', allowed: RegExp): string | undefined {
  const plain = text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9]+/g, joint)
    .replace(new RegExp(`^[${joint}0-9]+|${joint}+$`, 'g'), '');
  return allowed.test(plain) && plain !== text ? plain : undefined;
}

/** The id of a block or item, even where the rest of it is at fault. */
export function writtenId(node: SourceNode): ScalarNode | undefined {
  const value = node.type === 'map' ? node.entries.find((entry) => entry.key === 'id')?.value : undefined;
  return value?.type === 'scalar' ? value : undefined;
}

/** Reports the second use of an id with the place of the first; true where the id is new. */
export function claimId(
  id: string,
  place: Place,
  claimed: Map<string, Place>,
  collector: Collector,
): boolean {
  const first = claimed.get(id);
  if (!first) {
    claimed.set(id, place);
    return true;
  }
  collector.error('duplicate-id', place, { id }, [{ place: first, note: relatedNote('first-used', {}) }]);
  return false;
}
