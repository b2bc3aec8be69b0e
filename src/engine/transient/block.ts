import type { Drive } from './drive.ts';
import { type BranchValues, earthNode, type Part, type Step } from './element.ts';
import type { NodePotential } from './node-potentials.ts';
import type { NotConverged } from './solver-problem.ts';
import { PortSolver } from './solve-ports.ts';
import { SymmetricFactor, type SymmetricEntry } from './symmetric-factor.ts';

/** A part with the name of the element it belongs to. */
export interface NamedPart {
  readonly element: string;
  readonly part: Part;
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
  private readonly rootIndex: Map<string, number>;
  private readonly firstBranch: Int32Array;
  private readonly fromUnknown: Int32Array;
  private readonly toUnknown: Int32Array;
  private readonly imposed: Float64Array;
  private readonly drives: readonly Drive[];
  private readonly driveShares: readonly { branch: number; drive: Drive; factor: number }[];
  private readonly imposedCurrents: readonly { row: number; column: number; conductance: number }[];
  private readonly jumping: readonly Part[];
  private readonly factor: SymmetricFactor;
  private readonly ports: Ports | null;
  private readonly startsCharged: boolean;
  private drivenPower = 0;

  constructor(parts: readonly NamedPart[], potentials: ReadonlyMap<string, NodePotential>) {
    this.parts = parts;
    const branches = parts.flatMap(({ part }) => part.branches);
    const roots = new Set(branches.flat().map((node) => potentials.get(node)!.root));
    roots.delete(earthNode);
    this.rootIndex = new Map([...roots].map((root, index) => [root, index]));
    const size = roots.size;
    const indexOf = (node: string): number => this.rootIndex.get(potentials.get(node)!.root) ?? size;
    this.fromUnknown = Int32Array.from(branches, ([from]) => indexOf(from));
    this.toUnknown = Int32Array.from(branches, ([, to]) => indexOf(to));
    this.firstBranch = new Int32Array(parts.length);
    for (let index = 1; index < parts.length; index++) {
      this.firstBranch[index] = this.firstBranch[index - 1]! + parts[index - 1]!.part.branches.length;
    }
    const zeros = (): Float64Array => new Float64Array(branches.length);
    this.branches = { voltage: zeros(), current: zeros(), history: zeros() };
    this.imposed = zeros();
    this.unknowns = new Float64Array(size + 1);
    this.driveShares = branches.flatMap((ends, branch) => driveSharesOf(ends, branch, potentials));
    this.drives = [...new Set(this.driveShares.map(({ drive }) => drive))];
    const couplings = this.couplings();
    const driven = new Set(this.driveShares.map(({ branch }) => branch));
    this.imposedCurrents = couplings.filter(({ column }) => driven.has(column));
    this.jumping = parts.map(({ part }) => part).filter((part) => part.jumps !== undefined);
    this.factor = new SymmetricFactor(size, this.entries(couplings));
    this.ports = this.createPorts();
    this.startsCharged = parts.some(({ part }) => part.energy().stored > 0);
  }

  /** Index of a node's root among the unknowns, or undefined where the block does not hold it. */
  indexOfRoot(root: string): number | undefined {
    return this.rootIndex.get(root);
  }

  /** Where the branches of a part begin. */
  firstBranchOf(partIndex: number): number {
    return this.firstBranch[partIndex]!;
  }

  /** Whether the grid step that ends at the sample begins with a discontinuity for this block. */
  jumps(sample: number, gridStep: number): boolean {
    if (sample === 1 && this.startsCharged) return true;
    for (let index = 0; index < this.drives.length; index++) {
      if (this.drives[index]!.jumps(sample, gridStep)) return true;
    }
    for (let index = 0; index < this.jumping.length; index++) {
      if (this.jumping[index]!.jumps!(sample, gridStep)) return true;
    }
    return false;
  }

  /** Moves the block to the end of the step; null, or why that failed. */
  advance(step: Step): NotConverged | null {
    const { parts, firstBranch, branches } = this;
    this.impose(step);
    for (let index = 0; index < parts.length; index++) {
      parts[index]!.part.begin(step, branches, firstBranch[index]!);
    }
    this.solveLinear();
    const problem = this.ports === null ? null : this.ports.correct(this, step.end);
    this.readVoltages();
    for (let index = 0; index < parts.length; index++) {
      parts[index]!.part.finish(step, branches, firstBranch[index]!);
    }
    this.countDrivenEnergy(step);
    return problem;
  }

  /** Voltage of a branch from the unknowns. */
  voltageOf(branch: number): number {
    const { unknowns, fromUnknown, toUnknown, imposed } = this;
    return unknowns[fromUnknown[branch]!]! - unknowns[toUnknown[branch]!]! + imposed[branch]!;
  }

  private impose(step: Step): void {
    if (this.drives.length === 0) return;
    for (let index = 0; index < this.drives.length; index++) {
      this.drives[index]!.moveTo(step.end, 2 * step.endWeight);
    }
    this.imposed.fill(0);
    for (let index = 0; index < this.driveShares.length; index++) {
      const { branch, drive, factor } = this.driveShares[index]!;
      this.imposed[branch]! += factor * drive.voltage;
    }
  }

