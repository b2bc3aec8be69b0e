import { displaySi, USUAL_DIGITS } from '../../quantity/display.ts';
import { fromSi } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import { type Datum, type SentenceKey, say, type Text } from '../../words/sentence.ts';
import type { CompiledCalculation, CompiledCheck } from './compiled.ts';
import { decide } from './computation.ts';
import type { LimitingDefinition } from './definition.ts';
import type { EvaluatedLimiting } from './evaluated.ts';
import type { Judgement } from './judge-check.ts';
import { type RangeJudgement, rangedGivens } from './judge-over-range.ts';
import { sayLimit } from './judge-validity.ts';
import { ownText } from './own-text.ts';
import type { PointJudge } from './point-judge.ts';
import type { Point } from './point-judgement.ts';
import { sayCriterion } from './show-check.ts';
import { type ShowContext, shownUnit } from './show-step.ts';
import { type LimitingValue, solveLimiting } from './solve-limiting.ts';
import { studyRanges } from './study-ranges.ts';
import type { NumberResult, ResultValue } from './value.ts';
import { digitsIn, hasFewDigits } from './written-digits.ts';

/** The limiting values that are worth printing, each with what sets it. */
export function showLimiting(
  context: ShowContext,
  judgements: readonly Judgement[],
  judge: PointJudge,
  overRanges: readonly RangeJudgement[],
): EvaluatedLimiting[] {
  const { calculation, inputs } = context;
  return calculation.limiting.flatMap(({ definition: limiting, when }, place) => {
    const { given, seek, meaning } = limiting;
    if (when && !decide(when, context.state, given)) return [];
    const nominal = context.state.values.get(given);
    if (!inputs.has(given) || typeof nominal !== 'number') return [];
    const isMeant = ({ name }: CompiledCheck) => limiting.checks?.includes(name) ?? true;
    // What fails at the stated value without its limit cannot be judged at others.
    const isOpen = ({ met, missing }: Judgement) => met === undefined || missing.length > 0;
    const unjudged = judgements.filter((one) => isOpen(one) && isMeant(one.check));
    // A check that is not asked at the stated value may be asked at another.
    const judged = calculation.checks.filter(
      (check) => isMeant(check) && !unjudged.some((one) => one.check === check),
    );
    const asked = judgements.some((one) => !isOpen(one) && isMeant(one.check));
    const found = asked && solveOverRanges(context, limiting, judged, judge, nominal, overRanges);
    if (!found) return [];
    const { result, checks } = found;
    // That nothing limits a value is not known as long as a check that may limit it could not be judged.
    if (unjudged.length > 0 && result.type === 'words' && saysNoLimit(result.words)) return [];
    return [
      {
        given,
        symbol: calculation.symbols.get(given)?.tex ?? given,
        seek,
        meaning: ownText(calculation, `limiting.${place}.meaning`, meaning),
        result: inUnitOf(shownUnit(context, given), result),
        checks,
        governing: sayGoverning(calculation, found),
        unjudged: unjudged.map(({ check }) => check.name),
      },
    ];
  });
}

/** The words that stand where no value was found beyond which anything fails. */
const NO_LIMIT: ReadonlySet<string> = new Set<SentenceKey>([
  'limiting.any',
  'limiting.open-above',
  'limiting.open-below',
]);

function saysNoLimit(words: Text): boolean {
  return typeof words === 'object' && NO_LIMIT.has(words.key);
}

/**
 * Printed in the unit in which the given stands, as the same number, so that one can be held against the other: also each of those of which
 * words tell (from 0.2 mm to 0.4 mm). Where such a number would have too many digits to be read, as between feet and metres, in the declared unit.
 */
function inUnitOf(unit: Unit, result: ResultValue): ResultValue {
  if (result.type === 'number') return numberInUnit(unit, result) ?? result;
  if (result.type !== 'words' || typeof result.words === 'string') return result;
  const data: Record<string, Datum> = {};
  for (const [name, datum] of Object.entries(result.words.data)) {
    const one = isNumberResult(datum) ? numberInUnit(unit, datum) : datum;
    // Both ends of a stretch in one unit, or the words as they are.
    if (one === undefined) return result;
    data[name] =
      one !== datum && isNumberResult(datum) ? { ...(one as NumberResult), signedAs: datum.displayed } : one;
  }
  return { ...result, words: { ...result.words, data } };
}

function isNumberResult(datum: Datum): datum is NumberResult {
  return typeof datum === 'object' && 'type' in datum && datum.type === 'number';
}

/** Undefined where the number would have too many digits in that unit. */
function numberInUnit(unit: Unit, result: NumberResult): NumberResult | undefined {
  if (result.displayed.unit.text === unit.text) return result;
  if (!hasFewDigits(fromSi(result.si, unit))) return undefined;
  const digits = Math.max(USUAL_DIGITS, digitsIn(result.displayed.value));
  return { ...result, displayed: displaySi(result.si, unit, { digits }) };
}

/** So often points that turn out worse at a limiting value are added, and the value solved for again. */
const ROUNDS = 6;

/**
 * The ranges of other givens stay as they are: it must hold at their least favourable points too. These may lie elsewhere at
 * the limiting value than at the stated one, so they are looked for again there.
 */
function solveOverRanges(
  { calculation, inputs }: ShowContext,
  limiting: LimitingDefinition,
  checks: readonly CompiledCheck[],
  judge: PointJudge,
  nominal: number,
  overRanges: readonly RangeJudgement[],
): LimitingValue | undefined {
  const others = rangedGivens(calculation, inputs).filter(({ name }) => name !== limiting.given);
  const without = (point: Point): Point => new Map([...point].filter(([name]) => name !== limiting.given));
  const points = others.length > 0 ? overRanges.map(({ worstPoint }) => without(worstPoint)) : [];
  for (let round = 0; ; round++) {
    const found = solveLimiting(calculation, limiting, checks, judge, nominal, points);
    if (!found || others.length === 0) return found;
    const worse = found.ends.flatMap((si) =>
      checks.flatMap((check) => {
        const { worst } = studyRanges(judge, check, others, new Map([[limiting.given, si]]));
        return worst && worst.met !== true ? [without(worst.point)] : [];
      }),
    );
    if (worse.length === 0) return found;
    // What still fails somewhere is no limiting value to print.
    if (round === ROUNDS) return undefined;
    points.push(...worse);
  }
}

function sayGoverning(
  calculation: CompiledCalculation,
  { governing, outside }: LimitingValue,
): EvaluatedLimiting['governing'] {
  const check = calculation.checks.find(({ name }) => name === governing);
  if (check) return { check: check.name, words: sayCriterion({ calculation }, check) };
  if (outside === undefined) return undefined;
  const limit = calculation.validity.find(({ id }) => id === outside.limit);
  const words = limit
    ? say('limiting.of-method', { limit: sayLimit(calculation, limit) })
    : say('limiting.no-value', {});
  return { check: undefined, words };
}
