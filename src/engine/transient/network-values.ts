import { type NetworkNumbers, valuesOfBranch } from './element.ts';

/**
 * The numbers of a run, side by side for the whole network: those of a block follow each other, and so do the blocks,
 * so that a step walks through the memory once.
 */
export interface NetworkValues {
  /** Behind the unknown voltages of the roots stands one zero more, for every known node. */
  readonly numbers: NetworkNumbers;
  /** Where the unknowns begin among them. */
  readonly firstUnknown: number;
  /** Place of that zero. */
  readonly known: number;
  /** Behind that: where the voltages of the ideal sources begin. */
  readonly firstDrive: number;
  /** Of each branch: the places of the voltages at its ends. */
  readonly ends: Int32Array;
}

export function networkValues(branches: number, unknowns: number, drives: number): NetworkValues {
  const firstUnknown = valuesOfBranch * branches;
  const known = firstUnknown + unknowns;
  const firstDrive = known + 1;
  const numbers = new Float64Array(firstDrive + drives);
  return { numbers, firstUnknown, known, firstDrive, ends: new Int32Array(2 * branches) };
}
