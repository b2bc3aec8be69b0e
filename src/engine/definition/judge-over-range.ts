import { type Displayed, displayEntered, displaySi } from '../../quantity/display.ts';
import { type Quantity, toSi } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import { type Datum, type Sentence, type ShownNumber, say } from '../../words/sentence.ts';
import type { CompiledCalculation, CompiledCheck } from './compiled.ts';
import { endAt } from './context-at.ts';
import type { GivenInput, Inputs } from './inputs.ts';
import type { Judgement } from './judge-check.ts';
import { ownMeaning } from './own-text.ts';
import type { PointJudge } from './point-judge.ts';
import type { Point, PointJudgement } from './point-judgement.ts';
import { unitOf } from './show-step.ts';
import { type Axis, type RangeStudy, studyRanges } from './study-ranges.ts';
import type { NumberResult, Value } from './value.ts';
import { hasFewDigits } from './written-digits.ts';

/** A check over the ranges of the givens. */
export interface RangeJudgement {
  /** Whether what holds at the stated values holds at every point that was examined. */
  readonly holds: boolean;
  /** Undefined where some point cannot be judged and none fails. */
  readonly met: boolean | undefined;
  /** What was found, and at which points that was examined. */
  readonly sentence: Sentence;
  readonly examined: Sentence;
  /** The judgement whose values are shown: at the point of least margin or, where none can be made there, at the stated values. */
  readonly worst: Judgement;
  /** The ranged givens at that point. */
  readonly at: readonly At[];
  readonly worstPoint: Point;
}

interface At {
  readonly name: string;
  readonly value: NumberResult;
}

/**
 * Judges a check over the ranges of the givens; undefined where none has a range, where it cannot be judged at the stated
 * values, or where it is asked at no point.
 */
export function judgeOverRange(
  calculation: CompiledCalculation,
  check: CompiledCheck,
  inputs: Inputs,
  judge: PointJudge,
): RangeJudgement | undefined {
  const axes = rangedGivens(calculation, inputs);
  if (axes.length === 0) return undefined;
  const study = studyRanges(judge, check, axes);
  const { stated, worst, all } = study;
  const shown = [worst, stated, ...all].find((one) => one?.judgement)?.judgement;
  if (!worst || !shown || (stated && stated.met === undefined && worst.met !== false)) return undefined;
  const at = axes.map(({ name }) => ({
    name,
    value: valueAt(inputs.get(name)!, worst.point.get(name)!, unitOf(calculation, name)),
  }));
  const failing = all.filter(({ met }) => met !== true);
  return {
    holds: stated?.met === false ? failing.length === all.length : failing.length === 0,
    met: worst.met,
    worst: shown,
    at,
    worstPoint: worst.point,
    sentence: withTurn(
      sayFindings(calculation, axes, inputs, study, worst, check, at),
      turnOfVerdict(calculation, inputs, axes, check, judge, study),
    ),
    examined: sayExamined(axes, study),
  };
}

function withTurn(found: Sentence, turn: Sentence | undefined): Sentence {
  return turn ? say('range.with-turn', { found, turn }) : found;
}

/** The givens that have a range. */
export function rangedGivens(calculation: CompiledCalculation, inputs: Inputs): Axis[] {
  const axes: Axis[] = [];
  for (const [name, { range, value }] of inputs) {
    if (!range || value.type !== 'quantity') continue;
    const given = calculation.givens.get(name)?.definition;
    const whole = given?.type === 'quantity' && given.whole === true;
    axes.push({ name, low: range.low.si, high: range.high.si, stated: value.quantity.si, whole });
  }
  return axes;
}

/**
 * A value of a given with a range, in the unit in which it was entered: as it was, where it is the stated one or an end of the range. A sign-off
 * covers it in the declared unit, to three digits.
 */
function valueAt(input: GivenInput, si: number, declared: Unit): NumberResult {
  const stated = statedQuantity(input);
  const { unit } = stated;
  const entered = si === stated.si && !input.computed ? stated : endAt(input, si);
  const shown = entered
    ? asEntered(entered)
    : { type: 'number' as const, si, unit, displayed: displaySi(si, unit) };
  return { ...shown, signedAs: displaySi(si, declared) };
}

/** A given that has a range is a quantity. */
function statedQuantity({ value }: GivenInput): Quantity {
  return (value as Value & { type: 'quantity' }).quantity;
}

/** The values at a point; a single one needs no name. */
function sayPlace(calculation: CompiledCalculation, at: readonly At[]): readonly Datum[] {
  return at.map(({ name, value }) =>
    at.length === 1 ? value : say('range.value-of', { meaning: ownMeaning(calculation, name), value }),
  );
}

/** A range as it was written. */
export function saySpan({ low, high }: NonNullable<GivenInput['range']>): Sentence {
  return say('range.span', { low: asEntered(low), high: asEntered(high) });
}

