import type { Words } from '../../words/words.ts';
import { sayVerdict } from '../word-calculation.ts';
import { countRows } from './count-rows.ts';
import type { EvaluatedSchedule, ScheduleRow } from './evaluated-schedule.ts';
import { governingCheck, orderRows, outcomeOf } from './order-rows.ts';

/** So many of the rows that do not comply are told at a terminal; the page and the results have all. */
const MOST_TOLD = 10;

/** A schedule as the terminal tells it: how many rows comply, by case, and the worst of the others. */
export function outlineSchedule(schedule: EvaluatedSchedule, words: Words): string[] {
  const { id, calculation, file, rows } = schedule;
  const adverse = orderRows(rows).filter((row) => {
    const check = governingCheck(row);
    return check !== undefined && row.case !== 'auxiliary' && outcomeOf(check) !== 'met';
  });
  const rest = adverse.length - MOST_TOLD;
  return [
    `  ${id} (${calculation}), ${rows.length} ${rows.length === 1 ? 'row' : 'rows'} of ${file.path}${file.decimalCommas ? ', read with decimal commas' : ''}`,
    ...countRows(rows).map(
      ({ case: ofCase, total, met, unmet, open }) =>
        `    ${ofCase === undefined ? '' : `${ofCase}: `}${met} of ${total} comply, ${unmet} ${unmet === 1 ? 'does' : 'do'} not, ${open} cannot be judged`,
    ),
    ...adverse.slice(0, MOST_TOLD).map((row) => `    ${outlineRow(row, words)}`),
    ...(rest > 0 ? [`    and ${rest} more that do not comply or cannot be judged`] : []),
  ];
}

function outlineRow(row: ScheduleRow, words: Words): string {
  const check = governingCheck(row)!;
  const { value, limit, relation, missing } = check;
  const compared =
    value?.type === 'number' && limit?.type === 'number'
      ? `: ${value.displayed.text}, asked ${relation} ${limit.displayed.text}`
      : '';
  const lacks = missing.length > 0 ? `, not given: ${missing.join(', ')}` : '';
  const ofCase = row.case === undefined ? '' : ` (${row.case})`;
  return `${row.id}${ofCase}: ${check.name} ${words.word(sayVerdict(check.verdict))}${compared}${lacks}`;
}
