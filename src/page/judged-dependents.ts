import type { WordedBlock, WordedNote } from '../evaluation/evaluated-note.ts';
import { listReferences } from '../evaluation/list-references.ts';
import { parseFormula } from '../formula/parse-formula.ts';
import { bare } from './given-view.ts';

/**
 * For each calculation the ids of the others that take a value over from it and make checks of their own, in the order of the note. A
 * limiting value leaves these checks out. Alternatives and auxiliary calculations limit nothing.
 */
export function listJudgedDependents({
  blocks,
}: Pick<WordedNote, 'blocks'>): ReadonlyMap<string, readonly string[]> {
  const dependents = new Map<string, string[]>();
  for (const block of blocks) {
    const { id, case: ofCase, evaluated } = block;
    if (evaluated.checks.length === 0 || ofCase === 'alternative' || ofCase === 'auxiliary') continue;
    for (const source of new Set(listTargets(block).map((target) => target.split('.')[0]!))) {
      if (source === id) continue;
      const ids = dependents.get(source);
      if (ids) ids.push(id);
      else dependents.set(source, [id]);
    }
  }
  return dependents;
}

/** What the givens refer to: those of the block itself, its ranges and tables too, and those that it has from its base. */
function listTargets({ source, evaluated }: WordedBlock): readonly string[] {
  const inherited = evaluated.givens.flatMap(({ origin, written = '' }) => {
    if (origin === 'reference') return [bare(written)];
    if (origin !== 'formula') return [];
    const parsed = parseFormula(bare(written));
    return parsed.ok ? parsed.value.names : [];
  });
  return [...listReferences(source.given).map(({ target }) => target), ...inherited];
}
