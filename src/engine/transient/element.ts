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
 * The numbers of the network: first those of the branches, so many in a row for each, then the unknown voltages. Of a branch: its voltage,
 * its whole current, its history (the current beside conductance times voltage), what ideal sources impose, and behind these what its part
 * keeps from step to step. What is read and written of a branch lies in one place of the memory, and in one array.
 */
export type NetworkNumbers = Float64Array;
export const valuesOfBranch = 12;
/** Written by the parts at the end of a step. */
export const atVoltage = 0;
export const atCurrent = 1;
/** Written by the parts at the begin, or with the step before. */
export const atHistory = 2;
/** Written by the solver. */
export const atImposed = 3;
/** The first of the values that are the part's own; zero when it starts. */
export const atState = 4;

/**
 * A piece of an element whose branches belong together: i = conductance v + history, plus the law of a non-linear one.
 * Pieces of one element that do not conduct into each other (the ends of a line) are parts of their own.
 */
export interface Part {
  readonly branches: readonly Branch[];
  /** Symmetric, row by row, in siemens; constant during a run. */
  readonly conductance: readonly number[];
  readonly law?: CurrentLaw;
  /** Whether a current flows beside that of the conductance and the law. */
  readonly hasHistory: boolean;
  /** One and the same for all parts of a kind: gives all of them, in the order in which they are told, their state at time zero. */
  readonly kind: PartKind;
}

export type PartKind = (parts: readonly Part[], place: PartPlace) => RunningParts;

/** What the parts of a kind find when a run begins. */
export interface PartPlace {
  /** Of each branch of the parts three places among the numbers: of its first value, and of the voltages at its ends. */
  readonly places: Int32Array;
  readonly numbers: NetworkNumbers;
  /** Told of each grid step that is going to begin with a discontinuity, by the sample at which it ends. */
  readonly announceBreak: (sample: number) => void;
}

/** Among the places of a branch, behind that of its first value. */
export const placesOfBranch = 3;
export const [atFrom, atTo] = [1, 2] as const;

/**
 * All parts of one kind during a run, with their states side by side in typed arrays. What they do at a step they do in a loop that knows
 * the kind, from branch `first` of their branches to the one before `end`: all of the network's, or those of one block. Kinds are few: of
 * a call whose receiver may be of more than four classes the engine can neither foresee the target nor write the body in place, and that
 * takes longer than most parts do.
 */
export interface RunningParts {
  /** Writes the histories of every step before the network is solved. */
  begin?(step: Step, first: number, end: number): void;
  /** Writes them where the step begins with a discontinuity, if `finish` wrote those of another step before. */
  beginDamped?(first: number, end: number): void;
  finish(step: Step, first: number, end: number): void;
  /** Whether a value that a part imposes, or its slope, jumps within the grid step that ends at `sample`; announced before. */
  breaks?(sample: number, first: number, end: number): boolean;
  /** Of the part whose first branch has that number: joules since time zero; `stored` now. */
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
