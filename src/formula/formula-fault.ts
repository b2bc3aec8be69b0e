import type { Code, DataOf } from '../diagnostics/messages.ts';
import type { Span } from '../diagnostics/place.ts';
import { found, type Problem, problem, type Reading } from '../diagnostics/problem.ts';

/**
 * Carries a problem out of a recursion over a formula; it never leaves this folder. No `Error`: that an absent value leaves a
 * condition undecided is the rule rather than the exception, and nobody reads the stack that an error would gather each time.
 */
class FormulaFault {
  readonly problem: Problem;

  constructor(fault: Problem) {
    this.problem = fault;
  }
}

/** Ends the work on a formula with a problem; `attempt` turns it into a reading. */
export function fail<C extends Code>(code: C, data: DataOf<C>, span?: Span): never {
  throw new FormulaFault(problem(code, data, span));
}

/** Ends the work on a formula with a problem found elsewhere, marked on a stretch of this text. */
export function failWith(fault: Problem, span: Span): never {
  throw new FormulaFault({ ...fault, span });
}

/** Runs a recursion over a formula and hands back its value or the problem that ended it. */
export function attempt<T>(work: () => T): Reading<T> {
  try {
    return found(work());
  } catch (error) {
    if (error instanceof FormulaFault) return { ok: false, problem: error.problem };
    throw error;
  }
}
