import type { Formula } from '../../formula/formula.ts';
import { typesetFormula } from '../../formula/typeset-formula.ts';
import { type Displayed, displaySi, USUAL_DIGITS } from '../../quantity/display.ts';
import { PURE_UNIT } from '../../quantity/unit.ts';
import { say, type Text } from '../../words/sentence.ts';
import type { CompiledCheck } from './compiled.ts';
import { decide } from './computation.ts';
import type { EvaluatedCheck } from './evaluated.ts';
import { displayJudged, type Judgement, verdictOf } from './judge-check.ts';
import type { RangeJudgement } from './judge-over-range.ts';
import { ownText, ownWords } from './own-text.ts';
import type { ShowContext } from './show-step.ts';
import { dataIn, type ResultOf } from './shown-text.ts';
import type { ResultValue } from './value.ts';

/** Digits for names that a check compares directly, so that their own line does not read as if the verdict were wrong. */
export function digitsForChecks(judgements: readonly Judgement[]): Map<string, number> {
  const digits = new Map<string, number>();
  for (const { check, value, limit, candidate } of judgements) {
    if (value === undefined || limit === undefined) continue;
    const needed = displayJudged(value, limit, check.unit).digits;
    if (needed <= USUAL_DIGITS) continue;
    for (const formula of [candidate.value, candidate.limit]) {
      if (formula.root.type === 'name')
        digits.set(formula.root.name, Math.max(needed, digits.get(formula.root.name) ?? 0));
    }
  }
  return digits;
}

/** What a check came to, without what is said of it at length. */
export type ShownVerdict = Pick<
  EvaluatedCheck,
  | 'name'
  | 'criterion'
  | 'verdict'
  | 'force'
  | 'relation'
  | 'value'
  | 'limit'
  | 'margin'
  | 'atLimit'
  | 'missing'
  | 'overRange'
>;

/** The verdict of a judgement at the stated values or at the least favourable point of the ranges; `there` is what holds at that point. */
export function showVerdict(
  there: ShowContext,
  judgement: Judgement,
  resultOf: ResultOf,
  overRange: RangeJudgement | undefined,
): ShownVerdict {
  const { check, value, limit, words } = judgement;
  const { unit } = check;
  const isCounted = check.definition.counts === true || comparesWhole(there, judgement);
  // Numbers of things read as such: 6 of 9, not 6.00 of 9.00.
  const numbers = [value, limit].filter((one) => one !== undefined);
  const countsThings =
    unit === PURE_UNIT && numbers.every(Number.isInteger) && (numbers.length === 2 || isCounted);
  const ownDigits = countsThings ? { value: 1, limit: 1 } : digitsOfOperands(judgement, resultOf);
  const both =
    value !== undefined && limit !== undefined
      ? displayJudged(value, limit, unit, ownDigits, directionsOf(there, judgement))
      : undefined;
  const result = (
    si: number | undefined,
    digits: number,
    shown: Displayed | undefined,
  ): ResultValue | undefined =>
    si === undefined
      ? undefined
      : { type: 'number', si, unit, displayed: shown ?? displaySi(si, unit, { digits }) };
  const said = (of: 'value' | 'limit'): ResultValue | undefined =>
    words?.of === of ? { type: 'words', words: ownWords(there.calculation, words.says), unit } : undefined;
  return {
    name: check.name,
    criterion: sayCriterion(there, check),
    verdict: verdictOf(judgement.force, overRange ? overRange.met : judgement.met),
    force: judgement.force,
    relation: check.definition.relation,
    value: said('value') ?? result(value, ownDigits.value, both?.value),
    limit: said('limit') ?? result(limit, ownDigits.limit, both?.limit),
    margin: judgement.distance,
    atLimit: judgement.atLimit && !isCounted,
    missing: judgement.missing,
    ...(overRange
      ? {
          overRange: {
            holds: overRange.holds,
            sentence: overRange.sentence,
            examined: overRange.examined,
            at: overRange.at,
          },
        }
      : {}),
  };
}

