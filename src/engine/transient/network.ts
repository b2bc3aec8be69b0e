import type { SurgeElement } from './element.ts';

/** Elements joined at named nodes; the node called `earth` is remote earth. */
export interface SurgeNetwork {
  readonly elements: readonly SurgeElement[];
}

/** What a run records: the voltage of a node over another (remote earth where absent), or a current. */
export type Observation =
  | { readonly kind: 'voltage'; readonly node: string; readonly reference?: string }
  /** Into the element at its terminal of that number (0: the first), from the network. */
  | { readonly kind: 'current'; readonly element: string; readonly terminal?: number };
