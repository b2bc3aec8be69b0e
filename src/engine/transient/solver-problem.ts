import type { ValueFault } from './element.ts';

/** What is wrong with a network or a run of it, as data: times in seconds, the rest in SI units. */
export type SolverProblem =
  | { readonly code: 'empty-network' }
  | { readonly code: 'duplicate-name'; readonly element: string }
  | ({ readonly code: 'invalid-value'; readonly element: string } & ValueFault)
  /** Both ends of a branch lie on one node. */
  | { readonly code: 'short-circuited'; readonly element: string; readonly node: string }
  /** Only one terminal reaches the node, so that no current can flow. */
  | { readonly code: 'dangling-node'; readonly element: string; readonly node: string }
  /** No path of current leads from these nodes to earth. */
  | {
      readonly code: 'floating-part';
      readonly nodes: readonly string[];
      readonly elements: readonly string[];
    }
  | { readonly code: 'voltage-source-loop'; readonly elements: readonly string[] }
  | { readonly code: 'unknown-node'; readonly node: string; readonly known: readonly string[] }
  | { readonly code: 'unknown-element'; readonly element: string; readonly known: readonly string[] }
  | { readonly code: 'unknown-terminal'; readonly element: string; readonly terminal: number }
  | { readonly code: 'invalid-duration'; readonly duration: number; readonly step: number }
  | {
      readonly code: 'step-longer-than-delay';
      readonly element: string;
      readonly delay: number;
      readonly step: number;
    }
  | { readonly code: 'too-many-steps'; readonly steps: number; readonly limit: number; readonly step: number }
  | NotConverged
  | {
      readonly code: 'energy-imbalance';
      readonly supplied: number;
      readonly accounted: number;
      readonly relative: number;
      readonly limit: number;
      readonly step: number;
    }
  | {
      readonly code: 'step-not-settled';
      readonly step: number;
      readonly halvings: number;
      readonly change: number;
      readonly tolerance: number;
    };

/** Newton's iteration on the non-linear elements found no solution. */
export interface NotConverged {
  readonly code: 'not-converged';
  readonly element: string;
  readonly time: number;
  readonly voltage: number;
  readonly current: number;
  /** By how much the network's voltage and the element's differ, volts. */
  readonly residual: number;
  readonly iterations: number;
}
