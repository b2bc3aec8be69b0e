import type { Datum } from '../../words/sentence.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { Computation } from './computation.ts';
import type { EvaluatedCaution, EvaluatedLimiting } from './evaluated.ts';
import type { Inputs } from './inputs.ts';
import { type Faults, JudgedRun } from './judged-run.ts';
import { oneByOne } from './piece-task.ts';
import { resultsOf } from './results-of.ts';
import { type ShownVerdict, showVerdict } from './show-check.ts';
import type { ResultValue } from './value.ts';
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

/**
 * Runs one calculation for its verdicts: those of `runCalculation`, in a small part of its time. What comes out holds nothing of the run, for there
 * may be very many: so its numbers are displayed at once. Pure.
 */
export function runInShort(
  calculation: CompiledCalculation,
  written: Inputs,
  tools: WorkTools = { spread: oneByOne },
): ShortOutcome {
  const judged = JudgedRun.of(calculation, written, tools);
  if (!judged.ok) return judged;
  const { run } = judged;
  const checks = run.showChecks((...judged) => settleVerdict(showVerdict(...judged)));
  const limiting = run.limiting();
  const cautions = run.cautions(resultsOf(run.context));
  if (run.late.length > 0) return { ok: false, faults: run.late };
  for (const { text } of cautions) settleText(text);
  return { ok: true, state: run.state, checks, limiting, cautions };
}

function settleVerdict(verdict: ShownVerdict): ShownVerdict {
  const { value, limit } = verdict;
  return { ...verdict, value: settleSide(value), limit: settleSide(limit) };
}

function settleSide(side: ResultValue | undefined): ResultValue | undefined {
  if (side?.type !== 'number') return side;
  const { type, si, unit, displayed } = side;
  return { type, si, unit, displayed };
}

/** Displays the numbers of a text, which then lets go of the run that it comes from. */
function settleText(text: Datum): void {
  if (typeof text !== 'object') return;
  if (isList(text)) for (const one of text) settleText(one);
  else if ('data' in text) for (const one of Object.values(text.data)) settleText(one);
  else if ('displayed' in text) void text.displayed;
}

function isList(datum: Datum): datum is readonly Datum[] {
  return Array.isArray(datum);
}
