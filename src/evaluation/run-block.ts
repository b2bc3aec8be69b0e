import type { ComputeFault } from '../engine/definition/computation.ts';
import type { EvaluatedCalculation } from '../engine/definition/evaluated.ts';
import { findUnused } from '../engine/definition/find-unused.ts';
import type { Inputs } from '../engine/definition/inputs.ts';
import type { Spread } from '../engine/definition/piece-task.ts';
import { runCalculation } from '../engine/definition/run-calculation.ts';
import type { FormulaValues } from '../formula/formula.ts';
import { contentKey } from '../memory/content-key.ts';
import type { Memory } from '../memory/memory.ts';
import type { VoltageKind } from '../quantity/voltage-kind.ts';
import { kindsOfResults } from './kinds/kinds-of-results.ts';
import type { KnownCalculation } from './known-calculation.ts';

/** What came of a calculation over its inputs, as far as it depends on nothing else. */
export type BlockRun =
  | {
      readonly ok: true;
      readonly evaluated: EvaluatedCalculation;
      readonly values: FormulaValues;
      /** Givens that had no part in it. */
      readonly unused: readonly string[];
      /** What is stated in the block and declared by its calculation tells this of the kinds of its values. */
      readonly kinds: ReadonlyMap<string, VoltageKind>;
    }
  | { readonly ok: false; readonly faults: readonly ComputeFault[] };

/**
 * Runs a calculation, once for each set of inputs: two blocks with the same, in whatever notes, are one computation.
 *
 * @param asked the digits that others need who take values over from the block
 */
export function runBlock(
  memory: Memory,
  { compiled, key }: KnownCalculation,
  inputs: Inputs,
  spread: Spread,
  asked?: ReadonlyMap<string, number>,
): BlockRun {
  const finer = asked && asked.size > 0 ? `\n${contentKey(asked)}` : '';
  return memory.recall('run', `${key}\n${contentKey(inputs)}${finer}`, (): BlockRun => {
    const outcome = runCalculation(compiled, inputs, { spread, memory }, asked);
    if (!outcome.ok) return outcome;
    const { evaluated, state } = outcome;
    return {
      ok: true,
      evaluated,
      values: state.values,
      unused: findUnused(compiled, inputs, state),
      kinds: kindsOfResults(compiled, inputs, state.values),
    };
  });
}
