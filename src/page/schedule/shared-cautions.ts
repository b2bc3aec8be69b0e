import type { EvaluatedCaution } from '../../engine/definition/evaluated.ts';
import type { ScheduleRow } from '../../evaluation/schedule/evaluated-schedule.ts';

/** A caution of rows, told once. */
export interface SharedCaution {
  readonly caution: EvaluatedCaution;
  readonly count: number;
  readonly ofAll: boolean;
  /** The first of the rows, as many as are named. */
  readonly rows: readonly string[];
}

const MOST_NAMED = 12;

/** The cautions of all rows: each stands once, as the first row with it has it, with how many rows it concerns and which. */
export function shareCautions(rows: readonly ScheduleRow[]): readonly SharedCaution[] {
  const known = new Map<string, { readonly caution: EvaluatedCaution; readonly rows: string[] }>();
  for (const row of rows)
    for (const caution of row.cautions) {
      const shared = known.get(caution.id);
      if (!shared) known.set(caution.id, { caution, rows: [row.id] });
      else if (shared.rows.at(-1) !== row.id) shared.rows.push(row.id);
    }
  return [...known.values()].map(({ caution, rows: ids }) => ({
    caution,
    count: ids.length,
    ofAll: ids.length === rows.length,
    rows: ids.slice(0, MOST_NAMED),
  }));
}
