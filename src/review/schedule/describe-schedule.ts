import type { EvaluatedGiven } from '../../engine/definition/evaluated.ts';
import type { EvaluatedSchedule } from '../../evaluation/schedule/evaluated-schedule.ts';
import { ENGLISH } from '../../words/words.ts';
import { describeAction, describeGivens } from '../describe-block.ts';

/** The givens that all rows have alike, as far as somebody gave them. */
export function commonGivens({ source, method }: EvaluatedSchedule): readonly EvaluatedGiven[] {
  const ofColumns = new Set(source.columns.map(({ given }) => given));
  return method.givens.filter(({ name, origin }) => !ofColumns.has(name) && origin !== 'default');
}

/** What the author wrote about a schedule beside its values, by names in words. */
export function describeSchedule(schedule: EvaluatedSchedule | undefined): ReadonlyMap<string, string> {
  if (!schedule) return new Map();
  const { title, case: ofCase, calculation, file, source, inherited } = schedule;
  const { common, rowId, caseColumn, groupBy, columns, inFull, inTable } = source;
  const facts: [string, string | undefined][] = [
    ['title', ENGLISH.word(title)],
    ['calculation', calculation],
    ['based on', common.basedOn?.name],
    ['file', file.path],
    ['case', ofCase],
    ['names of rows', rowId?.name],
    ['column of cases', caseColumn?.name],
    ['grouped by', groupBy?.name],
    ...columns.map(({ given, column }): [string, string] => [`column of ${given}`, column.name]),
    ...describeGivens(commonGivens(schedule).filter(({ name }) => !inherited.has(name))),
    ...common.accepted.map(({ caution, by, reason }): [string, string] => [
      `accepted caution ${caution}`,
      `${by}: ${reason}`,
    ]),
    ...(common.action ? describeAction(common.action) : []),
    ['rows set out in full', `${inFull}`],
    ['lines of the table', inTable === undefined ? undefined : `${inTable}`],
  ];
  return new Map(facts.filter((fact): fact is [string, string] => fact[1] !== undefined));
}
