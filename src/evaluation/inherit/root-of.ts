import type { Block } from '../../source/note-source.ts';

type OnBase = Pick<Block, 'id' | 'basedOn'>;

/** The block at the end of the chain of bases; the block itself where it stands on none. The chain must be free of circles. */
export function rootOf<Item extends OnBase>(block: Item, blocks: ReadonlyMap<string, Item>): Item {
  let root = block;
  while (root.basedOn) {
    const base = blocks.get(root.basedOn.name);
    if (!base) return root;
    root = base;
  }
  return root;
}
