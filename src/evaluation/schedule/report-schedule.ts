import type { ResultValue, Value } from '../../engine/definition/value.ts';
import { displayEntered, displaySi } from '../../quantity/display.ts';
import { fromSi } from '../../quantity/quantity.ts';
import { ENGLISH } from '../../words/words.ts';
import type { Json } from '../machine-report.ts';
import { reportGiven, reportSingle } from '../report-values.ts';
import { tallyVerdicts } from '../tally-verdicts.ts';
import { sayVerdict } from '../word-calculation.ts';
import { wordBlock } from '../word-note.ts';
import type { JsonInParts } from '../write-json.ts';
import { countRows } from './count-rows.ts';
import type { EvaluatedSchedule, RowCheck, RowResult, ScheduleRow } from './evaluated-schedule.ts';
import { governingCheck } from './order-rows.ts';

/** A schedule in the report for machines: as a block, with its rows and how many of them comply. */
export function reportSchedule(schedule: EvaluatedSchedule): JsonInParts {
  const { id, title, case: ofCase, calculation, source, file, method, rows, inFull, groups } = schedule;
  const ofColumns = new Set(source.columns.map(({ given }) => given));
  const common = wordBlock({ id, title, source: source.common, evaluated: method, accepted: [] }, ENGLISH)
    .evaluated.givens;
  return {
    id,
    calculation,
    title: ENGLISH.word(title),
    case: ofCase ?? null,
    file: { path: file.path, separator: file.separator, decimal_commas: file.decimalCommas },
    given: Object.fromEntries(
      common.filter(({ name }) => !ofColumns.has(name)).map((given) => [given.name, reportGiven(given)]),
    ),
    groups,
    counts: countRows(rows).map(({ case: counted, total, met, unmet, open }) => ({
      case: counted ?? null,
      rows: total,
      complies: met,
      does_not_comply: unmet,
      cannot_be_judged: open,
    })),
    verdicts: tallyVerdicts(rows).map(({ case: counted, required, requirement, recommendation }) => ({
      case: counted ?? null,
      required,
      requirement: Object.fromEntries(requirement.counts.map(({ verdict, count }) => [verdict, count])),
      recommendation: Object.fromEntries(recommendation.counts.map(({ verdict, count }) => [verdict, count])),
    })),
    in_full: inFull.map((block) => block.id),
    rows: rows.map((row) => () => reportRow(row)),
  };
}

function reportRow(row: ScheduleRow): Json {
  const governing = governingCheck(row);
  return {
    row: row.row,
    id: row.id,
    case: row.case ?? null,
    ...(row.group === undefined ? {} : { group: row.group }),
    governing: governing?.name ?? null,
    given: Object.fromEntries(Object.entries(row.given).map(([name, value]) => [name, reportValue(value)])),
    results: Object.fromEntries(
      Object.entries(row.results).map(([name, result]) => [name, reportRowResult(result)]),
    ),
    checks: Object.fromEntries(row.checks.map((check) => [check.name, reportRowCheck(check)])),
    limiting: Object.fromEntries(
      row.limiting.map(({ given, seek, result, governing: by }) => [
        given,
        { ...reportShown(result), seek, check: by?.check ?? null },
      ]),
    ),
    cautions: row.cautions.map(({ id, text }) => ({ id, text: ENGLISH.word(text) })),
  };
}

function reportValue(value: Value): Json {
  return reportSingle(value, value.type === 'quantity' ? displayEntered(value.quantity).text : textOf(value));
}

function textOf(value: Value): string {
  return value.type === 'choice' ? value.choice : '';
}

/** A limiting value as it is printed. */
function reportShown(result: ResultValue): { readonly [key: string]: Json } {
  if (result.type === 'words') return { value: null, text: ENGLISH.word(result.words) };
  if (result.type !== 'number') return { value: null, text: '' };
  return { value: fromSi(result.si, result.unit), unit: result.unit.text, text: result.displayed.text };
}

function reportRowResult(result: RowResult): Json {
  switch (result.type) {
    case 'number':
      return {
        value: fromSi(result.si, result.unit),
        unit: result.unit.text,
        text: displaySi(result.si, result.unit).text,
      };
    case 'words':
      return { value: null, text: ENGLISH.word(result.words) };
    case 'choice':
      return { value: result.choice, text: result.choice };
    case 'list':
      return result.si.map((si) => ({
        value: fromSi(si, result.unit),
        unit: result.unit.text,
        text: displaySi(si, result.unit).text,
      }));
  }
}

function reportRowCheck(check: RowCheck): Json {
  const { verdict, force, value, limit, relation, atLimit, margin, missing } = check;
  const numberOf = (side: RowCheck['value']) => (side?.type === 'number' ? fromSi(side.si, side.unit) : null);
  return {
    verdict: ENGLISH.word(sayVerdict(verdict)),
    verdict_code: verdict,
    force,
    value: numberOf(value),
    limit: numberOf(limit),
    unit: value?.type === 'number' ? value.unit.text : null,
    relation,
    at_limit: atLimit,
    margin: margin?.of === 'limit' ? margin.value : null,
    missing,
  };
}
