import type { WrittenName } from './note-source.ts';
import { listItems, type Read, text } from './read-shape.ts';

/** A list of names that lead to something, each with its place. */
export const writtenNames: Read<readonly WrittenName[]> = (node, key, collector) =>
  listItems(node, key, `${key}: [first, second]`, collector)?.flatMap((item) => {
    const name = text(item, key, collector);
    return name === undefined ? [] : [{ name, place: item.place }];
  });
