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

/**
 * The values of the network's branches, four in a row for each: voltage, whole current, history (the current beside conductance times
 * voltage) and what ideal sources impose. What a part reads and writes of a branch lies in one place of the memory.
 */
export type BranchValues = Float64Array;
export const valuesOfBranch = 4;
/** Written by the solver. */
export const atVoltage = 0;
/** Written by the parts at the end of a step. */
export const atCurrent = 1;
/** Written by the parts at the begin. */
export const atHistory = 2;
/** Written and read by the solver alone. */
export const atImposed = 3;

/**
 * A piece of an element whose branches belong together: i = conductance v + history, plus the law of a non-linear one.
 * Pieces of one element that do not conduct into each other (the ends of a line) are parts of their own.
 */
export interface Part {
  readonly branches: readonly Branch[];
  /** Symmetric, row by row, in siemens; constant during a run. */
  readonly conductance: readonly number[];
  readonly law?: CurrentLaw;
  /** One and the same for all parts of a kind: gives all of them, in the order in which they are told, their state at time zero. */
  readonly kind: PartKind;
}

export type PartKind = (parts: readonly Part[], place: PartPlace) => RunningParts;

/** What the parts of a kind find when a run begins. */
export interface PartPlace {
  /** Of each part the first value of its first branch. */
  readonly at: Int32Array;
  readonly branches: BranchValues;
  /** Told of each grid step that is going to begin with a discontinuity, by the sample at which it ends. */
  readonly announceBreak: (sample: number) => void;
}

/**
 * All parts of one kind during a run, with their states side by side in typed arrays. What they do at a step they do in a loop that knows
 * the kind, from part `first` to the one before `end`: all of the network's, or those of one block. Of a call whose receiver may be of any
 * kind the engine can neither foresee the target nor write the body in place, and that takes longer than most parts do.
 */
export interface RunningParts {
  /** Writes the histories before the network is solved; parts without it have none. */
  begin?(step: Step, first: number, end: number): void;
  finish(step: Step, first: number, end: number): void;
  /** Whether a value that a part imposes, or its slope, jumps within the grid step that ends at `sample`; announced before. */
  breaks?(sample: number, first: number, end: number): boolean;
  /** Joules since time zero; `stored` now. */
  energyOf(index: number): PartEnergy;
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