  /** Voltages of the roots with every non-linear branch as its reference conductance. */
  private solveLinear(): void {
    const { unknowns, fromUnknown, toUnknown, branches, imposed, imposedCurrents } = this;
    const { history } = branches;
    const size = unknowns.length - 1;
    unknowns.fill(0);
    for (let branch = 0; branch < history.length; branch++) {
      unknowns[fromUnknown[branch]!]! -= history[branch]!;
      unknowns[toUnknown[branch]!]! += history[branch]!;
    }
    for (let index = 0; index < imposedCurrents.length; index++) {
      const { row, column, conductance } = imposedCurrents[index]!;
      const current = conductance * imposed[column]!;
      unknowns[fromUnknown[row]!]! -= current;
      unknowns[toUnknown[row]!]! += current;
    }
    unknowns[size] = 0;
    this.factor.solve(unknowns);
  }

  private readVoltages(): void {
    const { voltage } = this.branches;
    for (let branch = 0; branch < voltage.length; branch++) voltage[branch] = this.voltageOf(branch);
  }

  /** Power of branches against the imposed voltages: what is left of it belongs to the sources (Tellegen). */
  private countDrivenEnergy(step: Step): void {
    if (this.drives.length === 0) return;
    const { imposed, branches } = this;
    let power = 0;
    for (let branch = 0; branch < imposed.length; branch++) power += imposed[branch]! * branches.current[branch]!;
    this.driven += step.beginWeight * this.drivenPower + step.endWeight * power;
    this.drivenPower = power;
  }

  /** The parts' conductances by branch of the block. */
  private couplings(): { row: number; column: number; conductance: number }[] {
    return this.parts.flatMap(({ part }, index) => {
      const first = this.firstBranch[index]!;
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

  private entries(couplings: readonly { row: number; column: number; conductance: number }[]): SymmetricEntry[] {
    const known = this.unknowns.length - 1;
    return couplings.flatMap(({ row, column, conductance }) => {
      const corners: SymmetricEntry[] = [
        [this.fromUnknown[row]!, this.fromUnknown[column]!, conductance],
        [this.fromUnknown[row]!, this.toUnknown[column]!, -conductance],
        [this.toUnknown[row]!, this.fromUnknown[column]!, -conductance],
        [this.toUnknown[row]!, this.toUnknown[column]!, conductance],
      ];
      // Every coupling is listed in both directions, and an entry stands for itself and its mirror image.
      return corners.filter(([one, other]) => one !== known && other !== known && one <= other);
    });
  }

  private createPorts(): Ports | null {
    const branches = this.parts.flatMap(({ part, element }, index) =>
      part.law === undefined ? [] : [{ part, element, branch: this.firstBranch[index]! }],
    );
    return branches.length === 0 ? null : new Ports(this, branches);
  }

  /** The unknowns' response to one ampere drawn by the branch. */
  responseTo(branch: number): Float64Array {
    const response = new Float64Array(this.unknowns.length);
    response[this.fromUnknown[branch]!]! += 1;
    response[this.toUnknown[branch]!]! -= 1;
    response[this.unknowns.length - 1] = 0;
    this.factor.solve(response);
    return response;
  }

  /** Voltage of a branch in a response. */
  voltageIn(response: Float64Array, branch: number): number {
    return response[this.fromUnknown[branch]!]! - response[this.toUnknown[branch]!]!;
  }
}

interface PortBranch {
  readonly element: string;
  readonly part: Part;
  readonly branch: number;
}

/** The non-linear branches of a block, put right after each linear solution. */
class Ports {
  private readonly branches: readonly PortBranch[];
  private readonly responses: readonly Float64Array[];
  private readonly solver: PortSolver;
  private readonly openVoltages: Float64Array;

  constructor(block: Block, branches: readonly PortBranch[]) {
    this.branches = branches;
    this.responses = branches.map(({ branch }) => block.responseTo(branch));
    const impedances = Float64Array.from(
      branches.flatMap(({ branch }) => this.responses.map((response) => block.voltageIn(response, branch))),
    );
    const conductances = Float64Array.from(branches, ({ part }) => part.conductance[0]!);
    this.solver = new PortSolver(
      branches.map(({ part }) => part.law!),
      conductances,
      impedances,
    );
    this.openVoltages = new Float64Array(branches.length);
  }

  correct(block: Block, time: number): NotConverged | null {
    const { branches, responses, solver, openVoltages } = this;
    for (let port = 0; port < branches.length; port++) {
      openVoltages[port] = block.voltageOf(branches[port]!.branch);
    }
    const found = solver.solve(openVoltages);
    for (let port = 0; port < branches.length; port++) {
      const correction = solver.corrections[port]!;
      const response = responses[port]!;
      for (let index = 0; index < response.length; index++) block.unknowns[index]! -= response[index]! * correction;
    }
    return found ? null : this.failure(time);
  }

  private failure(time: number): NotConverged {
    const { solver, branches } = this;
    const port = solver.worstPort;
    return {
      code: 'not-converged',
      element: branches[port]!.element,
      time,
      voltage: solver.voltages[port]!,
      current: branches[port]!.part.law!.current,
      residual: solver.worstResidual,
      iterations: solver.iterations,
    };
  }
}

function driveSharesOf(
  [from, to]: readonly [string, string],
  branch: number,
  potentials: ReadonlyMap<string, NodePotential>,
): { branch: number; drive: Drive; factor: number }[] {
  const factors = new Map<Drive, number>();
  for (const { drive, sign } of potentials.get(from)!.shares) factors.set(drive, (factors.get(drive) ?? 0) + sign);
  for (const { drive, sign } of potentials.get(to)!.shares) factors.set(drive, (factors.get(drive) ?? 0) - sign);
  return [...factors].filter(([, factor]) => factor !== 0).map(([drive, factor]) => ({ branch, drive, factor }));
}
