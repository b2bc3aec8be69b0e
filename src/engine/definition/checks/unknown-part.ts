import { nearestName } from '../../../diagnostics/nearest-name.ts';
import { problem } from '../../../diagnostics/problem.ts';
import type { DefinitionFault } from '../definition-fault.ts';

/** The fault of every one of some names that is none of those known; `what` reads 'a given'. */
export function findUnknown(
  where: string,
  names: Iterable<string>,
  what: string,
  known: readonly string[],
): DefinitionFault[] {
  return [...names]
    .filter((name) => !known.includes(name))
    .map((name) => ({
      where,
      problem: problem('unknown-part', { name, what, nearest: nearestName(name, known), known }),
    }));
}
