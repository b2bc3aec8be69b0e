import { countRows } from '../evaluation/schedule/count-rows.ts';
import type { EvaluatedSchedule, ScheduleRow } from '../evaluation/schedule/evaluated-schedule.ts';
import { governingCheck, orderRows, outcomeOf } from '../evaluation/schedule/order-rows.ts';
import { sayVerdict } from '../evaluation/word-calculation.ts';
import type { Words } from '../words/words.ts';
import { layTable } from './lay-table.ts';
import { verdictPiece } from './outline-check.ts';
import { type Line, type Piece, wrapText } from './styled-line.ts';

/** So many of the rows that do not comply are told at a terminal; the page and the results have all. */
const MOST_TOLD = 10;

/** A schedule as the terminal tells it: how many rows comply, by case, and the worst of the others. */
export function outlineSchedule(
  schedule: EvaluatedSchedule,
  words: Words,
  width: number | undefined,
): Line[] {
  const { id, calculation, file, rows } = schedule;
  const adverse = orderRows(rows).filter((row) => {
    const check = governingCheck(row);
    return check !== undefined && row.case !== 'auxiliary' && outcomeOf(check) !== 'met';
  });
  const rest = adverse.length - MOST_TOLD;
  const where = `${rows.length} ${rows.length === 1 ? 'row' : 'rows'} of ${file.path}${file.decimalCommas ? ', read with decimal commas' : ''}`;
  return [
    ...wrapText(`${id} (${calculation}), ${where}`, 2, width, 'strong'),
    ...countRows(rows).flatMap(({ case: ofCase, total, met, unmet, open }) =>
      wrapText(
        `${ofCase === undefined ? '' : `${ofCase}: `}${met} of ${total} comply, ${unmet} ${unmet === 1 ? 'does' : 'do'} not, ${open} cannot be judged`,
        4,
        width,
      ),
    ),
    ...layTable(
      adverse.slice(0, MOST_TOLD).map((row) => cellsOfRow(row, words)),
      4,
      width,
    ),
    ...(rest > 0 ? wrapText(`and ${rest} more that do not comply or cannot be judged`, 4, width) : []),
  ];
}

function cellsOfRow(row: ScheduleRow, words: Words): Piece[] {
  const check = governingCheck(row)!;
  const { value, limit, relation, missing } = check;
  const isCompared = value?.type === 'number' && limit?.type === 'number';
  return [
    { text: row.case === undefined ? row.id : `${row.id} (${row.case})`, style: 'strong' },
    { text: check.name },
    {
      text: isCompared ? value.displayed.text : missing.length > 0 ? `not given: ${missing.join(', ')}` : '',
    },
    { text: isCompared ? `asked ${relation} ${limit.displayed.text}` : '' },
    verdictPiece(check, words.word(sayVerdict(check.verdict))),
  ];
}
