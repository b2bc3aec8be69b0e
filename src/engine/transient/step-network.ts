import type { Block } from './block.ts';
import type { BlockPorts } from './block-ports.ts';
import { atHistory, atImposed, atVoltage, type RunningParts, type Step, valuesOfBranch } from './element.ts';
import type { KindGroups } from './kind-groups.ts';
import type { NetworkValues } from './network-values.ts';
import type { NotConverged } from './solver-problem.ts';
import { SymmetricFactor } from './symmetric-factor.ts';

/** The loops of a kind beside it: looked up in it at every step they would be looked for in as many classes as there are kinds. */
interface KindLoops {
  readonly parts: RunningParts;
  readonly begin: RunningParts['begin'];
  readonly finish: RunningParts['finish'];
}

/** Of each branch that draws a current beside that of its conductance: where that stands, and the unknowns at its ends. */
const drawSize = 3;
/** Of each coupling to a branch with an imposed voltage: where that stands, and the unknowns at the ends of the branch that it feeds. */
const couplingSize = 3;

/** Of what a block has besides parts of the kinds: where its number stands behind those of the kinds. */
const [atBranches, atUnknowns, atDraws, atCouplings, atPorts, atDriven] = [0, 1, 2, 3, 4, 5];
const listsBesideKinds = 6;

/**
 * Moves a network, or a block of it, from one instant to the next. Blocks meet only through waves that were sent in earlier steps, so that
 * it matters to no value whether they are moved one by one or all together. All lists are in the order of the blocks.
 */
export class NetworkStepper {
  private readonly values: NetworkValues;
  private readonly loops: readonly KindLoops[];
  private readonly factor: SymmetricFactor;
  private readonly draws: Int32Array;
  private readonly couplings: Int32Array;
  private readonly conductances: Float64Array;
  private readonly ports: readonly BlockPorts[];
  private readonly driven: readonly Block[];
  /** Block by block, and after the last: where what is its own begins among the parts of each kind, and in each of the other lists. */
  private readonly starts: Int32Array;
  private readonly lists: number;

  constructor(blocks: readonly Block[], values: NetworkValues, groups: KindGroups) {
    const { ends } = values;
    this.values = values;
    this.loops = groups.running.map((parts) => ({ parts, begin: parts.begin, finish: parts.finish }));
    this.factor = SymmetricFactor.joined(blocks.map(({ matrix }) => matrix.factor));
    const drawing = blocks.map((block) => drawingBranchesOf(block, groups));
    this.draws = new Int32Array(
      drawing
        .flat()
        .flatMap((branch) => [valuesOfBranch * branch + atHistory, ends[2 * branch]!, ends[2 * branch + 1]!]),
    );
    const couplings = blocks.flatMap(({ imposedCouplings }) => imposedCouplings);
    this.couplings = new Int32Array(
      couplings.flatMap(({ row, column }) => [
        valuesOfBranch * column + atImposed,
        ends[2 * row]!,
        ends[2 * row + 1]!,
      ]),
    );
    this.conductances = new Float64Array(couplings.map(({ conductance }) => conductance));
    this.ports = blocks.flatMap(({ ports }) => (ports === null ? [] : [ports]));
    this.driven = blocks.filter(({ isDriven }) => isDriven);
    this.lists = this.loops.length + listsBesideKinds;
    this.starts = new Int32Array(this.lists * (blocks.length + 1));
    for (const [index, block] of blocks.entries()) this.count(index, block, drawing[index]!.length, groups);
  }

