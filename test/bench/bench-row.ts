import { appendFileSync } from 'node:fs';

/** One line of the table of measurements. Texts are complete: with their units, and with the aim where there is one. */
export interface BenchRow {
  /** What was measured. */
  readonly what: string;
  readonly measured: string;
  /** What it was held against, in the same run and in turns. */
  readonly against?: string;
  readonly ratio?: string;
}

/** The file to which a benchmark that is run by `npm run bench` adds its lines; without one it only prints them. */
const FILE = process.env.SURGENOTE_BENCH_ROWS;

/** Tells a line of the table, from whatever process. */
export function reportRow(row: BenchRow): void {
  if (FILE) appendFileSync(FILE, `${JSON.stringify(row)}\n`);
  else console.log([row.what, row.measured, row.against, row.ratio].filter(Boolean).join(' | '));
}

/** The table in markdown, as DEVELOPERS.md has it. */
export function writeTable(rows: readonly BenchRow[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return [
    line(['what', 'measured', 'against', 'ratio']),
    line(['---', '---', '---', '---']),
    ...rows.map(({ what, measured, against = '', ratio = '' }) => line([what, measured, against, ratio])),
  ].join('\n');
}

export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
