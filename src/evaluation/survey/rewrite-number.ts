import type { Separator } from '../../source/csv/csv-table.ts';

/** The number that a cell begins with. */
const NUMBER = /^([+\-−]?\d+)([.,])(\d+)/;

/**
 * The text of a cell of one table in another whose cells something else separates: between commas, numbers have a decimal point.
 * One with three decimals gets a fourth, where it could be read as a thousand: 1.250 as 1.2500.
 */
export function rewriteNumber(cell: string, from: Separator, to: Separator): string {
  if (from === to) return cell;
  return cell.replace(NUMBER, (_, whole: string, sign: string, decimals: string) => {
    const point = to === ',' ? '.' : sign;
    const ambiguous = to !== ',' && decimals.length === 3;
    return `${whole}${point}${decimals}${ambiguous ? '0' : ''}`;
  });
}
