import { parse } from 'csv-parse/sync';
import { SEPARATORS, type Separator } from './csv-table.ts';

/** So many rows show what separates their cells. */
const ROWS_LOOKED_AT = 200;

/** Line ends of every system. */
export const LINE_ENDS = ['\r\n', '\n', '\r'];

/**
 * What separates the cells of a text: that with which most rows are as wide as the header; where no row is, as in a table whose rows are
 * all short, one that parts the header. Of several the first; the first too where none makes more than one column.
 */
export function findSeparator(text: string): Separator {
  const shares = SEPARATORS.map((separator) => ({ separator, share: shareOfEven(widths(text, separator)) }));
  return shares.reduce((best, other) => (other.share > best.share ? other : best)).separator;
}

function shareOfEven([header, ...rows]: readonly number[]): number {
  if (header === undefined || header < 2) return 0;
  // A header shows something, though less than one row that is as wide.
  const ofHeader = 1 / (2 * ROWS_LOOKED_AT);
  return Math.max(ofHeader, rows.filter((width) => width === header).length / Math.max(rows.length, 1));
}

/** How many cells the rows have that are not blank, as far as the text can be parted so. */
function widths(text: string, separator: Separator): number[] {
  const found: number[] = [];
  try {
    parse(text, {
      delimiter: separator,
      record_delimiter: LINE_ENDS,
      relax_column_count: true,
      relax_quotes: true,
      to: ROWS_LOOKED_AT,
      on_record: (record: string[]) => {
        if (record.some((cell) => cell.trim() !== '')) found.push(record.length);
        return null;
      },
    });
  } catch {
    // A quote that is not closed is told when the file is read; until there its rows count.
  }
  return found;
}
