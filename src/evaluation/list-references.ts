import type { Place } from '../diagnostics/place.ts';
import { parseFormula } from '../formula/parse-formula.ts';
import type { GivenSource } from '../source/note-source.ts';
import type { SourceNode } from '../source/source-node.ts';

/** What a reference names: 'block.name' or a path of the register, with its place. */
export interface WrittenReference {
  readonly target: string;
  readonly place: Place;
}

/** Every reference of a block's givens, in the order of its text. */
export function listReferences(given: readonly GivenSource[]): WrittenReference[] {
  return given
    .flatMap(({ value, range, plusMinus }) => [
      value,
      ...(range ? [range.low, range.high] : []),
      ...(plusMinus ? [plusMinus] : []),
    ])
    .flatMap(targetsIn);
}

function targetsIn(node: SourceNode): WrittenReference[] {
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
