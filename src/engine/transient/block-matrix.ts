import { type Branch, earthNode } from './element.ts';
import type { NetworkValues } from './network-values.ts';
import type { NodePotential } from './node-potentials.ts';
import { type SymmetricEntry, SymmetricFactor } from './symmetric-factor.ts';

/** A conductance by which the voltage of one branch drives current in another (or the same), in siemens; branches of the network. */
export interface Coupling {
  readonly row: number;
  readonly column: number;
  readonly conductance: number;
}

/** The first branch of a block among those of the network, and the place of its first unknown among the numbers. */
export interface BlockPlace {
  readonly firstBranch: number;
  readonly firstUnknown: number;
}

/** The branches of a block between its unknown voltages, and the factored matrix of their conductances. */
export class BlockMatrix {
  /** Number of unknowns. */
  readonly size: number;
  readonly firstUnknown: number;
  readonly factor: SymmetricFactor;
  private readonly values: NetworkValues;
  private readonly roots: ReadonlyMap<string, number>;

  constructor(
    branches: readonly Branch[],
    couplings: readonly Coupling[],
    potentials: ReadonlyMap<string, NodePotential>,
    values: NetworkValues,
    { firstBranch, firstUnknown }: BlockPlace,
  ) {
    const roots = new Set(branches.flat().map((node) => potentials.get(node)!.root));
    roots.delete(earthNode);
    this.roots = new Map([...roots].map((root, index) => [root, firstUnknown + index]));
    this.size = roots.size;
    this.firstUnknown = firstUnknown;
    this.values = values;
    const indexOf = (node: string): number => this.roots.get(potentials.get(node)!.root) ?? values.known;
    for (const [index, [from, to]] of branches.entries()) {
      values.ends[2 * (firstBranch + index)] = indexOf(from);
      values.ends[2 * (firstBranch + index) + 1] = indexOf(to);
    }
    this.factor = SymmetricFactor.of(this.size, this.entries(couplings), firstUnknown);
  }

  /** Place of a root's voltage among the numbers, or undefined where the block does not hold it. */
  placeOfRoot(root: string): number | undefined {
    return this.roots.get(root);
  }

  /** The unknowns of the block when a branch is fed with one ampere and nothing else moves. */
  responseTo(branch: number): Float64Array {
    const { numbers, ends, known } = this.values;
    const end = this.firstUnknown + this.size;
    numbers.fill(0, this.firstUnknown, end);
    numbers[ends[2 * branch]!]! += 1;
    numbers[ends[2 * branch + 1]!]! -= 1;
    numbers[known] = 0;
    this.factor.solve(numbers);
    const response = numbers.slice(this.firstUnknown, end);
    numbers.fill(0, this.firstUnknown, end);
    return response;
  }

  private entries(couplings: readonly Coupling[]): SymmetricEntry[] {
    const { ends, known } = this.values;
    return couplings.flatMap(({ row, column, conductance }) => {
      const [from, to] = [ends[2 * row]!, ends[2 * row + 1]!];
      const [otherFrom, otherTo] = [ends[2 * column]!, ends[2 * column + 1]!];
      const corners: SymmetricEntry[] = [
        [from, otherFrom, conductance],
        [from, otherTo, -conductance],
        [to, otherFrom, -conductance],
        [to, otherTo, conductance],
      ];
      // Every coupling is listed in both directions, and an entry stands for itself and its mirror image.
      return corners
        .filter(([one, other]) => one !== known && other !== known && one <= other)
        .map(([one, other, value]) => [one - this.firstUnknown, other - this.firstUnknown, value] as const);
    });
  }
}
