import type { SolverProblem } from './solver-problem.ts';

/** A result, or everything that stood in its way. */
export type Outcome<Result> =
  | { readonly ok: true; readonly result: Result }
  | { readonly ok: false; readonly problems: readonly SolverProblem[] };

export function failed(...problems: readonly SolverProblem[]): {
  readonly ok: false;
  problems: readonly SolverProblem[];
} {
  return { ok: false, problems };
}
