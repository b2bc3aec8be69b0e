import { BlockMatrix, type Coupling } from './block-matrix.ts';
import { BlockPorts } from './block-ports.ts';
import type { Drive } from './drive.ts';
import { type Branch, type BranchValues, earthNode, type Part, type Step } from './element.ts';
import type { NodePotential } from './node-potentials.ts';
import type { NotConverged } from './solver-problem.ts';

/** A part with the name of the element it belongs to. */
export interface NamedPart {
  readonly element: string;
  readonly part: Part;
}

/** What an ideal source adds to the voltage of a branch: `factor` times its voltage. */
interface ImposedShare {
  readonly branch: number;
  readonly drive: Drive;
  readonly factor: number;
}

/**
 * A piece of the network that reaches the rest through lines (or known voltages) only, so that it is solved by itself
 * in every step. Its matrix is constant: factored once.
 */
export class Block {
  readonly parts: readonly NamedPart[];
  readonly branches: BranchValues;
  /** Voltages of the roots, and one zero more that stands for every known node. */
  readonly unknowns: Float64Array;
  /** Energy that ideal voltage sources have put into the block, joules. */
  driven = 0;
  private readonly matrix: BlockMatrix;
  private readonly ports: BlockPorts | null;
  private readonly firstBranch: Int32Array;
  private readonly imposed: Float64Array;
  private readonly imposedShares: readonly ImposedShare[];
  private readonly imposedCouplings: readonly Coupling[];
  private readonly drives: readonly Drive[];
  private readonly breaking: readonly Part[];
  private readonly startsCharged: boolean;
  private drivenPower = 0;

  constructor(parts: readonly NamedPart[], potentials: ReadonlyMap<string, NodePotential>) {
    const branches = parts.flatMap(({ part }) => part.branches);
    const zeros = (): Float64Array => new Float64Array(branches.length);
    this.parts = parts;
    this.firstBranch = firstBranchesOf(parts);
    const couplings = couplingsOf(parts, this.firstBranch);
    this.matrix = new BlockMatrix(branches, couplings, potentials, earthNode);
    this.unknowns = new Float64Array(this.matrix.size + 1);
    this.branches = { voltage: zeros(), current: zeros(), history: zeros() };
    this.imposed = zeros();
    this.imposedShares = branches.flatMap((ends, branch) => imposedSharesOf(ends, branch, potentials));
    this.drives = [...new Set(this.imposedShares.map(({ drive }) => drive))];
    const driven = new Set(this.imposedShares.map(({ branch }) => branch));
    this.imposedCouplings = couplings.filter(({ column }) => driven.has(column));
    const nonlinear = parts.flatMap(({ part, element }, index) =>
      part.law === undefined ? [] : [{ part, element, branch: this.firstBranch[index]! }],
    );
    this.ports = nonlinear.length === 0 ? null : new BlockPorts(this.matrix, nonlinear);
    this.breaking = parts.map(({ part }) => part).filter((part) => part.breaks !== undefined);
    this.startsCharged = parts.some(({ part }) => part.energy().stored > 0);
  }

  /** Index of a node's root among the unknowns, or undefined where the block does not hold it. */
  indexOfRoot(root: string): number | undefined {
    return this.matrix.indexOfRoot(root);
  }

  /** Where the branches of a part begin. */
  firstBranchOf(partIndex: number): number {
    return this.firstBranch[partIndex]!;
  }

  /** Whether the grid step that ends at the sample begins with a discontinuity for this block. */
  breaks(sample: number): boolean {
    if (sample === 1 && this.startsCharged) return true;
    for (let index = 0; index < this.drives.length; index++) {
      if (this.drives[index]!.breaks(sample)) return true;
    }
    for (let index = 0; index < this.breaking.length; index++) {
      if (this.breaking[index]!.breaks!(sample)) return true;
    }
    return false;
  }

  /** Moves the block to the end of the step; null, or why that failed. */
  advance(step: Step): NotConverged | null {
    const { parts, firstBranch, branches, ports } = this;
    if (this.drives.length > 0) this.impose(step.end);
    for (let index = 0; index < parts.length; index++) {
      parts[index]!.part.begin(step, branches, firstBranch[index]!);
    }
    this.solveLinear();
    const problem = ports === null ? null : ports.correct(this.unknowns, this.imposed, step.end);
    if (problem !== null) return problem;
    this.readVoltages();
    for (let index = 0; index < parts.length; index++) {
      parts[index]!.part.finish(step, branches, firstBranch[index]!);
    }
    if (this.drives.length > 0) this.countDrivenEnergy(step);
    return null;
  }

  private impose(instant: number): void {
    const { drives, imposed, imposedShares } = this;
    for (let index = 0; index < drives.length; index++) drives[index]!.moveTo(instant);
    imposed.fill(0);
    for (let index = 0; index < imposedShares.length; index++) {
      const { branch, drive, factor } = imposedShares[index]!;
      imposed[branch]! += factor * drive.voltage;
    }
  }

  /** Voltages of the roots with every non-linear branch as its reference conductance. */
  private solveLinear(): void {
    const { unknowns, matrix, imposed, imposedCouplings } = this;
    const { history } = this.branches;
    unknowns.fill(0);
    for (let branch = 0; branch < history.length; branch++) matrix.draw(unknowns, branch, history[branch]!);
    for (let index = 0; index < imposedCouplings.length; index++) {
      const { row, column, conductance } = imposedCouplings[index]!;
      matrix.draw(unknowns, row, conductance * imposed[column]!);
    }
    matrix.solve(unknowns);
  }

  private readVoltages(): void {
    const { matrix, unknowns, imposed } = this;
    const { voltage } = this.branches;
    for (let branch = 0; branch < voltage.length; branch++) {
      voltage[branch] = matrix.voltageOf(unknowns, branch) + imposed[branch]!;
    }
  }

  /** Power of branches against the imposed voltages: what is left of it belongs to the sources (Tellegen). */
  private countDrivenEnergy(step: Step): void {
    const { imposed, branches } = this;
    let power = 0;
    for (let branch = 0; branch < imposed.length; branch++)
      power += imposed[branch]! * branches.current[branch]!;
    this.driven += step.beginWeight * this.drivenPower + step.endWeight * power;
    this.drivenPower = power;
  }
}

function firstBranchesOf(parts: readonly NamedPart[]): Int32Array {
  const first = new Int32Array(parts.length);
  for (let index = 1; index < parts.length; index++) {
    first[index] = first[index - 1]! + parts[index - 1]!.part.branches.length;
  }
  return first;
}

/** The parts' conductances by branch of the block. */
function couplingsOf(parts: readonly NamedPart[], firstBranch: Int32Array): Coupling[] {
  return parts.flatMap(({ part }, index) => {
    const first = firstBranch[index]!;
    const count = part.branches.length;
    return part.conductance
      .map((conductance, entry) => ({
        row: first + Math.floor(entry / count),
        column: first + (entry % count),
        conductance,
      }))
      .filter(({ conductance }) => conductance !== 0);
  });
}

function imposedSharesOf(
  [from, to]: Branch,
  branch: number,
  potentials: ReadonlyMap<string, NodePotential>,
): ImposedShare[] {
  const factors = new Map<Drive, number>();
  for (const { drive, sign } of potentials.get(from)!.shares)
    factors.set(drive, (factors.get(drive) ?? 0) + sign);
  for (const { drive, sign } of potentials.get(to)!.shares)
    factors.set(drive, (factors.get(drive) ?? 0) - sign);
  return [...factors]
    .filter(([, factor]) => factor !== 0)
    .map(([drive, factor]) => ({ branch, drive, factor }));
}
