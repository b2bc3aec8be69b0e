import type { CompiledCalculation } from './compiled.ts';
import type { Computation } from './computation.ts';
import type { EvaluatedCaution, EvaluatedLimiting } from './evaluated.ts';
import type { Inputs } from './inputs.ts';
import { type Faults, JudgedRun } from './judged-run.ts';
import { oneByOne } from './piece-task.ts';
import { resultsOf } from './results-of.ts';
import { type ShownVerdict, showVerdict } from './show-check.ts';
import type { WorkTools } from './work-step.ts';

/** What a calculation comes to, without what a page shows of it: no formula, no figure, no remedies. */
export type ShortOutcome =
  | {
      readonly ok: true;
      readonly state: Computation;
      readonly checks: readonly ShownVerdict[];
      readonly limiting: readonly EvaluatedLimiting[];
      readonly cautions: readonly EvaluatedCaution[];
    }
  | Faults;

/** Runs one calculation for its verdicts: those of `runCalculation`, in a small part of its time. Pure. */
export function runInShort(
  calculation: CompiledCalculation,
  written: Inputs,
  tools: WorkTools = { spread: oneByOne },
): ShortOutcome {
  const judged = JudgedRun.of(calculation, written, tools);
  if (!judged.ok) return judged;
  const { run } = judged;
  const checks = run.showChecks((there, judgement, overRange) => showVerdict(there, judgement, overRange));
  const limiting = run.limiting();
  const cautions = run.cautions(resultsOf(run.context));
  if (run.late.length > 0) return { ok: false, faults: run.late };
  return { ok: true, state: run.state, checks, limiting, cautions };
}
