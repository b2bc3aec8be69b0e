import type { RelatedPlace } from '../diagnostics/diagnostic.ts';
import type { Place } from '../diagnostics/place.ts';
import { relatedNote } from '../diagnostics/related-note.ts';
import type { Block } from '../source/note-source.ts';

/** A reference of one block to another, with its place. */
export interface BlockReference {
  readonly id: string;
  readonly place: Place;
}

/** References that lead back to where they began. */
export interface ReferenceCircle {
  /** Of the reference that closes it. */
  readonly place: Place;
  /** The ids of the blocks on the way; the first is also the last. */
  readonly chain: readonly string[];
  readonly related: readonly RelatedPlace[];
}

/** A block on the way to the one that is evaluated first, and the references of it that are still to be followed. */
interface Visit {
  readonly block: Block;
  /** Where the reference stands that led here; undefined for the first block of a chain. */
  readonly place: Place | undefined;
  readonly open: BlockReference[];
}

export interface BlockOrder {
  /** Every block after those to which it refers, but for references that close a circle. */
  readonly blocks: readonly Block[];
  readonly circles: readonly ReferenceCircle[];
}

/**
 * The order in which the blocks of a note can be evaluated: that of the text, but each after those to which it refers.
 *
 * @param referencesOf the references of a block to blocks of the note, in the order of the text
 */
export function orderBlocks(
  blocks: readonly Block[],
  referencesOf: (block: Block) => readonly BlockReference[],
): BlockOrder {
  const byId = new Map(blocks.map((block) => [block.id, block]));
  const ordered = new Map<string, Block>();
  const circles: ReferenceCircle[] = [];
  // A list stands for the stack: a chain of references may be as long as the note.
  const under: Visit[] = [];
  const ids = new Set<string>();
  const enter = (block: Block, place: Place | undefined): void => {
    const open = ordered.has(block.id) ? [] : [...referencesOf(block)];
    under.push({ block, place, open });
    ids.add(block.id);
  };
  for (const first of blocks) {
    enter(first, undefined);
    while (under.length > 0) {
      const { block, open } = under.at(-1)!;
      const next = open.shift();
      if (!next) {
        ordered.set(block.id, block);
        under.pop();
        ids.delete(block.id);
      } else if (ids.has(next.id)) circles.push(circleOf(under, next));
      else if (!ordered.has(next.id)) enter(byId.get(next.id)!, next.place);
    }
  }
  return { blocks: [...ordered.values()], circles };
}

function circleOf(under: readonly Visit[], { id, place }: BlockReference): ReferenceCircle {
  const circle = under.slice(under.findIndex((visit) => visit.block.id === id));
  const related = circle.slice(1).flatMap((visit, i) =>
    visit.place
      ? [
          {
            place: visit.place,
            note: relatedNote('refers-to', { from: circle[i]!.block.id, to: visit.block.id }),
          },
        ]
      : [],
  );
  return { place, chain: [...circle.map((visit) => visit.block.id), id], related };
}
