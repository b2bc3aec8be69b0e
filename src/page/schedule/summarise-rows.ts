import type { RowCheck, ScheduleRow } from '../../evaluation/schedule/evaluated-schedule.ts';
import {
  governingCheck,
  orderRows,
  outcomeOf,
  type RowOutcome,
} from '../../evaluation/schedule/order-rows.ts';

/** A row as the tables show it: by the check that governs it. */
export interface RowSummary {
  readonly row: ScheduleRow;
  readonly governing: RowCheck;
  readonly outcome: RowOutcome;
  /** As a part of the limit; undefined where there is none. */
  readonly margin: number | undefined;
  /** Beside requirements, a recommendation is not met or cannot be judged. */
  readonly adviceOpen: boolean;
}

/** The rows that are judged, in the order in which they concern a reader. */
export function summariseRows(rows: readonly ScheduleRow[]): readonly RowSummary[] {
  return orderRows(rows).flatMap((row) => {
    const governing = governingCheck(row);
    if (!governing) return [];
    const { margin, counts } = governing;
    const beside = governing.force === 'requirement' ? row.checks : [];
    return {
      row,
      governing,
      outcome: outcomeOf(governing),
      // Of a limit that is nought, and of numbers of things, no part is told.
      margin: !counts && margin?.of === 'limit' && Number.isFinite(margin.value) ? margin.value : undefined,
      adviceOpen: beside.some((check) => check.force === 'recommendation' && outcomeOf(check) !== 'met'),
    };
  });
}
