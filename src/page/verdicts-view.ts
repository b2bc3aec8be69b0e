import type { EvaluatedCheck, Verdict } from '../engine/definition/evaluated.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { calculationId, checkId } from './ids.ts';
import { isToBeNoticed, printMargin, printResult, RELATIONS } from './word-values.ts';

/** The summary that most readers read alone: every check with its verdict, and how many there are of each. */
export function viewVerdicts(note: EvaluatedNote) {
  const blocks = note.blocks.map((block, index) => ({ ...block, number: index + 1 }));
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
    requirements: count(checks, 'requirement', ['complies', 'does not comply', 'cannot be judged']),
    recommendations: count(checks, 'recommendation', ['met', 'not met', 'cannot be judged']),
  };
}

function viewRow(block: string, check: EvaluatedCheck) {
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
    verdict: check.atLimit ? `${check.verdict}, at the limit` : check.verdict,
    noticed: isToBeNoticed(check.verdict),
  };
}

function count(
  checks: readonly EvaluatedCheck[],
  force: EvaluatedCheck['force'],
  verdicts: readonly Verdict[],
) {
  const own = checks.filter((check) => check.force === force);
  return {
    total: own.length,
    counts: verdicts.map((verdict) => ({
      verdict,
      count: own.filter((check) => check.verdict === verdict).length,
    })),
  };
}
