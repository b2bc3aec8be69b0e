import type { BranchValues } from './element.ts';

/**
 * The numbers of a run, side by side for the whole network: those of a block follow each other, and so do the blocks,
 * so that a step walks through the memory once.
 */
export interface NetworkValues extends BranchValues {
  /** What ideal sources add to the voltage of a branch. */
  readonly imposed: Float64Array;
  /** Voltages of the roots, and one zero more that stands for every known node. */
  readonly unknowns: Float64Array;
  /** Index of that zero. */
  readonly known: number;
  /** Of each branch: the unknowns at its ends. */
  readonly from: Int32Array;
  readonly to: Int32Array;
}

export function networkValues(branches: number, unknowns: number): NetworkValues {
  const zeros = (): Float64Array => new Float64Array(branches);
  return {
    voltage: zeros(),
    current: zeros(),
    history: zeros(),
    imposed: zeros(),
    unknowns: new Float64Array(unknowns + 1),
    known: unknowns,
    from: new Int32Array(branches),
    to: new Int32Array(branches),
  };
}
