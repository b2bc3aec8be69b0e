import type { Branch } from './element.ts';
import type { NodePotential } from './node-potentials.ts';
import { type SymmetricEntry, SymmetricFactor } from './symmetric-factor.ts';

/** A conductance by which the voltage of one branch drives current in another (or the same), in siemens. */
export interface Coupling {
  readonly row: number;
  readonly column: number;
  readonly conductance: number;
}

/** The branches of a block between its unknown voltages, and the factored matrix of their conductances. */
export class BlockMatrix {
  /** Number of unknowns; this index stands for every node whose voltage is known. */
  readonly size: number;
  readonly from: Int32Array;
  readonly to: Int32Array;
  private readonly roots: ReadonlyMap<string, number>;
  private readonly factor: SymmetricFactor;

  constructor(
    branches: readonly Branch[],
    couplings: readonly Coupling[],
    potentials: ReadonlyMap<string, NodePotential>,
    knownRoot: string,
  ) {
    const roots = new Set(branches.flat().map((node) => potentials.get(node)!.root));
    roots.delete(knownRoot);
    this.roots = new Map([...roots].map((root, index) => [root, index]));
    this.size = roots.size;
    const indexOf = (node: string): number => this.roots.get(potentials.get(node)!.root) ?? roots.size;
    this.from = Int32Array.from(branches, ([from]) => indexOf(from));
    this.to = Int32Array.from(branches, ([, to]) => indexOf(to));
    this.factor = new SymmetricFactor(this.size, this.entries(couplings));
  }

  /** Index of a root among the unknowns, or undefined where the block does not hold it. */
  indexOfRoot(root: string): number | undefined {
    return this.roots.get(root);
  }

  /** Puts a current that the branch draws into a right side. */
  draw(rightSide: Float64Array, branch: number, current: number): void {
    rightSide[this.from[branch]!]! -= current;
    rightSide[this.to[branch]!]! += current;
  }

  /** Replaces a right side (one longer than the unknowns) by the voltages. */
  solve(rightSide: Float64Array): void {
    rightSide[this.size] = 0;
    this.factor.solve(rightSide);
  }

  /** By how much the voltages fall for each ampere that the branch draws. */
  responseTo(branch: number): Float64Array {
    const response = new Float64Array(this.size + 1);
    this.draw(response, branch, -1);
    this.solve(response);
    return response;
  }

  /** Voltage of a branch without the imposed part. */
  voltageOf(voltages: Float64Array, branch: number): number {
    return voltages[this.from[branch]!]! - voltages[this.to[branch]!]!;
  }

  private entries(couplings: readonly Coupling[]): SymmetricEntry[] {
    const { from, to, size } = this;
    return couplings.flatMap(({ row, column, conductance }) => {
      const corners: SymmetricEntry[] = [
        [from[row]!, from[column]!, conductance],
        [from[row]!, to[column]!, -conductance],
        [to[row]!, from[column]!, -conductance],
        [to[row]!, to[column]!, conductance],
      ];
      // Every coupling is listed in both directions, and an entry stands for itself and its mirror image.
      return corners.filter(([one, other]) => one !== size && other !== size && one <= other);
    });
  }
}
