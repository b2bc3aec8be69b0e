import { CALCULATIONS } from '../../engine/calculations/registry.ts';
import type { Block, GivenSource, WrittenName } from '../../source/note-source.ts';

/** What stands in a block, or in the row of a table, that takes the rest from a base. */
export interface OwnGivens {
  readonly given: readonly GivenSource[];
  readonly without: readonly WrittenName[];
}

/** A given of a base that is not taken over because one of its alternatives is written. */
export interface Replaced {
  readonly name: string;
  readonly by: GivenSource;
}

export interface Inheritance {
  /** In the order of the base, what is written and not there behind it. What is taken over has its origin. */
  readonly given: readonly GivenSource[];
  readonly replaced: readonly Replaced[];
}

/**
 * The givens of a block on a base: what it writes itself, whole with source and range, and of the base what it neither
 * writes nor leaves out. Of givens that are alternatives ("one of"), the one that is written replaces the one of the base.
 */
export function inheritGivens({ given, without }: OwnGivens, base: Block): Inheritance {
  const own = new Map(given.map((one) => [one.name, one]));
  const left = new Set(without.map(({ name }) => name));
  const alternatives = alternativesOf(base);
  const replaced: Replaced[] = [];
  const inBase = base.given.flatMap((one): GivenSource[] => {
    const written = own.get(one.name);
    if (written) return [written];
    if (left.has(one.name)) return [];
    const by = alternatives
      .filter((oneOf) => oneOf.includes(one.name))
      .flat()
      .map((name) => own.get(name))
      .find((other) => other !== undefined);
    if (by) {
      replaced.push({ name: one.name, by });
      return [];
    }
    return [{ ...one, origin: one.origin ?? { kind: 'base', id: base.id } }];
  });
  const ofBase = new Set(base.given.map(({ name }) => name));
  return { given: [...inBase, ...given.filter(({ name }) => !ofBase.has(name))], replaced };
}

function alternativesOf(base: Block): readonly (readonly string[])[] {
  const calculation = base.kind === 'calc' ? CALCULATIONS.get(base.calculation) : undefined;
  return (calculation?.alternatives ?? []).map(({ oneOf }) => oneOf);
}
