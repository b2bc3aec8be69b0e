import type { Collector } from '../../diagnostics/collector.ts';
import { problem } from '../../diagnostics/problem.ts';
import { separatorFault } from '../../quantity/number-fault.ts';
import { type CsvCell, type CsvTable, placeOfCell } from './csv-table.ts';

/** What the numbers of a table have for a decimal sign; undefined where it cannot be told, which is reported. */
export type DecimalSign = '.' | ',';

/** The number that a cell begins with: digits with points and commas among them. */
const NUMBER = /^[+\-−]?\d[\d.,]*/;
/** So a number looks that may be grouped by thousands as well as have three decimals. */
const EITHER = /^[+\-−]?[1-9]\d{0,2}[.,]\d{3}$/;

/**
 * Finds out whether the numbers of some columns have decimal commas. Where commas part the cells they cannot; else one number that can
 * be read in one way alone decides for the file, and all others must agree. Where there is none such, 1,234 may be a thousand: that is
 * not for a program to decide.
 */
export function findDecimalSign(
  table: CsvTable,
  columns: readonly number[],
  collector: Collector,
): DecimalSign | undefined {
  if (table.separator === ',') return '.';
  const found = sortNumbers(table, columns);
  const { sure, either } = found;
  for (const cell of found.faulty) {
    // Signs that stand side by side, or behind the last digit, are none between runs of digits.
    const fault = separatorFault(cell.text)?.problem ?? problem('several-numbers', { text: cell.text });
    collector.problem(fault, placeOfCell(table, cell));
  }
  if (sure['.'].length === 0 && sure[','].length === 0) {
    return decideOpen(table, [...either['.'], ...either[',']], collector);
  }
  const sign: DecimalSign = sure[','].length >= sure['.'].length ? ',' : '.';
  const other: DecimalSign = sign === ',' ? '.' : ',';
  const against = [...sure[other], ...either[other]];
  for (const cell of against) {
    const example = sure[sign][0]!.text;
    collector.error('mixed-decimals', placeOfCell(table, cell), { text: cell.text, sign, example });
  }
  return against.length > 0 || found.faulty.length > 0 ? undefined : sign;
}

interface SortedNumbers {
  readonly sure: Readonly<Record<DecimalSign, CsvCell[]>>;
  readonly either: Readonly<Record<DecimalSign, CsvCell[]>>;
  /** With both signs, or several. */
  readonly faulty: CsvCell[];
}

function sortNumbers({ rows }: CsvTable, columns: readonly number[]): SortedNumbers {
  const sorted: SortedNumbers = { sure: { '.': [], ',': [] }, either: { '.': [], ',': [] }, faulty: [] };
  for (const { cells } of rows) {
    for (const column of columns) {
      const cell = cells[column]!;
      const number = NUMBER.exec(cell.text)?.[0];
      const signs = number?.replace(/[^.,]/g, '') ?? '';
      if (number === undefined || signs === '') continue;
      if (signs.length > 1) sorted.faulty.push(cell);
      else (EITHER.test(number) ? sorted.either : sorted.sure)[signs as DecimalSign].push(cell);
    }
  }
  return sorted;
}

function decideOpen(
  table: CsvTable,
  either: readonly CsvCell[],
  collector: Collector,
): DecimalSign | undefined {
  const [first] = either;
  if (!first) return '.';
  const number = NUMBER.exec(first.text)![0];
  const place = placeOfCell(table, first);
  collector.error('ambiguous-decimals', place, {
    text: first.text,
    count: either.length,
    decimal: number.replace(',', '.').replace(/0+$/, ''),
    whole: number.replace(/[.,]/, ''),
  });
  return undefined;
}

/** The text of a cell with a decimal point. */
export function withPoint(text: string, sign: DecimalSign): string {
  return sign === '.' ? text : text.replace(/^([+\-−]?\d+),(?=\d)/, '$1.');
}
