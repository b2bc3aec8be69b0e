import type { BlockCase } from '../../source/note-source.ts';
import type { WordedNote, WordedSchedule } from '../evaluated-note.ts';
import type { ScheduleRow } from '../schedule/evaluated-schedule.ts';
import { type AuthorAction, compareUrgency, type Urgency } from './action.ts';
import { isOpen, urgencyOf } from './judge-urgency.ts';
import { wordAction } from './list-actions.ts';

/** What is to be done about the rows of one case of a schedule. */
export interface RowsAction {
  readonly schedule: WordedSchedule;
  readonly case: BlockCase | undefined;
  /** That of the most urgent row. */
  readonly urgency: Urgency;
  /** Those of which a check is not met or cannot be judged, the most urgent first. */
  readonly rows: readonly ScheduleRow[];
  /** What the author says of all of them; else each row has the limiting values that its calculation solved for. */
  readonly author: AuthorAction | undefined;
}

/** The rows of schedules about which something is to be done, an entry for each schedule and case; no alternatives, nothing auxiliary. */
export function listRowActions(note: Pick<WordedNote, 'schedules' | 'proseTexts'>): readonly RowsAction[] {
  return note.schedules
    .flatMap((schedule) => {
      const byCase = new Map<BlockCase | undefined, { row: ScheduleRow; urgency: Urgency }[]>();
      for (const row of schedule.rows) {
        const [urgency] = row.checks.filter(isOpen).map(urgencyOf).sort(compareUrgency);
        if (!urgency || row.case === 'alternative' || row.case === 'auxiliary') continue;
        const own = byCase.get(row.case);
        if (own) own.push({ row, urgency });
        else byCase.set(row.case, [{ row, urgency }]);
      }
      const { action } = schedule.source.common;
      return [...byCase].map(([ofCase, open]): RowsAction => {
        const sorted = open.sort((a, b) => compareUrgency(a.urgency, b.urgency));
        return {
          schedule,
          case: ofCase,
          urgency: sorted[0]!.urgency,
          rows: sorted.map(({ row }) => row),
          author: action && wordAction(action, note),
        };
      });
    })
    .sort((a, b) => compareUrgency(a.urgency, b.urgency));
}
