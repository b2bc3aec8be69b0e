/** The last of a chain of bases: the item itself where it stands on none. The chain must be free of circles. */
export function rootOf<Item>(item: Item, baseOf: (item: Item) => Item | undefined): Item {
  let root = item;
  for (let base = baseOf(root); base !== undefined; base = baseOf(root)) root = base;
  return root;
}