/** As it was entered; an end that was taken over from what another calculation computed has no such form. */
function asEntered(quantity: Quantity): NumberResult {
  const { si, unit, value } = quantity;
  const entered = displayEntered(quantity);
  return hasFewDigits(value)
    ? { type: 'number', si, unit, displayed: entered }
    : { type: 'number', si, unit, displayed: displaySi(si, unit), signedAs: entered };
}

function sayFindings(
  calculation: CompiledCalculation,
  axes: readonly Axis[],
  inputs: Inputs,
  { stated, all }: RangeStudy,
  worst: PointJudgement,
  check: CompiledCheck,
  at: readonly At[],
): Sentence {
  const ranges = axes.map(({ name }) =>
    say('range.with-ends', {
      meaning: ownMeaning(calculation, name),
      span: saySpan(inputs.get(name)!.range!),
    }),
  );
  const found = { ranges, place: sayPlace(calculation, at) };
  if (worst.met === undefined) return say('range.cannot-be-judged', found);
  if (!stated) return say(worst.met ? 'range.met-where-asked' : 'range.not-met-where-asked', found);
  if (stated.met === undefined) return say('range.not-met-within', found);
  if (all.every(({ met, margin }) => met === stated.met && margin === stated.margin)) {
    return say('range.same-everywhere', found);
  }
  if (worst.met) return say('range.met', found);
  const si = stated.judgement?.value;
  const { unit } = check;
  const value =
    si === undefined ? [] : [{ type: 'number' as const, si, unit, displayed: displaySi(si, unit) }];
  if (stated.met) return say('range.met-as-stated-alone', { ...found, value });
  const some = all.some(({ met }) => met === true);
  return some ? say('range.met-in-part', { ...found, value }) : say('range.not-met', found);
}

/** For a single range in which the verdict turned once: up to where, or from where on, it is met. */
function turnOfVerdict(
  calculation: CompiledCalculation,
  inputs: Inputs,
  axes: readonly Axis[],
  check: CompiledCheck,
  judge: PointJudge,
  { all, examined }: RangeStudy,
): Sentence | undefined {
  const [axis, ...more] = axes;
  if (!axis || more.length > 0 || !examined.closer) return undefined;
  const position = ({ point }: PointJudgement) => point.get(axis.name)!;
  const line = [...all].sort((a, b) => position(a) - position(b));
  const turns = line.slice(1).flatMap((next, i) => {
    const before = line[i]!;
    return (before.met === true) === (next.met === true) ? [] : [[before, next] as const];
  });
  if (turns.length === 0) return undefined;
  const [turn, ...others] = turns;
  if (!turn || others.length > 0) return say('range.met-in-parts', {});
  const upTo = turn[0].met === true;
  let [good, bad] = upTo ? [position(turn[0]), position(turn[1])] : [position(turn[1]), position(turn[0])];
  const isMetAt = (si: number) => judge.judge(check, new Map([[axis.name, si]])).met === true;
  for (let i = 0; i < (axis.whole ? 0 : 60); i++) {
    const middle = (good + bad) / 2;
    if (isMetAt(middle)) good = middle;
    else bad = middle;
  }
  const { unit } = statedQuantity(inputs.get(axis.name)!);
  const displayIn = (one: Unit) => displayTurn(axis, one, good, upTo ? 'down' : 'up', isMetAt);
  const signedAs = displayIn(unitOf(calculation, axis.name));
  const value: ShownNumber = { type: 'number', si: good, unit, displayed: displayIn(unit), signedAs };
  return say(upTo ? 'range.met-up-to' : 'range.met-from', { value });
}

/** With as many digits as it takes to lie within the range and to be met as it is printed. */
function displayTurn(
  { low, high, whole }: Axis,
  unit: Unit,
  si: number,
  direction: 'down' | 'up',
  isMetAt: (si: number) => boolean,
): Displayed {
  if (whole) return displaySi(si, unit, { digits: 1 });
  for (let digits = 3; ; digits++) {
    const displayed = displaySi(si, unit, { digits, direction });
    const read = toSi(displayed.value, unit);
    if (digits >= 12 || (read >= low && read <= high && isMetAt(read))) return displayed;
  }
}

function sayExamined(axes: readonly Axis[], { examined }: RangeStudy): Sentence {
  const { corners, along, grid, closer, points } = examined;
  const [axis, ...more] = axes;
  const isOne = more.length === 0;
  if (points !== undefined) {
    if (isOne) return say('points.few-of-one', { points });
    return say(corners === 'all' ? 'points.few-of-all-corners' : 'points.few-of-two-corners', { points });
  }
  if (isOne) {
    if (!axis?.whole) return say('points.along-one', { between: along - 2 });
    if (axis.high - axis.low < along) return say('points.every-whole-number', {});
    return say('points.whole-numbers', { points: along });
  }
  const parts = [
    say(corners === 'all' ? 'points.all-corners' : 'points.some-corners', { corners: 2 ** axes.length }),
    ...(grid === undefined ? [] : [say('points.grid', { along: axes.map(() => grid) })]),
    say('points.lines', { along }),
    ...(closer ? [say('points.around', {})] : []),
  ];
  return say('points.several', { parts });
}
