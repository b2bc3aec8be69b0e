import type { Place } from '../diagnostics/place.ts';
import { parseFormula } from '../formula/parse-formula.ts';
import type { Block } from '../source/note-source.ts';
import type { SourceNode } from '../source/source-node.ts';
import { blockIdOf } from './resolve-target.ts';

/** A reference to another block of the note, with its place. */
export interface BlockReference {
  readonly id: string;
  readonly place: Place;
}

/** Every reference of a block to blocks of the note, in the order of its text; those to the register are left out. */
export function listReferences(block: Block, ids: ReadonlySet<string>): BlockReference[] {
  const nodes = block.given.flatMap(({ value, range, plusMinus }) => [
    value,
    ...(range ? [range.low, range.high] : []),
    ...(plusMinus ? [plusMinus] : []),
  ]);
  return nodes.flatMap(targetsIn).flatMap(({ target, place }) => {
    const id = blockIdOf(target, ids);
    return id === undefined ? [] : [{ id, place }];
  });
}

function targetsIn(node: SourceNode): { readonly target: string; readonly place: Place }[] {
  switch (node.type) {
    case 'reference':
      return [{ target: node.target, place: node.place }];
    case 'formula': {
      const parsed = parseFormula(node.text);
      return parsed.ok ? parsed.value.names.map((target) => ({ target, place: node.place })) : [];
    }
    case 'list':
      return node.items.flatMap(targetsIn);
    case 'map':
      return node.entries.flatMap(({ value }) => targetsIn(value));
    default:
      return [];
  }
}
