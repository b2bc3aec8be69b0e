import { withDefaults } from './apply-defaults.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { Computation, ComputeFault } from './computation.ts';
import { compute } from './compute.ts';
import { contextAt } from './context-at.ts';
import type { EvaluatedCaution, EvaluatedLimiting } from './evaluated.ts';
import { rangeCautions, stateCautions, usualRangeCautions } from './find-cautions.ts';
import { findDigits } from './find-digits.ts';
import { findPowers } from './find-powers.ts';
import { formulaValues, type Inputs } from './inputs.ts';
import { type Judgement, judgeCheck } from './judge-check.ts';
import { judgeOverRange, type RangeJudgement } from './judge-over-range.ts';
import { judgeValidity } from './judge-validity.ts';
import { judgeAlternatives } from './judge-written.ts';
import { once } from './once.ts';
import { PointJudge } from './point-judge.ts';
import { judgeRows } from './rows.ts';
import { showLimiting } from './show-limiting.ts';
import type { ShowContext } from './show-step.ts';
import type { ResultOf } from './shown-text.ts';
import type { WorkTools } from './work-step.ts';

export type Faults = { readonly ok: false; readonly faults: readonly ComputeFault[] };

/**
 * A calculation that was computed and judged, of which nothing is shown yet: what is shown of it at length (`runCalculation`) and in
 * short (`runInShort`) rests on it alike.
 */
export class JudgedRun {
  readonly context: ShowContext;
  readonly judgements: readonly Judgement[];
  readonly judge: PointJudge;
  /** What is found to be at fault while it is shown: a condition that could not be decided. */
  readonly late: ComputeFault[] = [];
  readonly #validity: readonly EvaluatedCaution[];
  readonly #overRanges: RangeJudgement[] = [];

  private constructor(
    context: ShowContext,
    judgements: readonly Judgement[],
    judge: PointJudge,
    validity: readonly EvaluatedCaution[],
  ) {
    this.context = context;
    this.judgements = judgements;
    this.judge = judge;
    this.#validity = validity;
  }

  static of(
    calculation: CompiledCalculation,
    written: Inputs,
    tools: WorkTools,
    asked?: ReadonlyMap<string, number>,
  ): { readonly ok: true; readonly run: JudgedRun } | Faults {
    const writtenFaults = [...judgeAlternatives(calculation, written), ...judgeRows(calculation, written)];
    if (writtenFaults.length > 0) return { ok: false, faults: writtenFaults };
    const inputs = withDefaults(calculation, written);
    const values = formulaValues(calculation, inputs);
    const state = compute(calculation, values, tools);
    const judgements = calculation.checks.flatMap((check) => judgeCheck(calculation, check, state) ?? []);
    const validity = judgeValidity(calculation, state);
    const faults = [...state.faults, ...validity.faults];
    if (faults.length > 0) return { ok: false, faults };
    const judge = new PointJudge(calculation, values, tools.spread, state);
    const powers = once(() => findPowers(calculation, state, judgements));
    const shown = {
      calculation,
      inputs,
      state,
      get powers() {
        return powers();
      },
    };
    const digits = once(() => findDigits(shown, judgements, asked));
    const context: ShowContext = {
      calculation,
      inputs,
      state,
      get powers() {
        return powers();
      },
      get digits() {
        return digits();
      },
    };
    return { ok: true, run: new JudgedRun(context, judgements, judge, validity.cautions) };
  }

  get state(): Computation {
    return this.context.state;
  }

  /** Each check that applies, over the ranges of the givens where there are any, shown by `show`. */
  showChecks<T>(
    show: (there: ShowContext, judgement: Judgement, overRange: RangeJudgement | undefined) => T,
  ): T[] {
    const { calculation, inputs } = this.context;
    return calculation.checks.flatMap((check) => {
      const overRange = judgeOverRange(calculation, check, inputs, this.judge);
      const judgement = overRange?.worst ?? this.judgements.find((stated) => stated.check === check);
      if (!judgement) return [];
      if (overRange) this.#overRanges.push(overRange);
      const there = overRange ? contextAt(this.context, this.judge, overRange.worstPoint) : this.context;
      const before = there.state.faults.length;
      const shown = show(there, judgement, overRange);
      if (overRange) this.late.push(...there.state.faults.slice(before));
      return [shown];
    });
  }

  /** After the checks. */
  limiting(): EvaluatedLimiting[] {
    return showLimiting(this.context, this.judgements, this.judge, this.#overRanges);
  }

  /** After the checks; `more` are those of what else is shown. */
  cautions(resultOf: ResultOf, more: readonly EvaluatedCaution[] = []): EvaluatedCaution[] {
    const cautions = [
      ...usualRangeCautions(this.context),
      ...this.#validity,
      ...stateCautions(this.context, resultOf),
      ...more,
    ];
    const ranged = rangeCautions(this.context, this.judge, this.#overRanges, cautions);
    // A condition of a caution or remedy that could not be decided is a fault like any other.
    this.late.push(...this.state.faults, ...ranged.faults);
    return [...cautions, ...ranged.cautions];
  }
}
