import type { RowSummary } from './summarise-rows.ts';

/** What a note prints of the rows of a schedule; each part in the order of the rows. */
export interface RowChoice {
  /** A line each in the table. */
  readonly lines: readonly RowSummary[];
  /** Named in a list with their margins. */
  readonly listed: readonly RowSummary[];
  /** Counted; they comply, and stand in the attached file. */
  readonly counted: readonly RowSummary[];
  /** Whether all that were left out of the table comply by an ample margin. */
  readonly withoutAmple: boolean;
}

/** About four pages of the table. */
const USUAL_LINES = 250;
/** A schedule of so few rows stands in the table whole: a page. */
const SMALL_SCHEDULE = 60;
/** A row that complies by so much of its limit does not ask for a line. */
export const AMPLE_MARGIN = 0.2;
/** Of computing: 0.5 less 0.4 is a little less than a fifth of 0.5. */
const NOISE = 1e-9;
/** So many rows are named, in the table and the list together, where the rest complies. */
const MOST_NAMED = 1000;

/**
 * Chooses what a note prints of its rows. Every row that does not comply, or cannot be judged, is named; of those that comply the
 * least margins come first.
 *
 * @param rows in order: the worst first
 * @param asked how many lines the author asks for; then rows with ample margin fill them up
 */
export function chooseRows(rows: readonly RowSummary[], asked?: number): RowChoice {
  const most = asked ?? USUAL_LINES;
  const spares = asked === undefined && rows.length > SMALL_SCHEDULE;
  const wanted = spares ? rows.filter((row) => !isAmple(row)) : rows;
  const lines = wanted.slice(0, most);
  const taken = new Set(lines);
  const rest = rows.filter((row) => !taken.has(row));
  const adverse = rest.filter(({ outcome }) => outcome !== 'met');
  const room = Math.max(0, MOST_NAMED - lines.length - adverse.length);
  const sound = rest.filter(({ outcome }) => outcome === 'met');
  return {
    lines,
    listed: [...adverse, ...sound.slice(0, room)],
    counted: sound.slice(room),
    withoutAmple: wanted.length < rows.length && wanted.length <= most,
  };
}

function isAmple({ outcome, margin }: RowSummary): boolean {
  return outcome === 'met' && (margin === undefined || margin >= AMPLE_MARGIN - NOISE);
}
