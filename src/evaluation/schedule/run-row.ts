import type { CompiledCalculation } from '../../engine/definition/compiled.ts';
import type { Computation } from '../../engine/definition/computation.ts';
import { findUnused } from '../../engine/definition/find-unused.ts';
import type { GivenInput } from '../../engine/definition/inputs.ts';
import { ownWords } from '../../engine/definition/own-text.ts';
import { isNumbers } from '../../engine/definition/rows.ts';
import { runInShort } from '../../engine/definition/run-in-short.ts';
import type { EvaluationTools } from '../evaluate-block.ts';
import type { KnownCalculation } from '../known-calculation.ts';
import type { RowResult, ScheduleRow } from './evaluated-schedule.ts';

/** What a row comes to, whatever its name and wherever it stands. */
export type RowRun =
  | (Pick<ScheduleRow, 'results' | 'checks' | 'limiting' | 'cautions'> & {
      readonly ok: true;
      /** What was chosen on the way: rows of the same branches are judged by the same formulas. */
      readonly branches: string;
    })
  | { readonly ok: false };

type Inputs = ReadonlyMap<string, GivenInput>;

/**
 * Runs the calculation of a row: once for each set of values.
 *
 * @param content all that the inputs rest on, as one text
 * @param filled the givens that the register fills: of those that the row does not use nobody speaks
 */
export function runRow(
  { memory, spread }: EvaluationTools,
  { compiled, key }: KnownCalculation,
  content: string,
  inputs: Inputs,
  filled: readonly string[],
): RowRun {
  return memory.recall('row', `${key}\n${content}`, (): RowRun => {
    const outcome = runInShort(compiled, inputs, { spread, memory });
    if (!outcome.ok) return { ok: false };
    const { state, checks, limiting, cautions } = outcome;
    const idle = filled.length > 0 ? findUnused(compiled, inputs, state) : [];
    const unasked = new Set(
      filled.filter((name) => idle.includes(name)).map((name) => `usual-range-${name}`),
    );
    return {
      ok: true,
      results: resultsOf(compiled, state),
      checks,
      limiting,
      cautions: unasked.size > 0 ? cautions.filter(({ id }) => !unasked.has(id)) : cautions,
      branches: branchesOf(compiled, state),
    };
  });
}

function resultsOf(
  calculation: CompiledCalculation,
  { values, words }: Computation,
): Record<string, RowResult> {
  const results: Record<string, RowResult> = {};
  for (const { name, unit } of calculation.steps) {
    const said = words.get(name);
    const value = values.get(name);
    if (said !== undefined) results[name] = { type: 'words', words: ownWords(calculation, said) };
    else if (typeof value === 'number') results[name] = { type: 'number', si: value, unit };
    else if (typeof value === 'string') results[name] = { type: 'choice', choice: value };
    else if (value !== undefined && value.length > 0 && isNumbers(value)) {
      results[name] = { type: 'list', si: value, unit };
    }
  }
  return results;
}

function branchesOf({ steps }: CompiledCalculation, { values, words, variants }: Computation): string {
  return steps
    .map(({ name, work }) => {
      if (words.has(name)) return 'w';
      if (!values.has(name)) return '-';
      const variant = variants.get(name);
      return variant && work.kind === 'formula' ? work.variants.indexOf(variant) : '+';
    })
    .join('');
}