  /** Moves the blocks from `first` to the one before `end` to the end of the step; null, or why that failed. */
  advance(step: Step, first: number, end: number): NotConverged | null {
    const { loops, driven, ports, starts, lists } = this;
    const kinds = loops.length;
    const begin = lists * first;
    const after = lists * end;
    const firstDriven = starts[begin + kinds + atDriven]!;
    const endDriven = starts[after + kinds + atDriven]!;
    for (let index = firstDriven; index < endDriven; index++) driven[index]!.impose(step.end);
    for (let kind = 0; kind < kinds; kind++) {
      const loop = loops[kind]!;
      const [firstPart, endPart] = [starts[begin + kind]!, starts[after + kind]!];
      if (loop.begin !== undefined && firstPart < endPart)
        loop.begin.call(loop.parts, step, firstPart, endPart);
    }
    this.solveLinear(begin + kinds, after + kinds);
    const endPort = starts[after + kinds + atPorts]!;
    for (let index = starts[begin + kinds + atPorts]!; index < endPort; index++) {
      const problem = ports[index]!.correct(step);
      if (problem !== null) return problem;
    }
    this.readVoltages(starts[begin + kinds + atBranches]!, starts[after + kinds + atBranches]!);
    for (let kind = 0; kind < kinds; kind++) {
      const loop = loops[kind]!;
      const [firstPart, endPart] = [starts[begin + kind]!, starts[after + kind]!];
      if (firstPart < endPart) loop.finish.call(loop.parts, step, firstPart, endPart);
    }
    for (let index = firstDriven; index < endDriven; index++) driven[index]!.countDrivenEnergy(step);
    return null;
  }

  /** Whether the grid step that ends at the sample begins with a discontinuity for a part of the block of that number. */
  partsBreak(sample: number, block: number): boolean {
    const { starts, lists } = this;
    return this.loops.some(({ parts }, kind) => {
      const [first, end] = [starts[lists * block + kind]!, starts[lists * (block + 1) + kind]!];
      return first < end && parts.breaks?.(sample, first, end) === true;
    });
  }

  /** Voltages of the roots with every non-linear branch as its reference conductance; from a place among the starts to another. */
  private solveLinear(begin: number, after: number): void {
    const { starts, draws, couplings, conductances } = this;
    const { unknowns, known, branches } = this.values;
    const first = starts[begin + atUnknowns]!;
    const end = starts[after + atUnknowns]!;
    for (let unknown = first; unknown < end; unknown++) unknowns[unknown] = 0;
    const endDraw = drawSize * starts[after + atDraws]!;
    for (let index = drawSize * starts[begin + atDraws]!; index < endDraw; index += drawSize) {
      const drawn = branches[draws[index]!]!;
      unknowns[draws[index + 1]!]! -= drawn;
      unknowns[draws[index + 2]!]! += drawn;
    }
    const endCoupling = starts[after + atCouplings]!;
    for (let index = starts[begin + atCouplings]!; index < endCoupling; index++) {
      const own = couplingSize * index;
      const drawn = conductances[index]! * branches[couplings[own]!]!;
      unknowns[couplings[own + 1]!]! -= drawn;
      unknowns[couplings[own + 2]!]! += drawn;
    }
    unknowns[known] = 0;
    this.factor.solve(unknowns, first, end);
  }

  private readVoltages(first: number, end: number): void {
    const { unknowns, ends, branches } = this.values;
    for (let branch = first; branch < end; branch++) {
      const own = valuesOfBranch * branch;
      branches[own + atVoltage] =
        unknowns[ends[2 * branch]!]! - unknowns[ends[2 * branch + 1]!]! + branches[own + atImposed]!;
    }
  }

  /** Writes where what belongs to the block after this one begins. */
  private count(index: number, block: Block, draws: number, groups: KindGroups): void {
    const { starts, lists } = this;
    const own = lists * index;
    const next = own + lists;
    starts.copyWithin(next, own, next);
    for (const { part } of block.parts) starts[next + groups.placed.get(part)!.kind]! += 1;
    const others = next + this.loops.length;
    starts[others + atBranches]! += block.endBranch - block.place.firstBranch;
    starts[others + atUnknowns]! += block.matrix.size;
    starts[others + atDraws]! += draws;
    starts[others + atCouplings]! += block.imposedCouplings.length;
    starts[others + atPorts]! += block.ports === null ? 0 : 1;
    starts[others + atDriven]! += block.isDriven ? 1 : 0;
  }
}

/** The branches that draw a current beside that of their conductance. */
function drawingBranchesOf({ parts, firstBranches }: Block, { placed }: KindGroups): number[] {
  return parts.flatMap(({ part }, index) =>
    placed.get(part)!.parts.begin === undefined
      ? []
      : part.branches.map((_, branch) => firstBranches[index]! + branch),
  );
}
