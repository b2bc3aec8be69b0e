import type { RowCheck, ScheduleRow } from './evaluated-schedule.ts';

/** What a row comes to by the check that governs it. */
export type RowOutcome = 'unmet' | 'open' | 'met';

const RANKS: Readonly<Record<RowOutcome, number>> = { unmet: 0, open: 1, met: 2 };

export function outcomeOf({ verdict }: Pick<RowCheck, 'verdict'>): RowOutcome {
  if (verdict === 'cannot-be-judged') return 'open';
  return verdict === 'complies' || verdict === 'met' ? 'met' : 'unmet';
}

/** The check on which a row stands or falls: of its requirements, or where it has none its recommendations, the least favourable. */
export function governingCheck({ checks }: Pick<ScheduleRow, 'checks'>): RowCheck | undefined {
  const required = checks.filter(({ force }) => force === 'requirement');
  const asked = required.length > 0 ? required : checks;
  return asked.reduce<RowCheck | undefined>(
    (worst, next) => (worst && compareChecks(worst, next) <= 0 ? worst : next),
    undefined,
  );
}

/**
 * The rows in the order in which they concern a reader: what fails, then what cannot be judged, since it may fail, then what complies,
 * each by its margin from the least; like ones in the order of the file. Rows without checks stand last.
 */
export function orderRows(rows: readonly ScheduleRow[]): ScheduleRow[] {
  return rows
    .map((row) => ({ row, check: governingCheck(row) }))
    .sort((a, b) => compareGoverning(a.check, b.check) || a.row.row - b.row.row)
    .map(({ row }) => row);
}

function compareGoverning(a: RowCheck | undefined, b: RowCheck | undefined): number {
  if (a && b) return compareChecks(a, b);
  return (a ? 0 : 1) - (b ? 0 : 1);
}

function compareChecks(a: RowCheck, b: RowCheck): number {
  const ranks = RANKS[outcomeOf(a)] - RANKS[outcomeOf(b)];
  if (ranks !== 0) return ranks;
  const [left, right] = [distanceOf(a), distanceOf(b)];
  return left === right ? 0 : left < right ? -1 : 1;
}

/** What fails without a margin fails worst; what holds without one is not near its limit. */
function distanceOf(check: RowCheck): number {
  const { margin } = check;
  // Of a limit that is nought no part can be told.
  if (margin?.of === 'limit') return margin.value;
  return outcomeOf(check) === 'met' ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
}
