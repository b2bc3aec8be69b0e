import type { EvaluatedNote, WordedBlock } from '../evaluation/evaluated-note.ts';
import { judgedCases, tallyVerdicts } from '../evaluation/tally-verdicts.ts';
import { wordNote } from '../evaluation/word-note.ts';
import { caseTitle } from '../page/case-titles.ts';
import { wordTally } from '../page/word-tally.ts';
import { ENGLISH, type Words } from '../words/words.ts';
import { layTable } from './lay-table.ts';
import { outlineActions } from './outline-actions.ts';
import { cautionsInFull, outlineCautions } from './outline-cautions.ts';
import { cellsOfCheck, linesBelowCheck, linesOfResults } from './outline-check.ts';
import { outlineSchedule } from './outline-schedule.ts';
import { type Line, wrapText } from './styled-line.ts';

export interface OutlineOptions {
  /** Undefined where nobody knows one: nothing is broken. */
  readonly width?: number | undefined;
  /** Cautions in full below their calculations, instead of a line each below the note. */
  readonly cautions?: boolean | undefined;
  /** The counts of this note by case, where those of all notes stand elsewhere. */
  readonly tally?: boolean | undefined;
  readonly words?: Words;
}

/** A note as the terminal tells it: each check with its value against the limit, results, cautions, and what is to be done. */
export function outlineNote(
  evaluated: EvaluatedNote,
  { width, cautions = false, tally = false, words = ENGLISH }: OutlineOptions = {},
): Line[] {
  const note = wordNote(evaluated, words);
  const { frontMatter, path } = note.source;
  const open = note.source.holds.filter((hold) => hold.state === 'open').length;
  const toConfirm = note.source.assumptions.filter((a) => a.state === 'to be confirmed').length;
  const auxiliary = note.blocks.filter((block) => block.case === 'auxiliary').map(({ id }) => id);
  return [
    ...wrapText(
      `${path}: ${frontMatter.number} revision ${frontMatter.revision}, ${frontMatter.title}`,
      0,
      width,
      'strong',
    ),
    ...note.blocks.flatMap((block) => [
      ...outlineBlock(block, words, width),
      ...(cautions ? cautionsInFull(block, width) : []),
    ]),
    ...note.schedules.flatMap((schedule) => outlineSchedule(schedule, words, width)),
    ...(cautions ? [] : outlineCautions(note.blocks, width)),
    ...(open > 0 ? wrapText(`${open} open ${open === 1 ? 'point' : 'points'}`, 2, width) : []),
    ...(toConfirm > 0
      ? wrapText(`${toConfirm} ${toConfirm === 1 ? 'assumption' : 'assumptions'} to be confirmed`, 2, width)
      : []),
    ...(tally ? linesOfCases([evaluated], width) : []),
    ...(auxiliary.length > 0 ? wrapText(`auxiliary, in no count: ${auxiliary.join(', ')}`, 2, width) : []),
    ...outlineActions(note, words).flatMap((text) =>
      wrapText(text.trimStart(), text.length - text.trimStart().length, width),
    ),
  ];
}

function outlineBlock(block: WordedBlock, words: Words, width: number | undefined): Line[] {
  const { id, case: ofCase, evaluated } = block;
  const { checks } = evaluated;
  const what = [evaluated.calculation, ...(ofCase ? [ofCase] : [])].join(', ');
  return [
    ...wrapText(`${id} (${what})`, 2, width),
    ...(checks.length === 0 ? linesOfResults(evaluated, width) : []),
    ...layTable(
      checks.map((check) => cellsOfCheck(check, words)),
      4,
      width,
      (i) => linesBelowCheck(checks[i]!, evaluated, width),
    ),
  ];
}

/** The verdicts of all notes, counted case by case; what is not required says so. */
export function outlineSummary(notes: readonly EvaluatedNote[], width: number | undefined): Line[] {
  const lines = linesOfCases(notes, width);
  const heading = notes.length === 1 ? 'Verdicts' : `Verdicts of ${notes.length} notes`;
  return [
    [{ text: heading, style: 'strong' }],
    ...(lines.length > 0 ? lines : wrapText('no check', 2, width)),
  ];
}

function linesOfCases(notes: readonly EvaluatedNote[], width: number | undefined): Line[] {
  return tallyVerdicts(notes.flatMap(judgedCases)).flatMap(({ case: ofCase, required, ...tally }) => {
    const said = wordTally(tally);
    if (said === '') return [];
    return wrapText(`${caseTitle(ofCase)}${required ? '' : ' (not required)'}: ${said}`, 2, width);
  });
}
