import type { WordedNote } from '../evaluation/evaluated-note.ts';
import { listReferences } from '../evaluation/list-references.ts';

/**
 * For each calculation the ids of the others that take a value over from it and make checks of their own, in the order of the note; of a
 * variant those count too that it has from its base. A limiting value leaves these checks out. Alternatives and auxiliary calculations
 * limit nothing.
 */
export function listJudgedDependents({
  blocks,
}: Pick<WordedNote, 'blocks'>): ReadonlyMap<string, readonly string[]> {
  const dependents = new Map<string, string[]>();
  for (const { id, case: ofCase, evaluated, source } of blocks) {
    if (evaluated.checks.length === 0 || ofCase === 'alternative' || ofCase === 'auxiliary') continue;
    for (const other of new Set(listReferences(source.given).map(({ target }) => target.split('.')[0]!))) {
      if (other === id) continue;
      const ids = dependents.get(other);
      if (ids) ids.push(id);
      else dependents.set(other, [id]);
    }
  }
  return dependents;
}
