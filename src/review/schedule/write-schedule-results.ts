import { Collector } from '../../diagnostics/collector.ts';
import type { EvaluatedSchedule, ScheduleFile } from '../../evaluation/schedule/evaluated-schedule.ts';
import type { CsvTable, Separator } from '../../source/csv/csv-table.ts';
import { readCsv } from '../../source/csv/read-csv.ts';
import { writeCsv } from '../../source/csv/write-csv.ts';
import { isSameValue, wordDigits } from '../recorded-number.ts';
import { type ResultCell, tabulateSchedule } from './tabulate-schedule.ts';

/** How numbers are written and cells parted, as in the file with the rows: the office program that wrote that one opens this one too. */
interface Dialect {
  readonly separator: Separator;
  readonly decimal: '.' | ',';
}

/**
 * The results of all rows of a schedule as a table for office programs, one row a line. It begins with a byte order mark, without which the most
 * common of them takes UTF-8 for its country's character set; lines end with LF, as all of them read it and as git keeps
 * texts on every system.
 *
 * @param recorded what the file holds so far: a number that has not moved beyond the noise of computing keeps its text
 */
export function writeScheduleResults(schedule: EvaluatedSchedule, recorded: string | undefined): string {
  const { header, rows } = tabulateSchedule(schedule);
  const dialect = dialectOf(schedule.file);
  const before = recorded === undefined ? undefined : readBefore(recorded, header);
  const lines = rows.map((cells, i) => {
    const old = before?.rows[i]?.cells;
    return cells.map((cell, j) => wordCell(cell, old?.[j]?.text, dialect));
  });
  const table = writeCsv([header.map(wordText), ...lines], dialect.separator);
  return `\uFEFF${table.replaceAll('\r\n', '\n')}`;
}

function dialectOf({ separator, decimalCommas }: ScheduleFile): Dialect {
  // Office programs part the cells of a file by tabs only when they are told to.
  const parting = separator === '\t' ? (decimalCommas ? ';' : ',') : separator;
  return { separator: parting, decimal: decimalCommas ? ',' : '.' };
}

/** The table as it was, where it has the same columns. */
function readBefore(text: string, header: readonly string[]): CsvTable | undefined {
  const table = readCsv('', text, new Collector());
  const isSame =
    table?.header.length === header.length &&
    table.header.every(({ text: name }, i) => name === wordText(header[i]!));
  return isSame ? table : undefined;
}

function wordCell(cell: ResultCell, old: string | undefined, { decimal }: Dialect): string {
  if ('text' in cell) return wordText(cell.text);
  const fresh = wordDigits(cell.number, cell.digits);
  const before = old === undefined || old === '' ? Number.NaN : Number(old.replace(decimal, '.'));
  // The last digit that is written may turn where the noise of computing differs.
  const tolerance = cell.digits < EXACT ? 10 ** (1 - cell.digits) : 0;
  const kept =
    isSameValue(before, cell.number, tolerance) &&
    wordDigits(before, cell.digits) === old?.replace(decimal, '.');
  return (kept ? old! : fresh).replace('.', decimal);
}

/** So many digits say what a number is, as it was written. */
const EXACT = 15;

/** What an office program would take for a formula. */
const FORMULA = /^[=+\-@\t\r]/;

/** A text on one line. One that an office program would compute gets an apostrophe before it, by which these programs mark a text. */
function wordText(text: string): string {
  const line = text.replace(/\s+/g, ' ').trim();
  return FORMULA.test(line) ? `'${line}` : line;
}
