import type { FormulaValue } from '../../formula/formula.ts';
import { displayEntered, displaySi } from '../../quantity/display.ts';
import type { CompiledCalculation, CompiledCheck } from './compiled.ts';
import { compute } from './compute.ts';
import type { Inputs } from './inputs.ts';
import { isMet, judgeCheck } from './judge-check.ts';
import { oneByOne, type Spread } from './piece-task.ts';
import { unitOf } from './show-step.ts';

/** Whether the verdict at the stated values holds over the ranges of the givens, and where not; a sentence for the note. */
export interface RangeJudgement {
  readonly holds: boolean;
  readonly sentence: string;
}

interface Axis {
  readonly name: string;
  readonly meaning: string;
  readonly low: number;
  readonly high: number;
  /** '7 m to 8 m', as entered. */
  readonly print: string;
}

/** Inner points along each range, beside its ends: a verdict may turn twice. */
const INNER_POINTS = 16;

/**
 * Judges a check at every corner of the ranges and along each range by itself with all else nominal.
 * Undefined where no given has a range. More than eight ranges are judged at the ends of each alone.
 */
export function judgeOverRange(
  calculation: CompiledCalculation,
  check: CompiledCheck,
  inputs: Inputs,
  values: ReadonlyMap<string, FormulaValue>,
  spread: Spread = oneByOne,
): RangeJudgement | undefined {
  const axes = rangedGivens(calculation, inputs);
  if (axes.length === 0) return undefined;
  const met = (at: ReadonlyMap<string, number>): boolean | undefined => {
    const state = compute(calculation, new Map([...values, ...at]), spread);
    const judgement = state.faults.length > 0 ? undefined : judgeCheck(calculation, check, state);
    return judgement ? isMet(judgement.verdict) : undefined;
  };
  const nominal = met(new Map());
  if (nominal === undefined) return undefined;
  const points = samplePoints(axes);
  const failing = points.filter((point) => met(point) !== true);
  const over = axes.map((axis) => `${axis.meaning} (${axis.print})`).join(' and ');
  if (failing.length === 0) return { holds: true, sentence: `It is met over the whole range of ${over}.` };
  if (!nominal && failing.length === points.length) {
    return { holds: true, sentence: `It is met nowhere in the range of ${over}.` };
  }
  return { holds: false, sentence: describeFailure(calculation, axes, over, failing, met, nominal) };
}

function rangedGivens(calculation: CompiledCalculation, inputs: Inputs): Axis[] {
  return [...inputs].flatMap(([name, input]) =>
    input.range
      ? [
          {
            name,
            meaning: calculation.givens.get(name)!.definition.meaning,
            low: input.range.low.si,
            high: input.range.high.si,
            print: `${displayEntered(input.range.low).print} to ${displayEntered(input.range.high).print}`,
          },
        ]
      : [],
  );
}

function samplePoints(axes: readonly Axis[]): ReadonlyMap<string, number>[] {
  const points: ReadonlyMap<string, number>[] = [];
  for (const { name, low, high } of axes) {
    for (let i = 0; i <= INNER_POINTS; i++)
      points.push(new Map([[name, low + ((high - low) * i) / INNER_POINTS]]));
  }
  if (axes.length > 1 && axes.length <= 8) {
    for (let corner = 0; corner < 2 ** axes.length; corner++) {
      points.push(new Map(axes.map((axis, i) => [axis.name, (corner >> i) & 1 ? axis.high : axis.low])));
    }
  }
  return points;
}

function describeFailure(
  calculation: CompiledCalculation,
  axes: readonly Axis[],
  over: string,
  failing: readonly ReadonlyMap<string, number>[],
  met: (at: ReadonlyMap<string, number>) => boolean | undefined,
  nominal: boolean,
): string {
  const opening = nominal
    ? `Met at the stated value, but not over the whole range of ${over}`
    : `Not met at the stated value, and not over the whole range of ${over}`;
  const only = axes.length === 1 ? axes[0]! : undefined;
  if (!only) {
    const worst = failing.at(-1)!;
    const values = axes
      .filter(({ name }) => worst.has(name))
      .map(({ name, meaning }) => `${meaning} ${show(calculation, name, worst.get(name)!)}`);
    return `${opening}; it fails, for example, at ${values.join(' and ')}.`;
  }
  const atLow = met(new Map([[only.name, only.low]])) === true;
  const atHigh = met(new Map([[only.name, only.high]])) === true;
  if (atLow === atHigh) {
    return atLow ? `${opening}; it fails between the ends.` : `${opening}; it fails at both ends.`;
  }
  let [good, bad] = atLow ? [only.low, only.high] : [only.high, only.low];
  for (let i = 0; i < 100; i++) {
    const middle = (good + bad) / 2;
    if (met(new Map([[only.name, middle]])) === true) good = middle;
    else bad = middle;
  }
  const turn = displaySi(good, unitOf(calculation, only.name), {
    digits: 3,
    direction: atLow ? 'down' : 'up',
  }).print;
  return `${opening}; it is met ${atLow ? 'up to' : 'from'} ${turn}${atLow ? '' : ' on'}.`;
}

function show(calculation: CompiledCalculation, name: string, si: number): string {
  return displaySi(si, unitOf(calculation, name)).print;
}
