import type { WordedGiven } from '../../engine/definition/evaluated.ts';
import type { WordedSchedule } from '../../evaluation/evaluated-note.ts';
import type { Words } from '../../words/words.ts';
import { wordCase } from '../case-titles.ts';
import { viewGiven } from '../given-view.ts';
import { calculationId } from '../ids.ts';
import type { BlockContext } from '../note-context.ts';
import { basisHtml } from '../reference-list.ts';
import { AMPLE_MARGIN, chooseRows, type RowChoice } from './choose-rows.ts';
import { type SharedCaution, shareCautions } from './shared-cautions.ts';
import type { RowSummary } from './summarise-rows.ts';
import { viewColumns } from './view-columns.ts';
import { checkNames, letterAt, viewMethod } from './view-method.ts';
import { viewRowLists } from './view-row-lists.ts';
import { viewRowTable } from './view-row-table.ts';
import { countOutcomes, rowsByCase, wordOutcome } from './word-counts.ts';

/**
 * A schedule as it stands in the text: method once, counts, the rows in a table and lists, cautions once.
 *
 * @param summaries its rows that are judged, in order
 * @param resultsFile the name of the file that holds the results of all rows
 */
export function viewSchedule(
  context: BlockContext,
  schedule: WordedSchedule,
  summaries: readonly RowSummary[],
  resultsFile: string,
) {
  const { words } = context;
  const { rows, method, source, groups } = schedule;
  const choice = chooseRows(summaries, source.inTable);
  const names = checkNames(schedule);
  const letterOf = (check: string) => letterAt(names.indexOf(check));
  const common = commonGivens(schedule).map((given) => viewGiven(context, given));
  return {
    block: schedule.id,
    id: calculationId(schedule.id),
    title: schedule.title,
    purpose: method.purpose,
    file: schedule.file.path,
    fileWords: sayFile(schedule),
    resultsFile,
    total: rows.length,
    columns: viewColumns(schedule),
    givens: common.filter(({ table }) => !table),
    tables: common.filter(({ table }) => table),
    idLabel: source.rowId?.name ?? 'Row',
    ...viewMethod(context, schedule),
    counts: viewCounts(summaries, words),
    table: choice.lines.length > 0 ? viewRowTable(summaries, choice, groups, letterOf, words) : null,
    rule: sayRule(summaries, choice, words),
    lists: viewRowLists(choice, groups, words),
    left: sayLeft(choice, words),
    cautions: shareCautions(rows).map((one) => ({
      text: words.word(one.caution.text),
      basis: one.caution.basis ? basisHtml(one.caution.basis, context) : '',
      concerns: sayConcerned(one),
      acceptance: acceptanceOf(context, schedule, one.caution.id),
    })),
  };
}

/** The givens that all rows have in common. */
export function commonGivens({ source, method }: WordedSchedule): readonly WordedGiven[] {
  const mapped = new Set(source.columns.map(({ given }) => given));
  return method.givens.filter(({ name }) => !mapped.has(name));
}

/** How the file was read, where a reader might take it otherwise. */
function sayFile({ file, source }: WordedSchedule): string {
  const separators = { ';': 'semicolons', '\t': 'tabs', ',': 'commas' } as const;
  const parts = [`the cells are separated by ${separators[file.separator]}`];
  if (file.decimalCommas) parts.push('commas within numbers were read as decimal commas');
  if (source.rowId) parts.push(`rows are named by the column “${source.rowId.name}”`);
  if (source.groupBy) parts.push(`and grouped by the column “${source.groupBy.name}”`);
  return parts.join('; ');
}

function viewCounts(rows: readonly RowSummary[], words: Words) {
  return [...rowsByCase(rows)].map(([ofCase, own]) => {
    const counts = countOutcomes(own);
    return {
      label: wordCase(ofCase),
      total: counts.total,
      outcomes: (['met', 'unmet', 'open'] as const).map((outcome) => ({
        verdict: wordOutcome(outcome, rows, words),
        count: counts[outcome],
      })),
    };
  });
}

/** By which rule rows stand in the table. */
function sayRule(rows: readonly RowSummary[], { lines, withoutAmple }: RowChoice, words: Words): string {
  const order = 'the worst verdict first, then the least margin';
  if (lines.length === rows.length) return `All ${rows.length} rows, ${order}.`;
  const ample = withoutAmple
    ? ` Rows for which the verdict is “${wordOutcome('met', rows, words)}” with a margin of ${AMPLE_MARGIN * 100} % or more have no line.`
    : '';
  return `${lines.length} of ${rows.length} rows, ${order}.${ample}`;
}

/** What stands in the file alone. */
function sayLeft({ counted }: RowChoice, words: Words): string {
  const [first] = counted;
  if (!first) return '';
  const { length } = counted;
  const least = first.margin === undefined ? '' : `, each with a margin of at least that of the last named`;
  const verdict = wordOutcome('met', counted, words);
  return length === 1
    ? `One more row is in the attached file only; its verdict is “${verdict}”${least}.`
    : `${length} more rows are in the attached file only; the verdict of each is “${verdict}”${least}.`;
}

function acceptanceOf({ project }: BlockContext, { source }: WordedSchedule, caution: string) {
  const acceptance = source.common.accepted.find((one) => one.caution === caution);
  if (!acceptance) return null;
  const person = project.people.find(({ key }) => key === acceptance.by);
  return { by: person?.name ?? acceptance.by, reason: acceptance.reason };
}

function sayConcerned({ ofAll, count, rows, caution }: SharedCaution): string {
  const more = count - rows.length;
  const which = ofAll ? 'all rows' : `${count === 1 ? 'row' : `${count} rows:`} ${rows.join(', ')}`;
  const hasNumbers = typeof caution.text !== 'string' && Object.keys(caution.text.data).length > 0;
  const example = hasNumbers && count > 1 ? `; the values are those of ${rows[0]}` : '';
  return `${which}${!ofAll && more > 0 ? ` and ${more} more` : ''}${example}`;
}
