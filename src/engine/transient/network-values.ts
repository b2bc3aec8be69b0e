import { type BranchValues, valuesOfBranch } from './element.ts';

/**
 * The numbers of a run, side by side for the whole network: those of a block follow each other, and so do the blocks,
 * so that a step walks through the memory once.
 */
export interface NetworkValues {
  readonly branches: BranchValues;
  /** Voltages of the roots, and one zero more that stands for every known node. */
  readonly unknowns: Float64Array;
  /** Index of that zero. */
  readonly known: number;
  /** Of each branch: the two unknowns at its ends. */
  readonly ends: Int32Array;
}

export function networkValues(branches: number, unknowns: number): NetworkValues {
  return {
    branches: new Float64Array(valuesOfBranch * branches),
    unknowns: new Float64Array(unknowns + 1),
    known: unknowns,
    ends: new Int32Array(2 * branches),
  };
}
