import type { Block } from '../../source/note-source.ts';

/** The givens that a complete block takes over from a base, each with the id of the block that writes it. */
export function listInherited({ given }: Pick<Block, 'given'>): ReadonlyMap<string, string> {
  return new Map(
    given.flatMap(({ name, origin }): [string, string][] =>
      origin?.kind === 'base' ? [[name, origin.id]] : [],
    ),
  );
}
