import { withDefaults } from './apply-defaults.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { Computation, ComputeFault } from './computation.ts';
import { compute } from './compute.ts';
import { contextAt } from './context-at.ts';
import { drawOrLeaveOut } from './draw-or-leave-out.ts';
import type { EvaluatedCalculation } from './evaluated.ts';
import { rangeCautions, stateCautions, usualRangeCautions } from './find-cautions.ts';
import { formulaValues, type Inputs } from './inputs.ts';
import { judgeCheck } from './judge-check.ts';
import { judgeOverRange, type RangeJudgement } from './judge-over-range.ts';
import { judgeValidity } from './judge-validity.ts';
import { judgeAlternatives } from './judge-written.ts';
import { ownText } from './own-text.ts';
import { oneByOne } from './piece-task.ts';
import { PointJudge } from './point-judge.ts';
import { judgeRows } from './rows.ts';
import { digitsForChecks, showCheck } from './show-check.ts';
import { showGivens } from './show-givens.ts';
import { showLimiting } from './show-limiting.ts';
import { type ShowContext, showStep } from './show-step.ts';
import { viewForFigure } from './view-for-figure.ts';
import type { WorkTools } from './work-step.ts';

/** What came of running one calculation: everything a note prints, or what is wrong with its givens. */
export type RunOutcome =
  | {
      readonly ok: true;
      readonly evaluated: EvaluatedCalculation;
      readonly state: Computation;
    }
  | { readonly ok: false; readonly faults: readonly ComputeFault[] };

/** Runs one calculation over givens that were read and judged one by one. Pure. */
export function runCalculation(
  calculation: CompiledCalculation,
  written: Inputs,
  tools: WorkTools = { spread: oneByOne },
): RunOutcome {
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
  const context: ShowContext = { calculation, inputs, state, digits: digitsForChecks(judgements) };
  const steps = calculation.steps.flatMap((step) => showStep(context, step) ?? []);
  const overRanges: RangeJudgement[] = [];
  const late: ComputeFault[] = [];
  const checks = calculation.checks.flatMap((check) => {
    const overRange = judgeOverRange(calculation, check, inputs, judge);
    const judgement = overRange?.worst ?? judgements.find((stated) => stated.check === check);
    if (!judgement) return [];
    if (overRange) overRanges.push(overRange);
    const there = overRange ? contextAt(context, judge, overRange.worstPoint) : context;
    const before = there.state.faults.length;
    const shown = showCheck(context, there, judgement, steps, overRange);
    if (overRange) late.push(...there.state.faults.slice(before));
    return [shown];
  });
  const limiting = showLimiting(context, judgements, judge, overRanges);
  const view = viewForFigure(context, steps, checks);
  const drawn = drawOrLeaveOut(calculation, view);
  const cautions = [
    ...usualRangeCautions(context),
    ...validity.cautions,
    ...stateCautions(context, steps),
    ...drawn.cautions,
  ];
  const ranged = rangeCautions(context, judge, overRanges, cautions);
  // A condition of a caution or remedy that could not be decided is a fault like any other.
  late.push(...state.faults, ...ranged.faults);
  if (late.length > 0) return { ok: false, faults: late };
  return {
    ok: true,
    state,
    evaluated: {
      calculation: calculation.definition.name,
      title: ownText(calculation, 'title', calculation.definition.title),
      purpose: ownText(calculation, 'purpose', calculation.definition.purpose),
      givens: showGivens(context),
      steps,
      checks,
      limiting,
      cautions: [...cautions, ...ranged.cautions],
      ...(drawn.figure ? { figure: drawn.figure } : {}),
    },
  };
}
