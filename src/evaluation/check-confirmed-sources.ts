import type { Collector } from '../diagnostics/collector.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import { startOf } from '../diagnostics/place.ts';
import { knownClauses } from '../engine/known-clauses.ts';
import { SOURCES, type SourceKey } from '../engine/sources.ts';
import type { ProjectSource, SourceConfirmation } from '../source/project-source.ts';

const KEYS = Object.keys(SOURCES) as SourceKey[];

/** Reports every confirmation that names no person, no source or no clause on which a calculation can rest, and what stands twice. */
export function checkConfirmedSources(project: ProjectSource, collector: Collector): void {
  const before = new Set<string>();
  for (const one of project.sourcesConfirmed ?? []) {
    const placeOf = (key: string) => one.places.get(key) ?? startOf(project.file);
    if (!project.people.some(({ key }) => key === one.by)) {
      const nearest = nearestName(
        one.by,
        project.people.map(({ key }) => key),
      );
      collector.error('confirmed-by-nobody', placeOf('by'), { by: one.by, nearest });
    }
    checkClause(one, placeOf, collector);
    const said = JSON.stringify([one.source, one.clause]);
    if (before.has(said)) collector.error('confirmed-twice', placeOf('clause'), { clause: one.clause });
    before.add(said);
  }
}

function checkClause(
  { source, clause }: SourceConfirmation,
  placeOf: (key: string) => ReturnType<typeof startOf>,
  collector: Collector,
): void {
  const key = KEYS.find((one) => SOURCES[one].designation === source);
  if (key === undefined) {
    const designations = KEYS.map((one) => SOURCES[one].designation);
    collector.error('confirmed-source-unknown', placeOf('source'), {
      source,
      nearest: nearestName(source, designations),
    });
    return;
  }
  const clauses = [...knownClauses(key)].sort();
  if (clauses.includes(clause)) return;
  collector.error('confirmed-clause-unknown', placeOf('clause'), {
    source,
    clause,
    nearest: nearestName(clause, clauses),
    known: clauses,
  });
}
