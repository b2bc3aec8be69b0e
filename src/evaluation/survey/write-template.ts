import { writeCsv } from '../../source/csv/write-csv.ts';
import { NOTED_BESIDE, type SurveyForm } from './survey-form.ts';

/**
 * The table into which a form is entered, as CSV: the columns of the schedule, whose names and units it reads again, and behind them
 * those for what is noted beside. Blank rows are for the paper alone.
 */
export function writeTemplate({ columns, rows, separator }: SurveyForm): string {
  const names = columns.map(({ name }) => name.toLowerCase());
  const beside = NOTED_BESIDE.filter((name) => !names.includes(name));
  const header = [...columns.map(({ head }) => head), ...beside];
  const named = rows.filter((row) => row.some((cell) => cell !== ''));
  const cells = named.map((row) => [...row, ...beside.map(() => '')]);
  return writeCsv([header, ...cells], separator);
}
