import { rootOf } from '../../evaluation/inherit/root-of.ts';
import type { Block } from '../../source/note-source.ts';

interface OnBase {
  readonly id: string;
  readonly source: Pick<Block, 'basedOn'>;
}

/** The blocks that are set out as one calculation, at the place of the first: a base and all that stand on it. */
export type Family<Item> = readonly [base: Item, ...variants: Item[]];

/** By the id of each of its blocks the family; a block without variants is in none. */
export function listFamilies<Item extends OnBase>(
  blocks: readonly Item[],
): ReadonlyMap<string, Family<Item>> {
  const byId = new Map(blocks.map((block) => [block.id, block]));
  const found = new Map<string, [Item, ...Item[]]>();
  for (const block of blocks) {
    const root = rootOf(block, ({ source }) => byId.get(source.basedOn?.name ?? ''));
    const family = found.get(root.id) ?? [root];
    if (block !== root) family.push(block);
    found.set(root.id, family);
  }
  const families = [...found.values()].filter((family) => family.length > 1);
  return new Map(families.flatMap((family) => family.map(({ id }): [string, Family<Item>] => [id, family])));
}

/** '1', '2a', '2b', '3': the blocks of a family share a number, and have a letter each. By the id of the block. */
export function numberBlocks(blocks: readonly OnBase[], prefix: string): ReadonlyMap<string, string> {
  const families = listFamilies(blocks);
  const numbers = new Map<string, string>();
  let last = 0;
  for (const { id } of blocks) {
    const family = families.get(id);
    if (family && family[0].id !== id) continue;
    last += 1;
    if (!family) numbers.set(id, `${prefix}${last}`);
    else for (const [i, member] of family.entries()) numbers.set(member.id, `${prefix}${last}${letter(i)}`);
  }
  return numbers;
}

/** a to z, then aa, ab. */
function letter(index: number): string {
  const own = String.fromCharCode(97 + (index % 26));
  return index < 26 ? own : `${letter(Math.floor(index / 26) - 1)}${own}`;
}
