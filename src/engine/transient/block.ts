import { BlockMatrix, type BlockPlace, type Coupling } from './block-matrix.ts';
import { BlockPorts } from './block-ports.ts';
import type { Drive } from './drive.ts';
import { atCurrent, atImposed, type Branch, type Part, type Step, valuesOfBranch } from './element.ts';
import type { NetworkValues } from './network-values.ts';
import type { NodePotential } from './node-potentials.ts';
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
  /** Of each part: the first of its branches in the network. */
  readonly firstBranches: Int32Array;
  readonly place: BlockPlace;
  /** The branch after the last of the block. */
  readonly endBranch: number;
  readonly matrix: BlockMatrix;
  readonly ports: BlockPorts | null;
  /** Between branches at which ideal sources impose something. */
  readonly imposedCouplings: readonly Coupling[];
  /** Energy that ideal voltage sources have put into the block, joules. */
  driven = 0;
  private readonly values: NetworkValues;
  private readonly imposedShares: readonly ImposedShare[];
  private readonly drives: readonly Drive[];
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
    this.place = place;
    this.firstBranches = firstBranchesOf(parts, place.firstBranch);
    this.endBranch = place.firstBranch + branches.length;
    const couplings = couplingsOf(parts, this.firstBranches);
    try {
      this.matrix = new BlockMatrix(branches, couplings, potentials, values, place);
    } catch (error) {
      throw error instanceof SingularMatrix ? new ValuesTooFarApart(farthestApart(parts)) : error;
    }
    this.imposedShares = branches.flatMap((ends, index) =>
      imposedSharesOf(ends, place.firstBranch + index, potentials),
    );
    this.drives = [...new Set(this.imposedShares.map(({ drive }) => drive))];
    const driven = new Set(this.imposedShares.map(({ branch }) => branch));
    this.imposedCouplings = couplings.filter(({ column }) => driven.has(column));
    const nonlinear = parts.flatMap(({ part, element }, index) =>
      part.law === undefined ? [] : [{ part, element, branch: this.firstBranches[index]! }],
    );
    this.ports = nonlinear.length === 0 ? null : new BlockPorts(this.matrix, nonlinear, values);
  }

  /** Whether ideal sources impose voltages in the block. */
  get isDriven(): boolean {
    return this.drives.length > 0;
  }

  /** Whether a source of the block jumps within the grid step that ends at the sample. */
  driveBreaks(sample: number): boolean {
    return this.drives.some((drive) => drive.breaks(sample));
  }

  /** Puts the voltages of ideal sources at an instant to the branches. */
  impose(instant: number): void {
    const { drives, imposedShares, endBranch } = this;
    const { numbers, firstDrive } = this.values;
    for (let index = 0; index < drives.length; index++) {
      const drive = drives[index]!;
      drive.moveTo(instant);
      numbers[firstDrive + drive.index] = drive.voltage;
    }
    for (let branch = this.place.firstBranch; branch < endBranch; branch++) {
      numbers[valuesOfBranch * branch + atImposed] = 0;
    }
    for (let index = 0; index < imposedShares.length; index++) {
      const { branch, drive, factor } = imposedShares[index]!;
      numbers[valuesOfBranch * branch + atImposed]! += factor * drive.voltage;
    }
  }

  /** Power of branches against the imposed voltages: what is left of it belongs to the sources (Tellegen). */
  countDrivenEnergy(step: Step): void {
    const { endBranch } = this;
    const { numbers } = this.values;
    let power = 0;
    for (let branch = this.place.firstBranch; branch < endBranch; branch++) {
      const own = valuesOfBranch * branch;
      power += numbers[own + atImposed]! * numbers[own + atCurrent]!;
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
