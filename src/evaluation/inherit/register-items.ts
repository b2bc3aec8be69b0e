import type { ProjectSource, RegisterEntry } from '../../source/project-source.ts';

/** The values of an item by their names: 'protection_level' -> the entry. */
export type ItemValues = ReadonlyMap<string, RegisterEntry>;

type Register = ProjectSource['register'];

const known = new WeakMap<Register, ReadonlyMap<string, ItemValues>>();

/** The items of a register that have values, by their paths: 'equipment.SPD1'. Listed once for each register. */
export function itemsOf(register: Register): ReadonlyMap<string, ItemValues> {
  const listed = known.get(register) ?? listItems(register);
  known.set(register, listed);
  return listed;
}

function listItems(register: Register): ReadonlyMap<string, ItemValues> {
  const items = new Map<string, Map<string, RegisterEntry>>();
  for (const [path, entry] of register) {
    const end = path.lastIndexOf('.');
    const item = path.slice(0, end);
    const values = items.get(item) ?? new Map<string, RegisterEntry>();
    values.set(path.slice(end + 1), entry);
    items.set(item, values);
  }
  return items;
}
