import { typesetFormula } from '../../formula/typeset-formula.ts';
import { type Displayed, displaySi } from '../../quantity/display.ts';
import { PURE_UNIT } from '../../quantity/unit.ts';
import { say, type Text } from '../../words/sentence.ts';
import type { CompiledCheck } from './compiled.ts';
import { decide } from './computation.ts';
import { displayJudged, type Side, type Sides } from './display-judged.ts';
import type { EvaluatedCheck } from './evaluated.ts';
import { type Judgement, verdictOf } from './judge-check.ts';
import type { RangeJudgement } from './judge-over-range.ts';
import { once } from './once.ts';
import { ownText, ownWords } from './own-text.ts';
import type { ShowContext } from './show-step.ts';
import { dataIn } from './shown-text.ts';
import { sidesOf } from './sides-of-check.ts';
import { numberShown, type ResultValue } from './value.ts';

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
  | 'counts'
  | 'missing'
  | 'overRange'
>;

/** Numbers of things have no more digits than they need. */
const COUNTS: Sides = { value: { digits: 1, inFull: true }, limit: { digits: 1, inFull: true } };

/** The verdict of a judgement at the stated values or at the least favourable point of the ranges; `there` is what holds at that point. */
export function showVerdict(
  there: ShowContext,
  judgement: Judgement,
  overRange: RangeJudgement | undefined,
): ShownVerdict {
  const { check, value, limit, words } = judgement;
  const { unit } = check;
  const isCounted = countsWhole(there, judgement);
  const displayed = once(() => displaySides(there, judgement));
  const side = (of: 'value' | 'limit', si: number | undefined): ResultValue | undefined => {
    if (words?.of === of) return { type: 'words', words: ownWords(there.calculation, words.says), unit };
    if (si === undefined) return undefined;
    // How a number looks in print takes longer than the verdict, and is asked of those alone that are printed.
    return numberShown(si, unit, () => displayed()[of]!);
  };
  return {
    name: check.name,
    criterion: sayCriterion(there, check),
    verdict: verdictOf(judgement.force, overRange ? overRange.met : judgement.met),
    force: judgement.force,
    relation: check.definition.relation,
    value: side('value', value),
    limit: side('limit', limit),
    margin: judgement.distance,
    atLimit: judgement.atLimit && !isCounted,
    ...(countsThings(judgement, isCounted) ? { counts: true as const } : {}),
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

/** Whether numbers of things are compared, by the definition or since a side is a given that only whole numbers can be. */
function countsWhole(there: ShowContext, judgement: Judgement): boolean {
  return judgement.check.definition.counts === true || comparesWhole(there, judgement);
}

/** Whether numbers read as those of things: 6 of 9, not 6.00 of 9.00. */
function countsThings({ check, value, limit }: Judgement, isCounted: boolean): boolean {
  const numbers = [value, limit].filter((one) => one !== undefined);
  return check.unit === PURE_UNIT && numbers.every(Number.isInteger) && (numbers.length === 2 || isCounted);
}

/** Both numbers of a check as they are printed where they stand by themselves, each for the side that has one. */
function displaySides(there: ShowContext, judgement: Judgement): { value?: Displayed; limit?: Displayed } {
  const { check, value, limit } = judgement;
  const { unit, definition } = check;
  const isCounted = countsWhole(there, judgement);
  const sides = countsThings(judgement, isCounted) ? COUNTS : sidesOf(there, judgement);
  if (value !== undefined && limit !== undefined) {
    return displayJudged(value, limit, { unit, relation: definition.relation }, sides);
  }
  const alone = (si: number, { digits, direction }: Side) =>
    displaySi(si, unit, { digits, ...(direction ? { direction } : {}) });
  return {
    ...(value === undefined ? {} : { value: alone(value, sides.value) }),
    ...(limit === undefined ? {} : { limit: alone(limit, sides.limit) }),
  };
}

/**
 * A check as it is printed: its verdict `there`, with its formulas and what to do; `stated` is what holds at the stated values.
 */
export function showCheck(
  stated: ShowContext,
  there: ShowContext,
  judgement: Judgement,
  overRange: RangeJudgement | undefined,
): EvaluatedCheck {
  const { candidate } = judgement;
  const met = overRange ? overRange.met : judgement.met;
  return {
    ...showVerdict(there, judgement, overRange),
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
