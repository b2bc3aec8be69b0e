import type { Value } from '../../engine/definition/value.ts';
import type {
  EvaluatedSchedule,
  RowCheck,
  RowResult,
  ScheduleRow,
} from '../../evaluation/schedule/evaluated-schedule.ts';
import { sayOverRange, sayVerdictInFull } from '../../evaluation/word-calculation.ts';
import { fromSi } from '../../quantity/quantity.ts';
import { nameLimiting, RELATION_WORDS, recordQuantity, recordResult } from '../record-block.ts';
import {
  EXACT,
  mapNode,
  NUMERICAL,
  numberNode,
  type Precision,
  type RecordedNode,
  textNode,
} from '../recorded-node.ts';

/** To how many digits the results of rows count: where the calculation has a numerical method, any of them may rest on it. */
export function precisionOfRows({ method }: EvaluatedSchedule): Precision {
  return method.steps.some(({ kind }) => kind === 'solver') ? NUMERICAL : EXACT;
}

/** What is recorded of one row: as of a block, but for what all rows have in common. */
export function recordRow(row: ScheduleRow, precision: Precision): RecordedNode {
  return mapNode([
    ['case', row.case === undefined ? undefined : textNode(row.case)],
    ['group', row.group === undefined ? undefined : textNode(row.group)],
    ['given', mapNode(Object.entries(row.given).map(([name, value]) => [name, recordCell(value)]))],
    [
      'results',
      mapNode(
        Object.entries(row.results).map(([name, result]) => [name, recordRowResult(result, precision)]),
      ),
    ],
    ['checks', mapNode(row.checks.map((check) => [check.name, recordRowCheck(check)]))],
    [
      'limiting',
      mapNode(row.limiting.map((one) => [nameLimiting(one, row.limiting), recordResult(one.result, EXACT)])),
    ],
    ['cautions', { type: 'list', items: row.cautions.map(({ id }) => textNode(id)) }],
  ]);
}

/** What a cell gives: a quantity or a choice. */
function recordCell(value: Value): RecordedNode | undefined {
  if (value.type === 'quantity') return recordQuantity(value.quantity);
  return value.type === 'choice' ? textNode(value.choice) : undefined;
}

function recordRowResult(result: RowResult, precision: Precision): RecordedNode {
  switch (result.type) {
    case 'number':
      return numberNode(fromSi(result.si, result.unit), result.unit.text, precision);
    case 'words':
      return textNode(result.words);
    case 'choice':
      return textNode(result.choice);
    case 'list': {
      const { si, unit } = result;
      return { type: 'list', items: si.map((one) => numberNode(fromSi(one, unit), unit.text, precision)) };
    }
  }
}

function recordRowCheck(check: RowCheck): RecordedNode {
  const { value, limit, relation, missing, overRange } = check;
  return mapNode([
    ['verdict', textNode(sayVerdictInFull(check))],
    ['force', textNode(check.force)],
    ['value', value && recordResult(value, EXACT)],
    ['limit', limit && recordResult(limit, EXACT, RELATION_WORDS[relation])],
    ['over_range', overRange && textNode(sayOverRange(overRange))],
    ['not_given', missing.length > 0 ? textNode(missing.join(', ')) : undefined],
  ]);
}
