import { CALCULATIONS } from './calculations/registry.ts';
import type { SourceKey } from './sources.ts';

let known: Map<string, Set<string>> | undefined;

/** The clauses of a source that definitions of the catalogue name, evidence left out. Gathered once, when it is first asked. */
export function knownClauses(source: SourceKey): ReadonlySet<string> {
  if (!known) {
    known = new Map();
    for (const { definition } of CALCULATIONS.values()) gather({ ...definition, evidence: [] }, known);
  }
  return known.get(source) ?? new Set();
}

function gather(part: unknown, clauses: Map<string, Set<string>>): void {
  if (typeof part !== 'object' || part === null) return;
  if ('kind' in part && part.kind === 'source' && 'source' in part && 'clause' in part) {
    const source = String(part.source);
    const own = clauses.get(source) ?? new Set();
    clauses.set(source, own.add(String(part.clause)));
    return;
  }
  for (const inner of Object.values(part)) gather(inner, clauses);
}
