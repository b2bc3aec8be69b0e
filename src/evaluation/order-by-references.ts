import type { RelatedPlace } from '../diagnostics/diagnostic.ts';
import type { Place } from '../diagnostics/place.ts';
import { relatedNote } from '../diagnostics/related-note.ts';

/** Something that refers to others of its kind: a block of a note, a note of a project. */
export interface Referring {
  readonly id: string;
  /** What messages call it; its id where absent. */
  readonly name?: string;
}

/** A reference of one item to another, with its place. */
export interface ItemReference {
  readonly id: string;
  readonly place: Place;
}

/** References that lead back to where they began. */
export interface ReferenceCircle {
  /** Of the reference that closes it. */
  readonly place: Place;
  /** The ids of the items on the way; the first is also the last. */
  readonly ids: readonly string[];
  /** The same by their names. */
  readonly chain: readonly string[];
  readonly related: readonly RelatedPlace[];
}

/** An item on the way to the one that comes first, and the references of it that are still to be followed. */
interface Visit<Item> {
  readonly item: Item;
  /** Where the reference stands that led here; undefined for the first item of a chain. */
  readonly place: Place | undefined;
  readonly open: ItemReference[];
}

export interface ReferenceOrder<Item> {
  /** Every item after those to which it refers, but for references that close a circle. */
  readonly items: readonly Item[];
  readonly circles: readonly ReferenceCircle[];
}

/**
 * The order in which items can be evaluated: that in which they come, but each after those to which it refers, which are added where
 * they are not among the first.
 *
 * @param itemOf the item of an id to which another refers
 * @param referencesOf the references of an item, in the order of the text
 */
export function orderByReferences<Item extends Referring>(
  first: readonly Item[],
  itemOf: (id: string) => Item,
  referencesOf: (item: Item) => readonly ItemReference[],
): ReferenceOrder<Item> {
  const ordered = new Map<string, Item>();
  const circles: ReferenceCircle[] = [];
  // A list stands for the stack: a chain of references may be as long as the note.
  const under: Visit<Item>[] = [];
  const ids = new Set<string>();
  const enter = (item: Item, place: Place | undefined): void => {
    const open = ordered.has(item.id) ? [] : [...referencesOf(item)];
    under.push({ item, place, open });
    ids.add(item.id);
  };
  for (const start of first) {
    enter(start, undefined);
    while (under.length > 0) {
      const { item, open } = under.at(-1)!;
      const next = open.shift();
      if (!next) {
        ordered.set(item.id, item);
        under.pop();
        ids.delete(item.id);
      } else if (ids.has(next.id)) circles.push(circleOf(under, next));
      else if (!ordered.has(next.id)) enter(itemOf(next.id), next.place);
    }
  }
  return { items: [...ordered.values()], circles };
}

function circleOf<Item extends Referring>(
  under: readonly Visit<Item>[],
  { id, place }: ItemReference,
): ReferenceCircle {
  const circle = under.slice(under.findIndex((visit) => visit.item.id === id));
  const names = circle.map(({ item }) => item.name ?? item.id);
  const related = circle
    .slice(1)
    .flatMap((visit, i) =>
      visit.place
        ? [{ place: visit.place, note: relatedNote('refers-to', { from: names[i]!, to: names[i + 1]! }) }]
        : [],
    );
  return {
    place,
    ids: circle.map(({ item }) => item.id),
    chain: [...names, names[0]!],
    related,
  };
}
