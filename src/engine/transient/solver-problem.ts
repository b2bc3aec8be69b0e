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
  /** So many instants of so many observed values would have to be kept. */
  | {
      readonly code: 'too-many-values';
      readonly steps: number;
      readonly observed: number;
      readonly limit: number;
      readonly step: number;
    }
  /** A wave needs so many steps along the line; of all lines together more would have to be kept than may be. */
  | {
      readonly code: 'line-too-long';
      readonly element: string;
      readonly delay: number;
      readonly step: number;
      readonly steps: number;
      readonly limit: number;
    }
  /** So many steps of so many elements would take too long. */
  | {
      readonly code: 'too-much-work';
      readonly steps: number;
      readonly elements: number;
      readonly limit: number;
      readonly step: number;
    }
  /** The smaller of two conductances is lost in rounding beside the larger. */
  | { readonly code: 'values-too-far-apart'; readonly elements: readonly [string, string] }
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
