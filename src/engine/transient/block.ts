import { BlockMatrix, type BlockPlace, type Coupling } from './block-matrix.ts';
import { BlockPorts } from './block-ports.ts';
import type { Drive } from './drive.ts';
import type { Branch, Part, Step } from './element.ts';
import type { NetworkValues } from './network-values.ts';
import type { NodePotential } from './node-potentials.ts';
import type { NotConverged } from './solver-problem.ts';
import { SingularMatrix } from './symmetric-factor.ts';

/** The values of a network's elements lie too far apart for it to be solved. */
export class ValuesTooFarApart extends RangeError {
  /** With the smallest conductance, and with the largest. */
  readonly elements: readonly [string, string];

  constructor(elements: readonly [string, string]) {
    super(`the values of ${elements.join(' and ')} lie too far apart`);
    this.elements = elements;
  }
}

/** A part with the name of the element it belongs to. */
export interface NamedPart {
  readonly element: string;
  readonly part: Part;
}

/** A part that has to act before the network is solved. */
interface BeginningPart {
  readonly part: Part & Required<Pick<Part, 'begin'>>;
  readonly at: number;
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
  /** Energy that ideal voltage sources have put into the block, joules. */
  driven = 0;
  private readonly values: NetworkValues;
  private readonly matrix: BlockMatrix;
  private readonly ports: BlockPorts | null;
  /** Of each part: the first of its branches in the network; and the branch after the last of the block. */
  private readonly firstBranch: Int32Array;
  private readonly endBranch: number;
  private readonly finishing: readonly Part[];
  private readonly beginning: readonly BeginningPart[];
  /** The branches that draw a current beside that of their conductance. */
  private readonly drawing: Int32Array;
  private readonly imposedShares: readonly ImposedShare[];
  private readonly imposedCouplings: readonly Coupling[];
  private readonly drives: readonly Drive[];
  private readonly breaking: readonly Part[];
  private readonly startsCharged: boolean;
  private drivenPower = 0;

  constructor(
    parts: readonly NamedPart[],
    potentials: ReadonlyMap<string, NodePotential>,
    values: NetworkValues,
    place: BlockPlace,
  ) {
    const branches = parts.flatMap(({ part }) => part.branches);
    this.parts = parts;
    this.values = values;
    this.firstBranch = firstBranchesOf(parts, place.firstBranch);
    this.endBranch = place.firstBranch + branches.length;
    const couplings = couplingsOf(parts, this.firstBranch);
    try {
      this.matrix = new BlockMatrix(branches, couplings, potentials, values, place);
    } catch (error) {
      throw error instanceof SingularMatrix ? new ValuesTooFarApart(farthestApart(parts)) : error;
    }
    this.finishing = parts.map(({ part }) => part);
    this.beginning = parts.flatMap(({ part }, index) =>
      part.begin === undefined ? [] : [{ part: part as BeginningPart['part'], at: this.firstBranch[index]! }],
    );
    this.drawing = Int32Array.from(
      this.beginning.flatMap(({ part, at }) => part.branches.map((_, index) => at + index)),
    );
    this.imposedShares = branches.flatMap((ends, index) =>
      imposedSharesOf(ends, place.firstBranch + index, potentials),
    );
    this.drives = [...new Set(this.imposedShares.map(({ drive }) => drive))];
    const driven = new Set(this.imposedShares.map(({ branch }) => branch));
    this.imposedCouplings = couplings.filter(({ column }) => driven.has(column));
    const nonlinear = parts.flatMap(({ part, element }, index) =>
      part.law === undefined ? [] : [{ part, element, branch: this.firstBranch[index]! }],
    );
    this.ports = nonlinear.length === 0 ? null : new BlockPorts(this.matrix, nonlinear);
    this.breaking = this.finishing.filter((part) => part.breaks !== undefined);
    this.startsCharged = this.finishing.some((part) => part.energy().stored > 0);
  }

