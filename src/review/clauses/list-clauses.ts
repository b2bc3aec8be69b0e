import type { Basis, Knowledge } from '../../engine/definition/basis.ts';
import type { EvaluatedCalculation } from '../../engine/definition/evaluated.ts';
import { SOURCES, type SourceKey } from '../../engine/sources.ts';
import type { ProjectSource, SourceConfirmation } from '../../source/project-source.ts';

/** A clause on which calculations rest, and who has compared it with the text where it was written down from memory. */
export interface UsedClause {
  readonly source: SourceKey;
  readonly clause: string;
  readonly known: Knowledge;
  /** The ids of the blocks that rest on it. */
  readonly blocks: readonly string[];
  readonly confirmed?: SourceConfirmation;
}

/** A block as far as it says on what it rests. */
export interface RestingBlock {
  readonly id: string;
  readonly evaluated: Pick<EvaluatedCalculation, 'givens' | 'steps' | 'checks' | 'cautions'>;
}

/** The clauses of all blocks, each once, by source in the order in which they are first named. Of a clause that is known in two ways the weaker counts. */
export function listClauses(
  blocks: readonly RestingBlock[],
  { sourcesConfirmed = [] }: Pick<ProjectSource, 'sourcesConfirmed'>,
): readonly UsedClause[] {
  const bySource = new Map<SourceKey, Map<string, { known: Knowledge; blocks: Set<string> }>>();
  for (const { id, evaluated } of blocks) {
    for (const basis of basesOf(evaluated)) {
      if (basis.kind !== 'source') continue;
      const clauses = bySource.get(basis.source) ?? new Map();
      bySource.set(basis.source, clauses);
      const before = clauses.get(basis.clause);
      const known = before?.known.by === 'memory' ? before.known : basis.known;
      clauses.set(basis.clause, { known, blocks: (before?.blocks ?? new Set()).add(id) });
    }
  }
  return [...bySource].flatMap(([source, clauses]) =>
    [...clauses].map(([clause, { known, blocks: ids }]) => {
      const confirmed =
        known.by === 'memory'
          ? sourcesConfirmed.find((one) => isOf(one, source) && one.clause === clause)
          : undefined;
      return { source, clause, known, blocks: [...ids], ...(confirmed ? { confirmed } : {}) };
    }),
  );
}

/** Those that were written down from memory, and that nobody has compared with the text. */
export function openClauses(clauses: readonly UsedClause[]): readonly UsedClause[] {
  return clauses.filter(({ known, confirmed }) => known.by === 'memory' && confirmed === undefined);
}

/** A source is named by its designation, as the document prints it. */
function isOf({ source }: Pick<SourceConfirmation, 'source'>, key: SourceKey): boolean {
  return SOURCES[key].designation === source;
}

function basesOf({ givens, steps, checks, cautions }: RestingBlock['evaluated']): Basis[] {
  return [
    ...givens.flatMap(({ basis }) => basis ?? []),
    ...steps.map((step) => step.basis),
    ...checks.map((check) => check.basis),
    ...cautions.flatMap((caution) => caution.basis ?? []),
  ];
}
