import { type Branch, earthNode } from './element.ts';
import type { NetworkValues } from './network-values.ts';
import type { NodePotential } from './node-potentials.ts';
import { SingularMatrix, type SymmetricEntry, SymmetricFactor } from './symmetric-factor.ts';

/** A conductance by which the voltage of one branch drives current in another (or the same), in siemens; branches of the network. */
export interface Coupling {
  readonly row: number;
  readonly column: number;
  readonly conductance: number;
}

/** Where the branches and unknowns of a block begin among those of the network. */
export interface BlockPlace {
  readonly firstBranch: number;
  readonly firstUnknown: number;
}

/** The branches of a block between its unknown voltages, and the factored matrix of their conductances. */
export class BlockMatrix {
  /** Number of unknowns. */
  readonly size: number;
  readonly firstUnknown: number;
  private readonly values: NetworkValues;
  private readonly roots: ReadonlyMap<string, number>;
  /** Null where there is but one unknown, and its resistance is all that is needed: most blocks of a long line. */
  private readonly factor: SymmetricFactor | null;
  private readonly resistance: number;

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
      values.from[firstBranch + index] = indexOf(from);
      values.to[firstBranch + index] = indexOf(to);
    }
    const entries = this.entries(couplings);
    this.factor = this.size === 1 ? null : new SymmetricFactor(this.size, entries, firstUnknown);
    this.resistance = this.size === 1 ? resistanceOf(entries) : 0;
  }

  /** Index of a root among the network's unknowns, or undefined where the block does not hold it. */
  indexOfRoot(root: string): number | undefined {
    return this.roots.get(root);
  }

  /** Sets the unknowns of the block to zero. */
  clear(): void {
    const { unknowns } = this.values;
    const end = this.firstUnknown + this.size;
    for (let index = this.firstUnknown; index < end; index++) unknowns[index] = 0;
  }

  /** Puts a current that the branch draws into the right side. */
  draw(branch: number, current: number): void {
    const { unknowns, from, to } = this.values;
    unknowns[from[branch]!]! -= current;
    unknowns[to[branch]!]! += current;
  }

  /** Replaces the right side by the voltages. */
  solve(): void {
    const { unknowns, known } = this.values;
    unknowns[known] = 0;
    if (this.factor === null) unknowns[this.firstUnknown]! *= this.resistance;
    else this.factor.solve(unknowns);
  }

  /** Voltage of a branch without the imposed part. */
  voltageOf(branch: number): number {
    const { unknowns, from, to } = this.values;
    return unknowns[from[branch]!]! - unknowns[to[branch]!]!;
  }

  /** The unknowns of the block as they stand. */
  copyUnknowns(): Float64Array {
    return this.values.unknowns.slice(this.firstUnknown, this.firstUnknown + this.size);
  }

  private entries(couplings: readonly Coupling[]): SymmetricEntry[] {
    const { from, to, known } = this.values;
    return couplings.flatMap(({ row, column, conductance }) => {
      const corners: SymmetricEntry[] = [
        [from[row]!, from[column]!, conductance],
        [from[row]!, to[column]!, -conductance],
        [to[row]!, from[column]!, -conductance],
        [to[row]!, to[column]!, conductance],
      ];
      // Every coupling is listed in both directions, and an entry stands for itself and its mirror image.
      return corners
        .filter(([one, other]) => one !== known && other !== known && one <= other)
        .map(([one, other, value]) => [one - this.firstUnknown, other - this.firstUnknown, value] as const);
    });
  }
}

function resistanceOf(entries: readonly SymmetricEntry[]): number {
  const conductance = entries.reduce((sum, [, , value]) => sum + value, 0);
  if (!(conductance > 0 && Number.isFinite(conductance))) throw new SingularMatrix('singular at row 0');
  return 1 / conductance;
}