  /** Number of unknown voltages. */
  get size(): number {
    return this.matrix.size;
  }

  /** Index of a node's root among the network's unknowns, or undefined where the block does not hold it. */
  indexOfRoot(root: string): number | undefined {
    return this.matrix.indexOfRoot(root);
  }

  /** Where the branches of a part begin among those of the network. */
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
    const { finishing, beginning, firstBranch, values } = this;
    this.impose(step.end);
    for (let index = 0; index < beginning.length; index++) {
      const { part, at } = beginning[index]!;
      part.begin(step, values, at);
    }
    const problem = this.solve(step);
    if (problem !== null) return problem;
    for (let index = 0; index < finishing.length; index++) {
      finishing[index]!.finish(step, values, firstBranch[index]!);
    }
    this.countDrivenEnergy(step);
    return null;
  }

  /** Voltages of the branches at the end of the step, when the parts have begun; null, or why that failed. */
  solve(step: Step): NotConverged | null {
    this.solveLinear();
    const problem = this.ports === null ? null : this.ports.correct(this.values, step.end);
    if (problem !== null) return problem;
    this.readVoltages();
    return null;
  }

  /** Puts the voltages of ideal sources at an instant to the branches. */
  impose(instant: number): void {
    const { drives, imposedShares } = this;
    if (drives.length === 0) return;
    const { imposed } = this.values;
    for (let index = 0; index < drives.length; index++) drives[index]!.moveTo(instant);
    imposed.fill(0, this.firstBranch[0], this.endBranch);
    for (let index = 0; index < imposedShares.length; index++) {
      const { branch, drive, factor } = imposedShares[index]!;
      imposed[branch]! += factor * drive.voltage;
    }
  }

  /** Voltages of the roots with every non-linear branch as its reference conductance. */
  private solveLinear(): void {
    const { matrix, imposedCouplings, drawing } = this;
    const { history, imposed, unknowns, from, to } = this.values;
    matrix.clear();
    for (let index = 0; index < drawing.length; index++) {
      const branch = drawing[index]!;
      const drawn = history[branch]!;
      unknowns[from[branch]!]! -= drawn;
      unknowns[to[branch]!]! += drawn;
    }
    for (let index = 0; index < imposedCouplings.length; index++) {
      const { row, column, conductance } = imposedCouplings[index]!;
      matrix.draw(row, conductance * imposed[column]!);
    }
    matrix.solve();
  }

  private readVoltages(): void {
    const { firstBranch, endBranch } = this;
    const { voltage, imposed, unknowns, from, to } = this.values;
    for (let branch = firstBranch[0]!; branch < endBranch; branch++) {
      voltage[branch] = unknowns[from[branch]!]! - unknowns[to[branch]!]! + imposed[branch]!;
    }
  }

  /** Power of branches against the imposed voltages: what is left of it belongs to the sources (Tellegen). */
  countDrivenEnergy(step: Step): void {
    if (this.drives.length === 0) return;
    const { imposed, current } = this.values;
    let power = 0;
    for (let branch = this.firstBranch[0]!; branch < this.endBranch; branch++) {
      power += imposed[branch]! * current[branch]!;
    }
    this.driven += step.beginWeight * this.drivenPower + step.endWeight * power;
    this.drivenPower = power;
  }
}

function farthestApart(parts: readonly NamedPart[]): readonly [string, string] {
  const sized = parts
    .map(({ element, part }) => ({ element, size: Math.max(...part.conductance.map(Math.abs)) }))
    .sort((one, other) => one.size - other.size);
  return [sized[0]!.element, sized.at(-1)!.element];
}

function firstBranchesOf(parts: readonly NamedPart[], firstOfBlock: number): Int32Array {
  const first = new Int32Array(parts.length).fill(firstOfBlock);
  for (let index = 1; index < parts.length; index++) {
    first[index] = first[index - 1]! + parts[index - 1]!.part.branches.length;
  }
  return first;
}

/** The parts' conductances by branch of the network. */
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
