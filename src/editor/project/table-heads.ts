import { Collector } from '../../diagnostics/collector.ts';
import type { CsvTable } from '../../source/csv/csv-table.ts';
import { readCsv } from '../../source/csv/read-csv.ts';
import type { Reading } from './reading.ts';

/** So many characters of a table are looked at: its head and first rows. */
const LOOKED_AT = 200_000;

/** A table of the project, as far as it can be read: nothing is said of its faults. */
export function tableOf(reading: Reading, file: string): CsvTable | undefined {
  const text = reading.textOf(file);
  if (text === undefined) return undefined;
  const part = text.length > LOOKED_AT ? text.slice(0, text.lastIndexOf('\n', LOOKED_AT)) : text;
  return readCsv(file, part, new Collector());
}

/** The cells of a column by its head, without a unit behind it. */
export function cellsOf(table: CsvTable, column: string): readonly string[] {
  const index = table.header.findIndex(({ text }) => text === column);
  return index < 0 ? [] : table.rows.map(({ cells }) => cells[index]!.text);
}
