import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import type { FormulaValue } from '../../formula/formula.ts';
import type { CompiledCalculation, CompiledCheck } from './compiled.ts';
import { type Computation, compute } from './compute.ts';
import { type Judgement, judgeCheck } from './judge-check.ts';
import type { Spread } from './piece-task.ts';
import { pointsOver } from './rows.ts';

/** Values in SI that stand in place of those stated: name -> value. */
export type Point = ReadonlyMap<string, number>;

/** What a check comes to at a point; `judgement` is undefined where the method does not reach or the check does not apply. */
export interface PointJudgement {
  readonly point: Point;
  readonly judgement: Judgement | undefined;
  /** Undefined where it cannot be judged there. */
  readonly met: boolean | undefined;
  /** Least where it is not met by most; of what cannot be judged the least of all. */
  readonly margin: number;
}

/** Judges the checks of one calculation at other values of its givens; each point is computed once. */
export class PointJudge {
  readonly #calculation: CompiledCalculation;
  readonly #values: ReadonlyMap<string, FormulaValue>;
  readonly #spread: Spread;
  readonly #computed = new Map<string, Computation>();

  /** `stated`: what was computed of these values already. */
  constructor(
    calculation: CompiledCalculation,
    values: ReadonlyMap<string, FormulaValue>,
    spread: Spread,
    stated?: Computation,
  ) {
    this.#calculation = calculation;
    this.#values = values;
    this.#spread = spread;
    if (stated) this.#computed.set('', stated);
  }

  compute(point: Point): Computation {
    // What stands at its stated value need not be named: the stated point is computed already.
    const key = [...point]
      .filter(([name, si]) => this.#values.get(name) !== si)
      .map(([name, si]) => `${name}=${si}`)
      .sort()
      .join(' ');
    const known = this.#computed.get(key);
    if (known) return known;
    const state = compute(this.#calculation, new Map([...this.#values, ...point]), this.#spread);
    this.#computed.set(key, state);
    return state;
  }

  judge(check: CompiledCheck, point: Point): PointJudgement {
    const state = this.compute(point);
    const judgement = this.isUsable(state) ? judgeCheck(this.#calculation, check, state) : undefined;
    const usable = judgement && state.faults.length === 0 ? judgement : undefined;
    return {
      point,
      judgement: usable,
      met: usable?.met,
      margin: usable && usable.met !== undefined ? usable.margin : Number.NEGATIVE_INFINITY,
    };
  }

  /** Whether a check is asked at all at a point. */
  applies({ when }: CompiledCheck, point: Point): boolean {
    if (!when) return true;
    const reading = evaluateCondition(when, this.compute(point).values);
    return !reading.ok || reading.value;
  }

  /** Whether everything could be computed, within the limits whose breach is an error. */
  isUsable(state: Computation): boolean {
    return state.faults.length === 0 && this.brokenLimit(state) === undefined;
  }

  /** The name of a limit of validity whose breach is an error and that is broken, or cannot be decided. */
  brokenLimit(state: Computation): string | undefined {
    return this.#calculation.validity.find(({ otherwise, condition, over }) => {
      if (otherwise !== 'error') return false;
      return pointsOver(this.#calculation, over, state.values).some((rows) => {
        const reading = evaluateCondition(condition, state.values, { rows });
        return reading.ok ? !reading.value : reading.problem.code !== 'absent-value';
      });
    })?.id;
  }

  /** What was chosen and what was left out at a point: where it changes, another formula applies. */
  branches(point: Point): string {
    const { values, words, variants } = this.compute(point);
    const chosen = this.#calculation.steps.map(({ name, work }) => {
      if (words.has(name)) return words.get(name);
      if (!values.has(name)) return '-';
      const variant = variants.get(name);
      return variant && work.kind === 'formula' ? work.variants.indexOf(variant) : '+';
    });
    return chosen.join('|');
  }
}
