import type { Verdict, WordedCheck } from '../engine/definition/evaluated.ts';
import { sayVerdict } from '../evaluation/word-calculation.ts';
import type { Words } from '../words/words.ts';
import { calculationId, checkId } from './ids.ts';
import type { NoteContext } from './note-context.ts';
import { isToBeNoticed, printMargin, printResult, RELATIONS } from './word-values.ts';

/** The summary that most readers read alone: every check with its verdict, and how many there are of each. */
export function viewVerdicts({ blocks, words }: Pick<NoteContext, 'blocks' | 'words'>) {
  const judged = blocks.filter(({ evaluated }) => evaluated.checks.length > 0);
  const checks = blocks.flatMap(({ evaluated }) => evaluated.checks);
  return {
    groups: judged.map(({ id, title, number, evaluated }) => ({
      id: calculationId(id),
      number,
      title,
      rows: evaluated.checks.map((check) => viewRow(id, check)),
    })),
    withoutChecks: blocks
      .filter(({ evaluated }) => evaluated.checks.length === 0)
      .map(({ id, title, number }) => ({ id: calculationId(id), title, number })),
    requirements: count(words, checks, 'requirement', ['complies', 'does-not-comply', 'cannot-be-judged']),
    recommendations: count(words, checks, 'recommendation', ['met', 'not-met', 'cannot-be-judged']),
  };
}

function viewRow(block: string, check: WordedCheck) {
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

function count(
  words: Words,
  checks: readonly WordedCheck[],
  force: WordedCheck['force'],
  verdicts: readonly Verdict[],
) {
  const own = checks.filter((check) => check.force === force);
  return {
    total: own.length,
    counts: verdicts.map((verdict) => ({
      verdict: words.word(sayVerdict(verdict)),
      count: own.filter((check) => check.verdict === verdict).length,
    })),
  };
}
