import type { Block } from './block.ts';
import type { BlockPorts } from './block-ports.ts';
import { atHistory, atImposed, type RunningParts, type Step, valuesOfBranch } from './element.ts';
import type { KindGroups } from './kind-groups.ts';
import { type LinearRow, LinearRows, type RowTerm } from './linear-rows.ts';
import type { NetworkValues } from './network-values.ts';
import type { NotConverged } from './solver-problem.ts';

/** Of what a block has besides branches of the kinds: where its number stands behind those of the kinds. */
const [atRows, atPorts, atDriven] = [0, 1, 2];
const listsBesideKinds = 3;

/**
 * Moves a network, or a block of it, from one instant to the next. Blocks meet only through waves that were sent in earlier steps, so that
 * it matters to no value whether they are moved one by one or all together. All lists are in the order of the blocks.
 */
export class NetworkStepper {
  private readonly kinds: readonly RunningParts[];
  private readonly rows: LinearRows;
  private readonly ports: readonly BlockPorts[];
  private readonly driven: readonly Block[];
  /** Block by block, and after the last: where what is its own begins among the branches of each kind, and in each of the other lists. */
  private readonly starts: Int32Array;
  private readonly lists: number;

  constructor(blocks: readonly Block[], values: NetworkValues, groups: KindGroups) {
    this.kinds = groups.running;
    const rows = blocks.map((block) => rowsOf(block, values));
    this.rows = new LinearRows(rows.flat(), values.numbers);
    this.ports = blocks.flatMap(({ ports }) => (ports === null ? [] : [ports]));
    this.driven = blocks.filter(({ isDriven }) => isDriven);
    this.lists = this.kinds.length + listsBesideKinds;
    this.starts = new Int32Array(this.lists * (blocks.length + 1));
    for (const [index, block] of blocks.entries()) this.count(index, block, rows[index]!.length, groups);
  }

  /** Moves the blocks from `first` to the one before `end` to the end of the step; null, or why that failed. */
  advance(step: Step, first: number, end: number): NotConverged | null {
    const { kinds, driven, ports, rows, starts, lists } = this;
    const begin = lists * first;
    const after = lists * end;
    const [others, afterOthers] = [begin + kinds.length, after + kinds.length];
    const firstDriven = starts[others + atDriven]!;
    const endDriven = starts[afterOthers + atDriven]!;
    for (let index = firstDriven; index < endDriven; index++) driven[index]!.impose(step.end);
    this.begin(step, begin, after);
    rows.work(starts[others + atRows]!, starts[afterOthers + atRows]!);
    const endPort = starts[afterOthers + atPorts]!;
    for (let index = starts[others + atPorts]!; index < endPort; index++) {
      const problem = ports[index]!.correct(step);
      if (problem !== null) return problem;
    }
    for (let kind = 0; kind < kinds.length; kind++) {
      const [firstBranch, endBranch] = [starts[begin + kind]!, starts[after + kind]!];
      if (firstBranch < endBranch) kinds[kind]!.finish(step, firstBranch, endBranch);
    }
    for (let index = firstDriven; index < endDriven; index++) driven[index]!.countDrivenEnergy(step);
    return null;
  }

  /** Whether the grid step that ends at the sample begins with a discontinuity for a part of the block of that number. */
  partsBreak(sample: number, block: number): boolean {
    const { starts, lists } = this;
    return this.kinds.some((parts, kind) => {
      const [first, end] = [starts[lists * block + kind]!, starts[lists * (block + 1) + kind]!];
      return first < end && parts.breaks?.(sample, first, end) === true;
    });
  }

  /** The histories that were not written with the step before; from a place among the starts to another. */
  private begin(step: Step, begin: number, after: number): void {
    const { kinds, starts } = this;
    for (let kind = 0; kind < kinds.length; kind++) {
      const parts = kinds[kind]!;
      const [first, end] = [starts[begin + kind]!, starts[after + kind]!];
      if (first === end) continue;
      if (parts.begin !== undefined) parts.begin(step, first, end);
      else if (step.damped && parts.beginDamped !== undefined) parts.beginDamped(first, end);
    }
  }

  /** Writes where what belongs to the block after this one begins. */
  private count(index: number, block: Block, rows: number, groups: KindGroups): void {
    const { starts, lists } = this;
    const own = lists * index;
    const next = own + lists;
    starts.copyWithin(next, own, next);
    for (const { part } of block.parts) starts[next + groups.placed.get(part)!.kind]! += part.branches.length;
    const others = next + this.kinds.length;
    starts[others + atRows]! += rows;
    starts[others + atPorts]! += block.ports === null ? 0 : 1;
    starts[others + atDriven]! += block.isDriven ? 1 : 0;
  }
}

/** The solution of the block's linear network, with every non-linear branch as its reference conductance. */
function rowsOf(block: Block, values: NetworkValues): LinearRow[] {
  const fed = new Map<number, RowTerm[]>();
  const feed = (unknown: number, term: RowTerm): void => {
    const terms = fed.get(unknown) ?? [];
    fed.set(unknown, terms);
    terms.push(term);
  };
  for (const { branch, place, coefficient } of currentsBesideVoltages(block)) {
    feed(values.ends[2 * branch]!, { place, coefficient: -coefficient });
    feed(values.ends[2 * branch + 1]!, { place, coefficient });
  }
  return block.matrix.factor.rows((unknown) => fed.get(unknown) ?? []);
}

interface BranchTerm extends RowTerm {
  readonly branch: number;
}

/** What branches draw beside what the unknown voltages drive through their conductances: histories, and what imposed voltages drive. */
function currentsBesideVoltages({ parts, firstBranches, imposedCouplings }: Block): BranchTerm[] {
  const histories = parts.flatMap(({ part }, index) => {
    if (!part.hasHistory) return [];
    return part.branches.map((_, offset) => {
      const branch = firstBranches[index]! + offset;
      return { branch, place: valuesOfBranch * branch + atHistory, coefficient: 1 };
    });
  });
  const imposed = imposedCouplings.map(({ row, column, conductance }) => ({
    branch: row,
    place: valuesOfBranch * column + atImposed,
    coefficient: conductance,
  }));
  return [...histories, ...imposed];
}
