import type { WordedCheck } from '../engine/definition/evaluated.ts';
import { type ForceTally, tallyVerdicts } from '../evaluation/tally-verdicts.ts';
import { sayVerdict } from '../evaluation/word-calculation.ts';
import type { Words } from '../words/words.ts';
import { caseTitle } from './case-titles.ts';
import { calculationId, checkId } from './ids.ts';
import type { NoteContext } from './note-context.ts';
import { isToBeNoticed, printMargin, printResult, RELATIONS } from './word-values.ts';

/** Every check with its verdict, and how many there are of each, case by case. */
export function viewVerdicts({ blocks, words }: Pick<NoteContext, 'blocks' | 'words'>) {
  const judged = blocks.filter(({ evaluated }) => evaluated.checks.length > 0);
  const tallies = tallyVerdicts(
    judged.map((block) => ({ case: block.case, checks: block.evaluated.checks })),
  );
  const isSingle = judged.every((block) => block.case === undefined);
  return {
    counts: tallies.map(({ case: ofCase, requirement, recommendation }) => ({
      title: isSingle ? '' : caseTitle(ofCase),
      forces: [
        viewForce('Requirements', requirement, words),
        viewForce('Recommendations', recommendation, words),
      ],
    })),
    groups: judged.map((block) => ({
      id: calculationId(block.id),
      number: block.number,
      title: block.title,
      ofCase: block.case === undefined ? '' : caseTitle(block.case).toLowerCase(),
      rows: block.evaluated.checks.map((check) => viewVerdictRow(block.id, check)),
    })),
    withoutChecks: blocks
      .filter(({ evaluated }) => evaluated.checks.length === 0)
      .map(({ id, title, number }) => ({ id: calculationId(id), title, number })),
  };
}

function viewForce(label: string, { total, counts }: ForceTally, words: Words) {
  return {
    label,
    total,
    counts: counts.map(({ verdict, count }) => ({ verdict: words.word(sayVerdict(verdict)), count })),
  };
}

/** One check of a block in a table of verdicts. */
export function viewVerdictRow(block: string, check: WordedCheck) {
  return {
    target: checkId(block, check.name),
    criterion: check.criterion,
    isRecommendation: check.force === 'recommendation',
    value: printResult(check.value),
    limit:
      check.limit === undefined
        ? printResult(undefined)
        : `${RELATIONS[check.relation]} ${printResult(check.limit)}`,
    margin: printMargin(check),
    verdict: check.verdictInFull,
    noticed: isToBeNoticed(check.verdict),
  };
}
