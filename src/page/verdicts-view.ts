import type { WordedCheck } from '../engine/definition/evaluated.ts';
import { judgedCases, tallyVerdicts } from '../evaluation/tally-verdicts.ts';
import type { BlockCase } from '../source/note-source.ts';
import { CASES_IN_ORDER, caseTitle, wordCaseBeside } from './case-titles.ts';
import { calculationId, checkId } from './ids.ts';
import type { NoteContext } from './note-context.ts';
import { listScheduleVerdicts } from './schedule/schedule-verdicts.ts';
import { wordTally } from './word-tally.ts';
import { capitalise, isToBeNoticed, printJudged } from './word-values.ts';

/** Every check with its verdict, and how many there are of each, case by case. */
export function viewVerdicts(context: Pick<NoteContext, 'note' | 'numbering' | 'blocks' | 'words'>) {
  const { blocks } = context;
  const judged = blocks.filter(({ evaluated }) => evaluated.checks.length > 0);
  const schedules = listScheduleVerdicts(context);
  const counted = judgedCases(context.note).filter(({ checks }) => checks.length > 0);
  const isSingle = counted.every((one) => one.case === undefined);
  const tallies = tallyVerdicts(counted);
  const headOf = (ofCase: BlockCase | undefined) => {
    const tally = tallies.find((one) => one.case === ofCase);
    const counts = tally ? wordTally(tally) : '';
    return isSingle ? capitalise(counts) : `${caseTitle(ofCase)}: ${counts}`;
  };
  return {
    groups: CASES_IN_ORDER.flatMap((ofCase) => judged.filter((block) => block.case === ofCase)).map(
      (block, i, all) => ({
        id: calculationId(block.id),
        number: block.number,
        title: block.title,
        ofCase: wordCaseBeside(block.title, block.case),
        head: all[i - 1]?.case === block.case && i > 0 ? '' : headOf(block.case),
        rows: block.evaluated.checks.map((check) => viewVerdictRow(block.id, check)),
      }),
    ),
    hasChecks: judged.length + schedules.length > 0,
    schedules: schedules.map((one) => ({
      ...one,
      ofCase: wordCaseBeside(one.title, one.case),
    })),
    withoutChecks: blocks
      .filter(({ evaluated }) => evaluated.checks.length === 0)
      .map(({ id, title, number }) => ({ id: calculationId(id), title, number })),
  };
}

/** One check of a block in a table of verdicts. */
export function viewVerdictRow(block: string, check: WordedCheck) {
  return {
    target: checkId(block, check.name),
    criterion: check.criterion,
    isRecommendation: check.force === 'recommendation',
    ...printJudged(check),
    verdict: check.verdictInFull,
    noticed: isToBeNoticed(check.verdict),
  };
}
