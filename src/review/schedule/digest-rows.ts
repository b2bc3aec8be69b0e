import type { EvaluatedSchedule, ScheduleRow } from '../../evaluation/schedule/evaluated-schedule.ts';
import { writeVoltageKind } from '../../quantity/voltage-kind.ts';
import type { RecordedNode } from '../recorded-node.ts';
import { precisionOfRows, recordRow } from './record-row.ts';

/**
 * The rows of a schedule as a note rests on them: the name of each and what its cells give, by value. How the file writes them - separators,
 * decimal signs, units in the header or in the cells, order of columns, columns that nothing reads - is no part of it; nor is the order of
 * rows that have names.
 */
export function listRowFacts({ id, rows, source }: EvaluatedSchedule): (readonly unknown[])[] {
  const facts = rows.map((row) => [
    'row',
    id,
    row.id,
    row.case ?? '',
    row.group ?? '',
    listCells(row, source.columns),
  ]);
  return source.rowId ? facts.sort(([, , a], [, , b]) => (a! < b! ? -1 : 1)) : facts;
}

function listCells(
  { given }: ScheduleRow,
  columns: EvaluatedSchedule['source']['columns'],
): readonly unknown[] {
  return columns
    .map((column) => column.given)
    .sort()
    .flatMap((name) => {
      const value = given[name];
      if (value?.type === 'choice') return [[name, value.choice]];
      if (value?.type !== 'quantity') return [];
      const { value: number, unit, kind } = value.quantity;
      return [[name, number, unit.text, writeVoltageKind(kind)]];
    });
}

/** Of so many rows some value lies near to where rounding turns: only the noise of another machine is allowed for. */
const NOISE = 1e-12;

/** The results of the rows of a schedule as a sign-off covers them, whatever the order of rows that have names. */
export function recordRows(schedule: EvaluatedSchedule): RecordedNode {
  const precision = { ...precisionOfRows(schedule), tolerance: NOISE };
  const { rows, source } = schedule;
  const ordered = source.rowId ? [...rows].sort((a, b) => (a.id < b.id ? -1 : 1)) : rows;
  return { type: 'map', entries: ordered.map((row) => [row.id, recordRow(row, precision)]) };
}
