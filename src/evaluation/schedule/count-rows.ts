import type { BlockCase } from '../../source/note-source.ts';
import type { ScheduleRow } from './evaluated-schedule.ts';
import { governingCheck, outcomeOf, type RowOutcome } from './order-rows.ts';

/** How many rows of a case there are, and how many of them come to what, by the check that governs each. */
export interface RowCount extends Readonly<Record<RowOutcome, number>> {
  readonly case: BlockCase | undefined;
  readonly total: number;
}

const CASES: readonly (BlockCase | undefined)[] = [
  undefined,
  'proposed',
  'alternative',
  'as-found',
  'auxiliary',
];

/** The rows by case, those that count first; a row without a check is in the total alone. */
export function countRows(rows: readonly ScheduleRow[]): RowCount[] {
  return CASES.flatMap((ofCase) => {
    const own = rows.filter((row) => row.case === ofCase);
    if (own.length === 0) return [];
    const counts: Record<RowOutcome, number> = { met: 0, unmet: 0, open: 0 };
    for (const row of own) {
      const check = governingCheck(row);
      if (check) counts[outcomeOf(check)] += 1;
    }
    return [{ case: ofCase, total: own.length, ...counts }];
  });
}
