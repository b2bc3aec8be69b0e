import type { WordedBlock, WordedSchedule } from '../../evaluation/evaluated-note.ts';
import type { Memory } from '../../memory/memory.ts';
import { scheduleResultsPath } from '../../review/schedule/schedule-results-path.ts';
import { titleByCase } from '../case-titles.ts';
import { drawFigure } from '../draw-figure.ts';
import type { HeadingEntry } from '../heading-numbers.ts';
import { calculationId } from '../ids.ts';
import type { NoteContext, ShownBlock } from '../note-context.ts';
import { recallPage } from '../render-block.ts';
import type { BlockNode, Section } from '../render-prose.ts';
import { fillTemplate } from '../templates.ts';
import { likeness } from '../unchanged-givens.ts';
import { drawSchedule } from './draw-schedule.ts';
import { summariseRows } from './summarise-rows.ts';
import { setsOut, viewMethod } from './view-method.ts';
import { commonGivens, viewSchedule } from './view-schedule.ts';

/** A schedule at the place of its block, and behind it the rows that are set out in full as ordinary calculations. */
export function renderSchedule(
  context: NoteContext,
  node: BlockNode,
  section: Section,
  nextFigure: () => string,
  memory: Memory,
): { readonly html: string; readonly headings: readonly HeadingEntry[] } {
  const { note, numbering, words } = context;
  const index = note.schedules.findIndex(({ id }) => id === node.block);
  const schedule = note.schedules[index];
  if (!schedule) throw new Error(`the schedule '${node.block}' of the text was not evaluated`);
  const level = Math.min(section.level + 1, 6);
  const number = `Schedule ${numbering.prefix}${index + 1}`;
  const summaries = summariseRows(schedule.rows);
  const drawn = drawSchedule(summaries, words);
  const resultsFile = scheduleResultsPath(note.source.path, schedule.id);
  const page = fillTemplate('schedule', {
    ...viewSchedule(context, schedule, summaries, resultsFile.split('/').at(-1)!),
    ...repeatedMethod(context, index),
    level,
    number,
    figure: drawn ? drawFigure(drawn.svg, drawn.caption, nextFigure()) : '',
  });
  const place = { level: Math.min(level + 1, 6), number: `${number}, row` };
  const shown = schedule.inFull.map((block) => shownInFull(schedule, block));
  const full = shown.map((block, i) => {
    const figure = block.evaluated.figure ? nextFigure() : undefined;
    const before = i === 0 ? methodBlock(schedule) : shown[0]!;
    const name = i === 0 ? sayName(number) : sayName(`${number}, row ${before.title}`);
    return recallPage(contextInFull(context, schedule, before, name), block, { ...place, figure }, memory);
  });
  const inFull = shown.map((block) => ({
    id: calculationId(block.id),
    ...place,
    text: titleByCase(block),
    typeset: false,
  }));
  const heading = { id: calculationId(schedule.id), level, number, text: schedule.title, typeset: false };
  return { html: [page, ...full].join('\n'), headings: [heading, ...inFull] };
}

/** Where an earlier schedule of the note has set out the method, that it has, in place of the formulas; the checks stay with their letters. */
function repeatedMethod(context: NoteContext, index: number) {
  const { note, numbering } = context;
  const own = viewMethod(context, note.schedules[index]!);
  const earlier = note.schedules
    .slice(0, index)
    .findIndex(
      (schedule) =>
        schedule.method.purpose === note.schedules[index]!.method.purpose &&
        setsOut(viewMethod(context, schedule), own),
    );
  if (earlier < 0) return {};
  return {
    sameAs: {
      id: calculationId(note.schedules[earlier]!.id),
      name: sayName(`Schedule ${numbering.prefix}${earlier + 1}`),
    },
    purpose: '',
    steps: [],
    hasVariants: false,
  };
}

/** 'Schedule 1' within a sentence. */
function sayName(number: string): string {
  return number.replace(/^S/, 's');
}

/** What a schedule has set out before its rows in full: purpose, common givens and cautions, but no step with numbers. */
function methodBlock(schedule: WordedSchedule): ShownBlock {
  const evaluated = {
    ...schedule.method,
    givens: commonGivens(schedule),
    steps: [],
    checks: [],
    limiting: [],
  };
  return { id: schedule.id, title: schedule.title, evaluated, accepted: [] };
}

/**
 * What a row in full finds set out before it: purpose, common givens and cautions in the schedule, the formulas with numbers in the first row
 * that is set out, or in an earlier calculation of the note.
 */
function contextInFull(
  context: NoteContext,
  schedule: WordedSchedule,
  before: ShownBlock,
  name: string,
): NoteContext {
  const common = new Set(commonGivens(schedule).map(likeness));
  const own = new Set(before.evaluated.givens.map(likeness));
  return {
    ...context,
    nameOf: (id) => (id === before.id ? name : context.nameOf(id)),
    firstCautioned: () => schedule.id,
    cautionedBy: () => [schedule.id],
    firstGivenLike: (like) =>
      common.has(like) ? schedule.id : own.has(like) ? before.id : context.firstGivenLike(like),
    firstFor: (purpose) =>
      context.firstFor(purpose) ?? (purpose === before.evaluated.purpose ? before : undefined),
  };
}

/** A row in full by its name. The name may hold any sign and cannot be part of an address; the line of the file can. */
function shownInFull({ id, rows }: WordedSchedule, block: WordedBlock): ShownBlock {
  const row = rows.find((one) => `${id}/${one.id}` === block.id);
  if (!row) throw new Error(`'${block.id}' is no row of the schedule '${id}'`);
  return { ...block, id: `${id}.${row.row}`, title: row.id };
}
