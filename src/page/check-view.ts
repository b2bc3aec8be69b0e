import { CALCULATIONS } from '../engine/calculations/registry.ts';
import type { WordedCheck } from '../engine/definition/evaluated.ts';
import { ownMeaning } from '../engine/definition/own-text.ts';
import type { ResultValue } from '../engine/definition/value.ts';
import { isSameMath, type MathPiece, quantityPiece, rowOf, sign } from '../formula/math-piece.ts';
import { checkId } from './ids.ts';
import { fitMath, HALF_EM, TEXT_EM } from './math/fit-math.ts';
import { mathHtml } from './math/set-math.ts';
import type { BlockContext, ShownBlock } from './note-context.ts';
import { basisHtml } from './reference-list.ts';
import { textHtml } from './text-html.ts';
import { actualRelation, isToBeNoticed, printResultOrDash } from './word-values.ts';

/** One check: what is required, how the values stand to each other, the verdict, what to do. */
function viewCheck(context: BlockContext, block: ShownBlock, check: WordedCheck) {
  const requirement = fitMath(rowOf([check.valueFormula, sign(check.relation), check.limitFormula]), TEXT_EM);
  return {
    id: checkId(block.id, check.name),
    criterion: check.criterion,
    isRecommendation: check.force === 'recommendation',
    basis: basisHtml(check.basis, context),
    requirement: requirement.html,
    size: requirement.size,
    /** Whether it can stand beside a figure. */
    fitsHalf: requirement.em <= HALF_EM,
    comparison: comparisonHtml(check),
    verdict: check.verdictWords,
    atLimit: check.atLimit,
    noticed: isToBeNoticed(check.verdict),
    missing: check.missing.map((name) => ({ html: textHtml(meaningOf(context, block, name)) })),
    remedies: check.remedies,
    judgedOn:
      check.judgedOn === undefined
        ? ''
        : `${check.judgedOn}, ${context.words.spell('the least favourable value')}`,
    overRange: check.overRange?.sentence ?? '',
    examined: check.overRange?.examinedHere ?? '',
    examinedForEach: check.overRange?.examinedForEach ?? '',
  };
}

/** What a given that is missing means. */
function meaningOf({ words }: BlockContext, { evaluated }: ShownBlock, name: string): string {
  const calculation = CALCULATIONS.get(evaluated.calculation);
  return calculation ? words.word(ownMeaning(calculation, name)) : name.replaceAll('_', ' ');
}

/** Remedies that stand word for word at an earlier check of the block are not set out again. */
function sayRemediesOnce(checks: readonly ReturnType<typeof viewCheck>[]) {
  return checks.map((check, i) => {
    const words = check.remedies.join('\n');
    const earlier =
      words === '' ? undefined : checks.slice(0, i).find((one) => one.remedies.join('\n') === words);
    const remediesOf = earlier ? { id: earlier.id, criterion: earlier.criterion } : null;
    return { ...check, remedies: earlier ? [] : check.remedies, remediesOf };
  });
}

/** The checks of a block; what was examined over ranges stands once behind them where it is the same for all of them. */
export function viewChecks(context: BlockContext, block: ShownBlock) {
  const checks = sayRemediesOnce(block.evaluated.checks.map((check) => viewCheck(context, block, check)));
  const examined = checks.map((check) => check.examined).filter((one) => one !== '');
  const [first, ...others] = examined;
  if (first === undefined || others.length === 0 || others.some((one) => one !== first)) {
    return { checks, examined: '' };
  }
  return {
    checks: checks.map((check) => ({ ...check, examined: '' })),
    examined: checks.find((check) => check.examined !== '')!.examinedForEach,
  };
}

function comparisonHtml(check: WordedCheck): string {
  const { value, limit } = check;
  if (value?.type === 'number' && limit?.type === 'number') {
    const [left, right] = [quantityPiece(value.displayed), quantityPiece(limit.displayed)];
    return mathHtml(rowOf([left, sign(actualRelation(check)), right]));
  }
  return [oneSideHtml(check.valueFormula, value), oneSideHtml(check.limitFormula, limit)]
    .filter((side) => side !== '')
    .join('; ');
}

/** What is known of a comparison that cannot be made: the symbol with its value, or the words in place of a number. */
function oneSideHtml(formula: MathPiece, side: ResultValue<string> | undefined): string {
  if (side === undefined) return '';
  if (side.type === 'number') {
    const shown = quantityPiece(side.displayed);
    return isSameMath(formula, shown) ? '' : mathHtml(rowOf([formula, sign('='), shown]));
  }
  return `${mathHtml(formula)}: <span class="words">${textHtml(printResultOrDash(side))}</span>`;
}
