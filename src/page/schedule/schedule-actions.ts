import { type AuthorAction, compareUrgency, type Urgency } from '../../evaluation/actions/action.ts';
import { isOpen, urgencyOf } from '../../evaluation/actions/judge-urgency.ts';
import { wordAction } from '../../evaluation/actions/list-actions.ts';
import type { WordedSchedule } from '../../evaluation/evaluated-note.ts';
import { sayVerdict } from '../../evaluation/word-calculation.ts';
import type { BlockCase } from '../../source/note-source.ts';
import { say } from '../../words/sentence.ts';
import { calculationId } from '../ids.ts';
import type { NoteContext } from '../note-context.ts';
import { DASH, RELATIONS } from '../word-values.ts';
import { chooseRows } from './choose-rows.ts';
import { findLeast, sayOutcome } from './say-result.ts';
import { type RowSummary, summariseRows } from './summarise-rows.ts';
import { rowsByCase } from './word-counts.ts';

/** What is to be done about the rows of one case of a schedule, in one entry. */
export interface ScheduleAction {
  readonly id: string;
  /** 'Schedule 1' */
  readonly number: string;
  readonly title: string;
  readonly case: BlockCase | undefined;
  readonly urgency: Urgency;
  /** How many rows came out how, and the least margin. */
  readonly outcome: string;
  /** The worst verdict in words. */
  readonly verdict: string;
  readonly isRecommendation: boolean;
  /** The remedies of the calculation, and what must be found out. */
  readonly what: readonly string[];
  /** The author's, for all of these rows. */
  readonly author: AuthorAction | undefined;
  /** How these rows come out in schedules of the same rows as proposed, a sentence each. */
  readonly onceDone: readonly string[];
  /** Where the limiting values of these rows stand, in a sentence; empty where they have none. */
  readonly limits: string;
}

/**
 * The schedules of which rows are not met or cannot be judged, an entry for each case that asks for actions. What each row needs stands
 * in the table of rows.
 */
export function listScheduleActions(
  context: Pick<NoteContext, 'note' | 'numbering' | 'words'>,
): readonly ScheduleAction[] {
  const { note, numbering, words } = context;
  return note.schedules
    .flatMap((schedule, index) =>
      [...rowsByCase(summariseRows(schedule.rows))].flatMap(([ofCase, rows]) => {
        const open = rows.filter(({ governing }) => isOpen(governing));
        const [worst] = open;
        if (!worst || ofCase === 'alternative' || ofCase === 'auxiliary') return [];
        const number = `${numbering.prefix}${index + 1}`;
        return {
          id: calculationId(schedule.id),
          number: `Schedule ${number}`,
          title: schedule.title,
          case: ofCase,
          urgency: urgencyOf(worst.governing),
          outcome: sayOutcome(rows),
          verdict: words.word(sayVerdict(worst.governing.verdict)),
          isRecommendation: worst.governing.force === 'recommendation',
          what: whatIsKnown(schedule, open, context),
          author: schedule.source.common.action && wordAction(schedule.source.common.action, note),
          onceDone: note.schedules.flatMap((other, at) =>
            sayOnceDone(schedule, open, other, `schedule ${numbering.prefix}${at + 1}`),
          ),
          limits: sayLimits(schedule, open, `schedule ${number}`),
        };
      }),
    )
    .sort((a, b) => compareUrgency(a.urgency, b.urgency));
}

/** The file of results has the limiting values of every row, the table those of the rows that it has. */
function sayLimits({ rows, source }: WordedSchedule, open: readonly RowSummary[], number: string): string {
  if (open.every(({ row }) => row.limiting.length === 0)) return '';
  const { lines } = chooseRows(summariseRows(rows), source.inTable);
  const shown = new Set(lines.map(({ row }) => row));
  if (open.every(({ row }) => shown.has(row)))
    return `The limiting values of each row are in the table of ${number}.`;
  const also = lines.length > 0 ? `; its table shows ${lines.length} of ${rows.length} rows` : '';
  return `The limiting values of each row are in the results attached to ${number}${also}.`;
}

/** What another schedule of the same file makes of the rows that are open here, as proposed; none where it does not have them all. */
function sayOnceDone(
  schedule: WordedSchedule,
  open: readonly RowSummary[],
  other: WordedSchedule,
  number: string,
): string[] {
  if (other === schedule || other.calculation !== schedule.calculation) return [];
  if (other.file.path !== schedule.file.path) return [];
  const ids = new Set(open.map(({ row }) => row.id));
  const done = summariseRows(other.rows.filter(({ id, case: of }) => of === 'proposed' && ids.has(id)));
  if (done.length !== open.length) return [];
  const least = findLeast(done)?.governing;
  const judged = least ? `: ${sayJudged(least)}` : '';
  return [`As calculated in ${number}, ${other.title}, of these rows: ${sayOutcome(done)}${judged}.`];
}

/** '1.95 kV, required ≤ 2 kV', as the table of rows has them. */
function sayJudged({ value, limit, relation, force }: RowSummary['governing']): string {
  const side = (result: typeof value) => (result && result.type === 'number' ? result.displayed.print : DASH);
  return `${side(value)}, ${force === 'requirement' ? 'required' : 'recommended'} ${RELATIONS[relation]} ${side(limit)}`;
}

/** The remedies of what is not met, each once, as far as the method says them, and what is missing for a judgement. */
function whatIsKnown(
  { method }: WordedSchedule,
  open: readonly RowSummary[],
  { words }: Pick<NoteContext, 'words'>,
): string[] {
  const failing = new Set(open.flatMap(({ row }) => row.checks.filter(isOpen).map(({ name }) => name)));
  const remedies = method.checks.filter(({ name }) => failing.has(name)).flatMap((check) => check.remedies);
  const missing = new Set(open.flatMap(({ row }) => row.checks.flatMap((check) => check.missing)));
  const meanings = [...missing].map(
    (name) => method.givens.find((given) => given.name === name)?.meaning ?? name.replaceAll('_', ' '),
  );
  return [
    ...new Set(remedies),
    ...(meanings.length > 0 ? [words.word(say('action.find-out', { what: meanings }))] : []),
  ];
}
