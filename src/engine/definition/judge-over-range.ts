import { displayEntered, displaySi } from '../../quantity/display.ts';
import type { CompiledCalculation, CompiledCheck } from './compiled.ts';
import type { Inputs } from './inputs.ts';
import type { Judgement } from './judge-check.ts';
import type { Point, PointJudge, PointJudgement } from './point-judge.ts';
import { unitOf } from './show-step.ts';
import { type Axis, POINTS_ALONG, type RangeStudy, studyRanges } from './study-ranges.ts';
import type { ResultValue } from './value.ts';

/** A check over the ranges of the givens. */
export interface RangeJudgement {
  /** Whether what holds at the stated values holds at every point that was examined. */
  readonly holds: boolean;
  /** Undefined where some point cannot be judged and none fails. */
  readonly met: boolean | undefined;
  /** What was found and what was examined; sentences for the note. */
  readonly sentence: string;
  /** The judgement at the point of least margin: its values are those that are shown. */
  readonly worst: Judgement | undefined;
  /** The ranged givens at that point. */
  readonly at: readonly { readonly name: string; readonly meaning: string; readonly value: ResultValue }[];
  readonly worstPoint: Point;
}

/** Judges a check over the ranges of the givens; undefined where none has a range, or the check does not apply. */
export function judgeOverRange(
  calculation: CompiledCalculation,
  check: CompiledCheck,
  inputs: Inputs,
  judge: PointJudge,
): RangeJudgement | undefined {
  const axes = rangedGivens(inputs);
  if (axes.length === 0) return undefined;
  const study = studyRanges(judge, check, axes);
  const { stated, worst, all } = study;
  if (stated.met === undefined) return undefined;
  const at = axes.map(({ name }) => {
    const unit = unitOf(calculation, name);
    const si = worst.point.get(name)!;
    return {
      name,
      meaning: calculation.givens.get(name)!.definition.meaning,
      value: { type: 'number' as const, si, unit, displayed: displaySi(si, unit) },
    };
  });
  const failing = all.filter(({ met }) => met !== true);
  return {
    holds: stated.met ? failing.length === 0 : failing.length === all.length,
    met: worst.met,
    worst: worst.judgement,
    at,
    worstPoint: worst.point,
    sentence: [
      describeFindings(calculation, axes, inputs, study, check, wordPoint(at)),
      turnOfVerdict(calculation, axes, check, judge, study),
      `Examined: ${wordExamined(axes, study)}.`,
    ]
      .filter((part) => part !== '')
      .join(' '),
  };
}

/** The givens that have a range. */
export function rangedGivens(inputs: Inputs): Axis[] {
  return [...inputs].flatMap(([name, { range, value }]) =>
    range && value.type === 'quantity'
      ? [{ name, low: range.low.si, high: range.high.si, stated: value.quantity.si }]
      : [],
  );
}

/** The values at a point; a single one needs no name. */
function wordPoint(at: readonly { readonly meaning: string; readonly value: ResultValue }[]): string {
  return at
    .map(({ meaning, value }) => {
      const print = value.type === 'number' ? value.displayed.print : '';
      return at.length === 1 ? print : `${meaning} ${print}`;
    })
    .join(' and ');
}

function describeFindings(
  calculation: CompiledCalculation,
  axes: readonly Axis[],
  inputs: Inputs,
  { stated, worst, all }: RangeStudy,
  check: CompiledCheck,
  place: string,
): string {
  const over = axes
    .map(({ name }) => {
      const { low, high } = inputs.get(name)!.range!;
      const meaning = calculation.givens.get(name)!.definition.meaning;
      return `${meaning} (${displayEntered(low).print} to ${displayEntered(high).print})`;
    })
    .join(' and ');
  if (all.every(({ met, margin }) => met === stated.met && margin === stated.margin)) {
    return `The ranges of ${over} did not change it.`;
  }
  const atStated = stated.judgement?.value;
  const found = atStated === undefined ? '' : ` (${displaySi(atStated, check.unit).print})`;
  const shown = `the value shown is the least favourable, at ${place}`;
  if (worst.met === undefined) {
    return `At ${place} it cannot be judged: the method does not hold there, or a value is missing.`;
  }
  if (worst.met) return `Met at every point that was examined of the ranges of ${over}; ${shown}.`;
  if (stated.met) {
    return `Met at the stated values${found}, but not over the ranges of ${over}; ${shown}.`;
  }
  const some = all.some(({ met }) => met === true);
  return some
    ? `Not met at the stated values${found}, though in a part of the ranges of ${over}; ${shown}.`
    : `Met at no point that was examined of the ranges of ${over}; ${shown}.`;
}

/** For a single range in which the verdict turns once: up to where, or from where on, it is met. */
function turnOfVerdict(
  calculation: CompiledCalculation,
  axes: readonly Axis[],
  check: CompiledCheck,
  judge: PointJudge,
  { all }: RangeStudy,
): string {
  const [axis, ...more] = axes;
  if (!axis || more.length > 0) return '';
  const position = ({ point }: PointJudgement) => point.get(axis.name)!;
  const line = [...all].sort((a, b) => position(a) - position(b));
  const turns = line.slice(1).flatMap((next, i) => {
    const before = line[i]!;
    return (before.met === true) === (next.met === true) ? [] : [[before, next] as const];
  });
  if (turns.length === 0) return '';
  const [turn, ...others] = turns;
  if (!turn || others.length > 0) return 'Within the range it is met in parts.';
  const upTo = turn[0].met === true;
  let [good, bad] = upTo ? [position(turn[0]), position(turn[1])] : [position(turn[1]), position(turn[0])];
  for (let i = 0; i < 100; i++) {
    const middle = (good + bad) / 2;
    if (judge.judge(check, new Map([[axis.name, middle]])).met === true) good = middle;
    else bad = middle;
  }
  const { print } = displaySi(good, unitOf(calculation, axis.name), {
    digits: 3,
    direction: upTo ? 'down' : 'up',
  });
  return `It is met ${upTo ? `up to ${print}` : `from ${print} on`}.`;
}

function wordExamined(axes: readonly Axis[], { allCorners }: RangeStudy): string {
  const inner = POINTS_ALONG - 2;
  if (axes.length === 1)
    return `both ends, ${inner} points between them, and each change of formula that they showed`;
  const lines = `${POINTS_ALONG} points along each range through the stated and through the least favourable values`;
  return allCorners
    ? `all ${2 ** axes.length} corners of the ranges and ${lines}`
    : `of the ${2 ** axes.length} corners of the ranges only those to which the search led, and ${lines}`;
}
