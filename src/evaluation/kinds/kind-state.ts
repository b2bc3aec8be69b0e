import { ASPECTS, KindCell, type KindReason, type KindTerm } from '../../quantity/kind-term.ts';
import type { Aspect, KindWord } from '../../quantity/voltage-kind.ts';

/** What is known of some terms, and which of them share it, as data. */
export interface KindState {
  readonly cells: readonly { readonly possible: readonly KindWord[]; readonly reason?: KindReason }[];
  /** For each term and aspect the place of its cell in the list. */
  readonly terms: ReadonlyMap<string, Readonly<Record<Aspect, number>>>;
}

/** Writes down what is known of terms. */
export function readKindState(terms: ReadonlyMap<string, KindTerm>): KindState {
  const cells = new Map<KindCell, number>();
  const placeOf = ({ root }: KindCell): number => {
    const known = cells.get(root);
    if (known !== undefined) return known;
    cells.set(root, cells.size);
    return cells.size - 1;
  };
  const places = [...terms].map(
    ([name, { measure, between }]) =>
      [name, { measure: placeOf(measure), between: placeOf(between) }] as const,
  );
  return {
    cells: Array.from(cells.keys(), ({ possible, reason }) => ({ possible, ...(reason ? { reason } : {}) })),
    terms: new Map(places),
  };
}

/** New terms, which share nothing with others, of which the same is known. */
export function copyKindState(state: KindState): Map<string, KindTerm> {
  return enterKindState(state, new Map());
}

/**
 * Brings terms to a state that was found with terms like them: those that share a cell there are joined, and all hold what is known
 * there. Gives all terms of the state, new ones for those that are not among `live`.
 */
export function enterKindState(
  { cells, terms }: KindState,
  live: ReadonlyMap<string, KindTerm>,
): Map<string, KindTerm> {
  const sharing = cells.map((): KindCell[] => []);
  for (const [name, places] of terms) {
    const term = live.get(name);
    if (term) for (const aspect of ASPECTS) sharing[places[aspect]]!.push(term[aspect]);
  }
  const entered = cells.map(({ possible, reason }, i) => {
    const [first, ...others] = sharing[i]!;
    if (!first) return new KindCell(possible, reason);
    first.settle(possible, reason, others);
    return first;
  });
  return new Map(
    [...terms].map(([name, { measure, between }]) => [
      name,
      live.get(name) ?? { measure: entered[measure]!, between: entered[between]! },
    ]),
  );
}
