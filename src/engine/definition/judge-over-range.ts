import { joinWords } from '../../diagnostics/words.ts';
import { displayEntered, displaySi } from '../../quantity/display.ts';
import { toSi } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import type { CompiledCalculation, CompiledCheck } from './compiled.ts';
import type { Inputs } from './inputs.ts';
import type { Judgement } from './judge-check.ts';
import type { PointJudge } from './point-judge.ts';
import type { Point, PointJudgement } from './point-judgement.ts';
import { unitOf } from './show-step.ts';
import { type Axis, type RangeStudy, studyRanges } from './study-ranges.ts';
import type { ResultValue } from './value.ts';

/** A check over the ranges of the givens. */
export interface RangeJudgement {
  /** Whether what holds at the stated values holds at every point that was examined. */
  readonly holds: boolean;
  /** Undefined where some point cannot be judged and none fails. */
  readonly met: boolean | undefined;
  /** What was found, and what was examined for it; sentences for the note. */
  readonly sentence: string;
  readonly examined: string;
  /** The judgement whose values are shown: at the point of least margin or, where none can be made there, at the stated values. */
  readonly worst: Judgement;
  /** The ranged givens at that point. */
  readonly at: readonly { readonly name: string; readonly meaning: string; readonly value: ResultValue }[];
  readonly worstPoint: Point;
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
    holds: stated?.met === false ? failing.length === all.length : failing.length === 0,
    met: worst.met,
    worst: shown,
    at,
    worstPoint: worst.point,
    sentence: [
      describeFindings(calculation, axes, inputs, study, worst, check, wordPoint(at)),
      turnOfVerdict(calculation, axes, check, judge, study),
    ]
      .filter((part) => part !== '')
      .join(' '),
    examined: `Examined: ${wordExamined(axes, study)}.`,
  };
}

/** The givens that have a range. */
export function rangedGivens(calculation: CompiledCalculation, inputs: Inputs): Axis[] {
  return [...inputs].flatMap(([name, { range, value }]) => {
    if (!range || value.type !== 'quantity') return [];
    const given = calculation.givens.get(name)?.definition;
    const whole = given?.type === 'quantity' && given.whole === true;
    return [{ name, low: range.low.si, high: range.high.si, stated: value.quantity.si, whole }];
  });
}

/** The values at a point; a single one needs no name. */
function wordPoint(at: readonly { readonly meaning: string; readonly value: ResultValue }[]): string {
  return joinWords(
    at.map(({ meaning, value }) => {
      const print = value.type === 'number' ? value.displayed.print : '';
      return at.length === 1 ? print : `${meaning} ${print}`;
    }),
  );
}

function describeFindings(
  calculation: CompiledCalculation,
  axes: readonly Axis[],
  inputs: Inputs,
  { stated, all }: RangeStudy,
  worst: PointJudgement,
  check: CompiledCheck,
  place: string,
): string {
  const listed = joinWords(
    axes.map(({ name }) => {
      const { low, high } = inputs.get(name)!.range!;
      const meaning = calculation.givens.get(name)!.definition.meaning;
      return `${meaning} (${displayEntered(low).print} to ${displayEntered(high).print})`;
    }),
  );
  const over = `the ${axes.length === 1 ? 'range' : 'ranges'} of ${listed}`;
  const shown = `the value shown is the least favourable, at ${place}`;
  if (worst.met === undefined) {
    return `At ${place} it cannot be judged: the method does not hold there, or a value is missing.`;
  }
  if (!stated) {
    return worst.met
      ? `Not asked at the stated values, and met wherever it was asked in ${over}; ${shown}.`
      : `Not asked at the stated values, but within ${over}, and not met there; ${shown}.`;
  }
  if (stated.met === undefined) return `Not met within ${over}; ${shown}.`;
  if (all.every(({ met, margin }) => met === stated.met && margin === stated.margin)) {
    return `It came out the same at every point examined in ${over}.`;
  }
  const atStated = stated.judgement?.value;
  const found = atStated === undefined ? '' : ` (${displaySi(atStated, check.unit).print})`;
  if (worst.met) return `Met at every point examined in ${over}; ${shown}.`;
  if (stated.met) {
    return `Met at the stated values${found}, but not over ${over}; ${shown}.`;
  }
  const some = all.some(({ met }) => met === true);
  return some
    ? `Not met at the stated values${found}, though met in a part of ${over}; ${shown}.`
    : `Met at no point examined in ${over}; ${shown}.`;
}

/** For a single range in which the verdict turned once: up to where, or from where on, it is met. */
function turnOfVerdict(
  calculation: CompiledCalculation,
  axes: readonly Axis[],
  check: CompiledCheck,
  judge: PointJudge,
  { all, examined }: RangeStudy,
): string {
  const [axis, ...more] = axes;
  if (!axis || more.length > 0 || !examined.closer) return '';
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
  const isMetAt = (si: number) => judge.judge(check, new Map([[axis.name, si]])).met === true;
  for (let i = 0; i < (axis.whole ? 0 : 60); i++) {
    const middle = (good + bad) / 2;
    if (isMetAt(middle)) good = middle;
    else bad = middle;
  }
  const print = printTurn(axis, unitOf(calculation, axis.name), good, upTo ? 'down' : 'up', isMetAt);
  return `At the points examined it is met ${upTo ? `up to ${print}` : `from ${print} on`}.`;
}

/** With as many digits as it takes to lie within the range and to be met as it is printed. */
function printTurn(
  { low, high, whole }: Axis,
  unit: Unit,
  si: number,
  direction: 'down' | 'up',
  isMetAt: (si: number) => boolean,
): string {
  if (whole) return displaySi(si, unit, { digits: 1 }).print;
  for (let digits = 3; ; digits++) {
    const displayed = displaySi(si, unit, { digits, direction });
    const read = toSi(displayed.value, unit);
    if (digits >= 12 || (read >= low && read <= high && isMetAt(read))) return displayed.print;
  }
}

function wordExamined(axes: readonly Axis[], { examined }: RangeStudy): string {
  const { corners, along, grid, closer, points } = examined;
  if (points !== undefined) {
    const where = corners === 'all' ? 'the corners of the ranges' : 'two corners of the ranges';
    const places =
      axes.length === 1
        ? 'the ends of the range and points between them'
        : `${where} and points along each of them`;
    return `${points} points, since each is a simulation: ${places}`;
  }
  if (axes.length === 1) {
    const [axis] = axes;
    if (axis?.whole) {
      const every = axis.high - axis.low < along;
      return every
        ? 'every whole number of the range'
        : `${along} whole numbers of the range, both ends among them`;
    }
    return `both ends and ${along - 2} points between them, with a closer look at changes of formula and around the least favourable point`;
  }
  const lines = `${along} points along each range through the stated and through the least favourable values`;
  const all =
    corners === 'all'
      ? `all ${2 ** axes.length} corners of the ranges`
      : `of the ${2 ** axes.length} corners of the ranges only those to which the search led`;
  const inside = grid === undefined ? '' : `, a grid of ${axes.map(() => grid).join(' by ')} points`;
  return `${all}${inside}, ${lines}${closer ? ', and points around the least favourable one' : ''}`;
}
