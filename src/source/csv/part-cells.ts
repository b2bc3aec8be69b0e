import type { CsvCell, CsvRow, Separator } from './csv-table.ts';
import { type PartedText, partLibraryCells, trimmed } from './part-library-cells.ts';

/**
 * Parts a text into rows and cells, each with its place.
 *
 * @param text without byte order mark
 * @param most so many rows are read at most
 */
export function partCells(text: string, separator: Separator, most: number): PartedText {
  return partPlainCells(text, separator, most) ?? partLibraryCells(text, separator, most);
}

/** Parts a text without quotes, as most tables are, in a small part of the time; undefined for any other. To the same cells as the library. */
export function partPlainCells(text: string, separator: Separator, most: number): PartedText | undefined {
  if (separator === '\t' || UNUSUAL.test(text)) return undefined;
  const rows: CsvRow[] = [];
  for (let start = 0, line = 1; start < text.length && rows.length < most; line += 1) {
    LINE_END.lastIndex = start;
    const ending = LINE_END.exec(text);
    const end = ending?.index ?? text.length;
    rows.push({ line, cells: cellsOf(text, start, end, separator) });
    start = end + (ending?.[0].length ?? 0);
  }
  return { rows };
}

/** Quotes, halves of characters, which the library takes for others, other blanks than that of the keyboard, and blank lines but at the end. */
const UNUSUAL = /["\p{Surrogate}\0]|(?! |\r?\n)\s|(?:^|\n)(?: *\r?\n| +$)/u;
const LINE_END = /\r\n|\n|\r/g;

function cellsOf(text: string, start: number, end: number, separator: Separator): CsvCell[] {
  const cells: CsvCell[] = [];
  for (let from = start; from <= end; ) {
    const found = text.indexOf(separator, from);
    const to = found < 0 || found > end ? end : found;
    cells.push({ text: text.slice(from, to).trim(), ...trimmed(text, from, to) });
    from = to + 1;
  }
  return cells;
}
