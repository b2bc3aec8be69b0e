import { sayVerdict } from '../../evaluation/word-calculation.ts';
import type { BlockCase } from '../../source/note-source.ts';
import { calculationId } from '../ids.ts';
import type { NoteContext } from '../note-context.ts';
import { isToBeNoticed, printMargin } from '../word-values.ts';
import { findLeast, nameLeast, sayCounts } from './say-result.ts';
import { summariseRows } from './summarise-rows.ts';
import { rowsByCase } from './word-counts.ts';

/** What a summary says of the rows of one case of a schedule, in one line. */
export interface ScheduleVerdict {
  readonly id: string;
  /** 'Schedule 1' */
  readonly number: string;
  readonly title: string;
  readonly case: BlockCase | undefined;
  /** '212 of 500 rows comply, 274 do not comply, 14 cannot be judged' */
  readonly counts: string;
  /** The row of the least margin; empty where none has a margin. */
  readonly at: string;
  /** 'least margin', and of which rows. */
  readonly least: string;
  readonly margin: string;
  /** The worst. */
  readonly verdict: string;
  readonly noticed: boolean;
}

/** The schedules of a note that make checks, a line for each case. */
export function listScheduleVerdicts({
  note,
  numbering,
  words,
}: Pick<NoteContext, 'note' | 'numbering' | 'words'>): readonly ScheduleVerdict[] {
  return note.schedules.flatMap(({ id, title, rows }, index) =>
    [...rowsByCase(summariseRows(rows))].map(([ofCase, own]) => {
      const [worst] = own;
      const least = findLeast(own);
      return {
        id: calculationId(id),
        number: `Schedule ${numbering.prefix}${index + 1}`,
        title,
        case: ofCase,
        counts: sayCounts(own),
        at: least?.row.id ?? '',
        least: nameLeast(own),
        margin: least ? printMargin(least.governing) : '',
        verdict: words.word(sayVerdict(worst!.governing.verdict)),
        noticed: isToBeNoticed(worst!.governing.verdict),
      };
    }),
  );
}
