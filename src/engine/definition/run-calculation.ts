import type { CompiledCalculation } from './compiled.ts';
import type { Computation } from './computation.ts';
import { drawOrLeaveOut } from './draw-or-leave-out.ts';
import type { EvaluatedCalculation } from './evaluated.ts';
import type { Inputs } from './inputs.ts';
import { type Faults, JudgedRun } from './judged-run.ts';
import { once } from './once.ts';
import { ownText } from './own-text.ts';
import { oneByOne } from './piece-task.ts';
import { resultsOf } from './results-of.ts';
import { showCheck } from './show-check.ts';
import { showGivens } from './show-givens.ts';
import { showStep } from './show-step.ts';
import { viewForFigure } from './view-for-figure.ts';
import type { WorkTools } from './work-step.ts';

/** What came of running one calculation: everything a note prints, or what is wrong with its givens. */
export type RunOutcome =
  | {
      readonly ok: true;
      readonly evaluated: EvaluatedCalculation;
      readonly state: Computation;
    }
  | Faults;

/**
 * Runs one calculation over givens that were read and judged one by one. Pure.
 *
 * @param asked by name, the significant digits that others need who take values over from here
 */
export function runCalculation(
  calculation: CompiledCalculation,
  written: Inputs,
  tools: WorkTools = { spread: oneByOne },
  asked?: ReadonlyMap<string, number>,
): RunOutcome {
  const judged = JudgedRun.of(calculation, written, tools, asked);
  if (!judged.ok) return judged;
  const { run } = judged;
  const { context, state, late } = run;
  const resultOf = resultsOf(context);
  const steps = once(() =>
    calculation.steps.flatMap((step) => showStep(context, step, resultOf(step.name)) ?? []),
  );
  const givens = showGivens(context);
  const checks = run.showChecks((there, judgement, overRange) =>
    showCheck(context, there, judgement, overRange),
  );
  const limiting = run.limiting();
  const drawn = drawOrLeaveOut(calculation, viewForFigure(context, resultOf, checks));
  const cautions = run.cautions(resultOf, drawn.cautions);
  if (late.length > 0) return { ok: false, faults: late };
  return {
    ok: true,
    state,
    evaluated: {
      calculation: calculation.definition.name,
      title: ownText(calculation, 'title', calculation.definition.title),
      purpose: ownText(calculation, 'purpose', calculation.definition.purpose),
      givens,
      // Of most calculations nobody asks for formulas with numbers put in but their page.
      get steps() {
        return steps();
      },
      checks,
      limiting,
      cautions,
      ...(drawn.figure ? { figure: drawn.figure } : {}),
    },
  };
}
