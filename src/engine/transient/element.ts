import type { Waveform } from '../physics/waveform.ts';

/** The reference node of every network: remote earth. */
export const earthNode = 'earth';

/** A branch between two nodes; its current counts from the first to the second. */
export type Branch = readonly [from: string, to: string];

/** A value that an element cannot be computed with. */
export interface ValueFault {
  readonly quantity: string;
  readonly value: number;
  readonly requirement:
    | 'positive'
    | 'not negative'
    | 'finite'
    | 'at most 1'
    | 'rising'
    | 'two points'
    | 'definite';
}

/**
 * What an element tells about itself. It knows nothing of the network around it and nothing of the method by
 * which that is solved; the solver in turn knows no element but through this face.
 */
export interface SurgeElement {
  readonly name: string;
  /** The trade's word for the element, for messages. */
  readonly kind: string;
  /** The terminals, in the order in which currents into them are asked for. */
  readonly nodes: readonly string[];
  /** Nodes inside the element, which no other element reaches. */
  readonly innerNodes: readonly string[];
  readonly faults: readonly ValueFault[];
  /** Where current can pass, for telling floating parts. Empty for sources. */
  readonly paths: readonly Branch[];
  /** An end to which nothing else is connected makes sense: an open line. */
  readonly mayEndOpen: boolean;
  /** Travel time in seconds, of a line. */
  readonly delay?: number;
  /** The shortest time in seconds in which the element changes by itself: the front of a source. */
  readonly shortestTime?: number;
  /** An ideal voltage source: the voltage of the first terminal over the second. */
  readonly imposedVoltage?: Waveform;
  /** Highest current in amperes for which the element's characteristic is known. */
  readonly highestCurrent?: number;
  /** A fresh state at time zero, for steps of `step` seconds. */
  start(step: number): readonly Part[];
}

/**
 * One step of one block of the network, from `begin` to `end` seconds.
 *
 * An integral over the step counts `beginWeight` times its value at the begin and `endWeight` times the one at the
 * end: the trapezoidal rule, or after a discontinuity two half steps of the backward Euler rule. `endWeight` is half a
 * grid step in both, so that a companion conductance never changes.
 */
export interface Step {
  readonly end: number;
  readonly beginWeight: number;
  readonly endWeight: number;
  /** Grid number of the sample at which the present grid step ends, and how much of that step is done at `end`. */
  readonly sample: number;
  readonly share: number;
  /** Whether the grid step begins with a discontinuity. */
  readonly damped: boolean;
}

/** The values of the network's branches; a part has its own from index `at` on. */
export interface BranchValues {
  /** Written by the solver. */
  readonly voltage: Float64Array;
  /** Written by the part at the end of a step: the whole current. */
  readonly current: Float64Array;
  /** Written by the part at the begin: the current beside conductance times voltage. */
  readonly history: Float64Array;
}

/**
 * A piece of an element whose branches belong together: i = conductance v + history, plus the law of a non-linear one.
 * Pieces of one element that do not conduct into each other (the ends of a line) are parts of their own.
 */
export interface Part {
  readonly branches: readonly Branch[];
  /** Symmetric, row by row, in siemens; constant during a run. */
  readonly conductance: readonly number[];
  readonly law?: CurrentLaw;
  /** What it puts into `history` before the network is solved; a part without it has no history. */
  begin?(step: Step, branches: BranchValues, at: number): void;
  finish(step: Step, branches: BranchValues, at: number): void;
  /** Whether the value that the part imposes, or its slope, jumps within the grid step that ends at `sample`. */
  breaks?(sample: number): boolean;
  /** Joules since time zero; `stored` now. */
  energy(): PartEnergy;
  /** One and the same for all parts of a kind. */
  readonly loops: PartLoops;
}

/**
 * What parts of one kind do at a step, all of that kind one after the other: the same as each by itself, but in loops that know the kind. Of a
 * call whose receiver may be of any kind the engine can neither foresee the target nor write the body in place, and that takes
 * longer than most parts do.
 */
export interface PartLoops {
  begin?(parts: readonly Part[], at: Int32Array, step: Step, branches: BranchValues): void;
  finish(parts: readonly Part[], at: Int32Array, step: Step, branches: BranchValues): void;
  breaks?(parts: readonly Part[], sample: number): boolean;
}

export interface PartEnergy {
  readonly supplied: number;
  readonly dissipated: number;
  readonly stored: number;
}

/** A current that depends on the voltage of its one branch alone and rises with it. */
export interface CurrentLaw {
  /** Amperes, of the last voltage evaluated. */
  current: number;
  /** Siemens, of the last voltage evaluated. */
  slope: number;
  /** A voltage of the order in which the law bends, in volts: the measure of an error. */
  readonly referenceVoltage: number;
  evaluate(voltage: number): void;
}

/** Faults of the values that have to be positive and finite. */
export function faultsOfPositive(values: Readonly<Record<string, number>>): ValueFault[] {
  return Object.entries(values)
    .filter(([, value]) => !(value > 0 && Number.isFinite(value)))
    .map(([quantity, value]) => ({ quantity, value, requirement: value > 0 ? 'finite' : 'positive' }));
}

/** Faults of the values that only have to be finite. */
export function faultsOfFinite(values: Readonly<Record<string, number>>): ValueFault[] {
  return Object.entries(values)
    .filter(([, value]) => !Number.isFinite(value))
    .map(([quantity, value]) => ({ quantity, value, requirement: 'finite' }));
}
