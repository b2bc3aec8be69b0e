import type { WordedCalculation, WordedCheck, WordedStep } from '../../engine/definition/evaluated.ts';
import { rowOf, sign } from '../../formula/math-piece.ts';
import { fitMath, NARROW_EM, TEXT_EM } from '../math/fit-math.ts';
import { setTex } from '../math/set-math.ts';
import { displayTex } from '../math/typeset-math.ts';
import type { BlockContext } from '../note-context.ts';
import { basisHtml } from '../reference-list.ts';
import { viewWords } from '../step-view.ts';

/** The method of a schedule, once for all its rows: formulas with symbols and no numbers, then what is checked. */
export function viewMethod(context: BlockContext, { steps, checks }: WordedCalculation) {
  return {
    // A step that only hands on what was given says nothing that the table of givens does not.
    steps: steps.filter(({ asGiven }) => !asGiven).map((step) => viewMethodStep(context, step)),
    requirements: checks.map((check, i) => ({ letter: letterAt(i), ...viewRequirement(context, check) })),
  };
}

/** By which lines of the table name a check. */
export function letterAt(index: number): string {
  const rest = index < LETTERS.length ? '' : letterAt(Math.floor(index / LETTERS.length) - 1);
  return `${rest}${LETTERS[index % LETTERS.length]}`;
}

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';

function viewMethodStep(context: BlockContext, step: WordedStep) {
  const { formula } = step;
  const fitted = formula && fitMath(rowOf([sign('leading equals'), formula]), NARROW_EM);
  return {
    symbol: setTex(displayTex(step.symbol)).html,
    ...viewWords(context, step),
    // Without a value it must be said where one comes from.
    origin: step.origin ?? '',
    isWide: false,
    lines: fitted ? [{ html: fitted.html, size: fitted.size, result: '' }] : [],
  };
}

function viewRequirement(context: BlockContext, check: WordedCheck) {
  const requirement = fitMath(rowOf([check.valueFormula, sign(check.relation), check.limitFormula]), TEXT_EM);
  return {
    criterion: check.criterion,
    isRecommendation: check.force === 'recommendation',
    basis: basisHtml(check.basis, context),
    requirement: requirement.html,
    size: requirement.size,
  };
}
