import { CALCULATIONS } from '../../engine/calculations/registry.ts';
import type { GivenDefinition } from '../../engine/definition/definition.ts';
import type { Reading } from './reading.ts';

/** A name that a value of an item of the register may have, so that it can fill givens of that name. */
export interface KnownProperty {
  readonly name: string;
  readonly meaning: string;
  /** How many items of this register have it. */
  readonly uses: number;
}

let ofCatalogue: ReadonlyMap<string, GivenDefinition> | undefined;

/** Single givens of the catalogue by their names; of several with one name the first. */
export function givensOfCatalogue(): ReadonlyMap<string, GivenDefinition> {
  if (ofCatalogue) return ofCatalogue;
  const givens = new Map<string, GivenDefinition>();
  for (const { definition } of CALCULATIONS.values()) {
    for (const [name, given] of Object.entries(definition.givens)) {
      if (given.type !== 'quantity' && given.type !== 'choice') continue;
      if (!givens.has(name)) givens.set(name, given);
    }
  }
  ofCatalogue = givens;
  return givens;
}

/** Names for values of the register: those that are in use there first. */
export function knownProperties({ project }: Reading): readonly KnownProperty[] {
  const uses = new Map<string, number>();
  for (const path of project?.register.keys() ?? []) {
    const name = path.slice(path.lastIndexOf('.') + 1);
    uses.set(name, (uses.get(name) ?? 0) + 1);
  }
  const givens = givensOfCatalogue();
  const own = [...uses].map(([name, count]) => ({
    name,
    meaning: givens.get(name)?.meaning ?? 'in use in this register',
    uses: count,
  }));
  const others = [...givens]
    .filter(([name]) => !uses.has(name))
    .map(([name, { meaning }]) => ({ name, meaning, uses: 0 }));
  return [...own.sort((a, b) => b.uses - a.uses), ...others];
}
