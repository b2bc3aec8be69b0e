import type { Span } from '../diagnostics/place.ts';
import type { Formula, Node } from './formula.ts';
import { childrenOf } from './node-kind.ts';

/** A quantity in a formula whose unit is spelt like a name. */
export interface UnitNamed {
  /** The quantity, as written: '3 h'. */
  readonly text: string;
  readonly name: string;
  readonly span: Span;
}

/**
 * The first quantity of a formula whose unit is also one of the names: behind its number the word is always read as the
 * unit, and an author who has a value of that name may mean a product.
 */
export function findUnitNamed(formula: Formula, names: ReadonlySet<string>): UnitNamed | undefined {
  const search = (node: Node): UnitNamed | undefined => {
    if (node.type === 'quantity') {
      const name = node.text.match(/[A-Za-z]+/g)?.find((word) => names.has(word));
      if (name !== undefined) return { text: node.text, name, span: node.span };
    }
    for (const child of childrenOf(node)) {
      const found = search(child);
      if (found) return found;
    }
    return undefined;
  };
  return search(formula.root);
}