/**
 * A check as it is printed: its verdict `there`, with its formulas and what to do; `stated` is what holds at the stated values.
 */
export function showCheck(
  stated: ShowContext,
  there: ShowContext,
  judgement: Judgement,
  resultOf: ResultOf,
  overRange: RangeJudgement | undefined,
): EvaluatedCheck {
  const { candidate } = judgement;
  const met = overRange ? overRange.met : judgement.met;
  return {
    ...showVerdict(there, judgement, resultOf, overRange),
    valueFormula: typesetFormula(candidate.value, there.calculation.symbols),
    limitFormula: typesetFormula(candidate.limit, there.calculation.symbols),
    basis: judgement.basis,
    remedies: met === false ? remediesOf(stated, there, judgement) : [],
    restsOn: [...new Set([...candidate.value.names, ...candidate.limit.names])],
    ...judgedOn(there, judgement),
  };
}

/** Whether a side is a given that only whole numbers can be, so that the other counts things too. */
function comparesWhole({ calculation }: ShowContext, { candidate }: Judgement): boolean {
  return [candidate.value, candidate.limit].some(({ root }) => {
    const given = root.type === 'name' ? calculation.givens.get(root.name)?.definition : undefined;
    return given?.type === 'quantity' && given.whole === true;
  });
}

/** What is rounded to its safe side, here or where it was taken over from, reads the same in its check. */
function directionsOf({ calculation, inputs }: ShowContext, { candidate }: Judgement) {
  const directionOf = ({ root }: Formula) =>
    root.type === 'name'
      ? (calculation.steps.find((step) => step.name === root.name)?.definition.rounded ??
        inputs.get(root.name)?.rounded)
      : undefined;
  const [value, limit] = [directionOf(candidate.value), directionOf(candidate.limit)];
  return { ...(value ? { value } : {}), ...(limit ? { limit } : {}) };
}

/** Each side is printed as it stands where it was found. */
function digitsOfOperands({ candidate }: Judgement, resultOf: ResultOf) {
  const digitsOf = ({ root }: Formula): number => {
    const result = root.type === 'name' ? resultOf(root.name) : undefined;
    if (result?.type !== 'number') return USUAL_DIGITS;
    const { displayed } = result;
    const digits =
      displayed.value === 0
        ? 1
        : Math.floor(Math.log10(Math.abs(displayed.value))) - Math.round(Math.log10(displayed.lastDigit)) + 1;
    return Math.max(USUAL_DIGITS, Math.min(digits, 12));
  };
  return { value: digitsOf(candidate.value), limit: digitsOf(candidate.limit) };
}

export function sayCriterion(
  { calculation }: Pick<ShowContext, 'calculation'>,
  { name, definition }: CompiledCheck,
): Text {
  return ownText(calculation, `checks.${name}.criterion`, definition.criterion);
}

/** What the value is that governs, where several compete and it is not the check's own. */
function judgedOn({ calculation }: ShowContext, { check, candidate }: Judgement): { judgedOn?: Text } {
  if (candidate.meaning === undefined) return {};
  const way = `checks.${check.name}.competing.${check.candidates.indexOf(candidate) - 1}`;
  return { judgedOn: ownText(calculation, way, candidate.meaning) };
}

/** What holds only at the least favourable point says so: beside the stated values it would read as untrue. */
function remediesOf(stated: ShowContext, there: ShowContext, { check }: Judgement): Text[] {
  return check.remedies.flatMap(({ when, text }, place) => {
    if (when && !decide(when, there.state, check.name)) return [];
    const holdsAsStated = there === stated || !when || decide(when, stated.state, check.name);
    const way = `checks.${check.name}.remedies.${place}`;
    const said = ownText(there.calculation, way, text, dataIn(there, text));
    return [holdsAsStated ? said : say('range.at-least-favourable', { text: said })];
  });
}
