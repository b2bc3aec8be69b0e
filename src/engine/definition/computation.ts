import type { Problem } from '../../diagnostics/problem.ts';
import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import type { Formula, FormulaValue, RowPoint } from '../../formula/formula.ts';
import type { CompiledVariant } from './compiled.ts';
import type { SolutionOutcome } from './definition.ts';

/** The numbers of one evaluation: every given and step by name, in SI; words where a step has no number. */
export interface Computation {
  /** What was given, before any step. */
  readonly givens: ReadonlyMap<string, FormulaValue>;
  readonly values: Map<string, FormulaValue>;
  readonly words: Map<string, string>;
  /** The variant that each formula step used. */
  readonly variants: Map<string, CompiledVariant>;
  /** What each solution that was needed came to. */
  readonly solutions: Map<string, SolutionOutcome>;
  readonly faults: ComputeFault[];
}

/** A fault with the given that it concerns, where it concerns one, or the step in which it arose. */
export interface ComputeFault {
  readonly given?: string;
  /** Of a list or table given: the item or row, from zero, and the column. */
  readonly item?: number;
  readonly column?: string;
  readonly step?: string;
  readonly problem: Problem;
}

/** A condition that cannot be decided because something is absent does not hold. */
export function decide(condition: Formula, state: Computation, step: string, rows?: RowPoint): boolean {
  const reading = evaluateCondition(condition, state.values, { rows });
  if (reading.ok) return reading.value;
  if (reading.problem.code !== 'absent-value') state.faults.push({ step, problem: reading.problem });
  return false;
}
