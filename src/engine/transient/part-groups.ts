import type { Block } from './block.ts';
import type { Part, PartLoops, Step } from './element.ts';
import type { NetworkValues } from './network-values.ts';

interface PartGroup {
  readonly loops: PartLoops;
  readonly parts: readonly Part[];
  /** Of each part the first of its branches. */
  readonly at: Int32Array;
}

/**
 * The parts of all blocks by their kinds. Blocks meet only through waves that were sent in earlier steps, so that it matters to no
 * value whether their parts begin and finish block by block or all together.
 */
export class PartGroups {
  private readonly beginning: readonly PartGroup[];
  private readonly finishing: readonly PartGroup[];
  private readonly breaking: readonly PartGroup[];
  private readonly values: NetworkValues;

  constructor(blocks: readonly Block[], values: NetworkValues) {
    const groups = groupsOf(blocks);
    this.beginning = groups.filter(({ loops }) => loops.begin !== undefined);
    this.finishing = groups;
    this.breaking = groups.filter(({ loops }) => loops.breaks !== undefined);
    this.values = values;
  }

  begin(step: Step): void {
    const { beginning, values } = this;
    for (let index = 0; index < beginning.length; index++) {
      const { loops, parts, at } = beginning[index]!;
      loops.begin!(parts, at, step, values);
    }
  }

  finish(step: Step): void {
    const { finishing, values } = this;
    for (let index = 0; index < finishing.length; index++) {
      const { loops, parts, at } = finishing[index]!;
      loops.finish(parts, at, step, values);
    }
  }

  breaks(sample: number): boolean {
    const { breaking } = this;
    for (let index = 0; index < breaking.length; index++) {
      const { loops, parts } = breaking[index]!;
      if (loops.breaks!(parts, sample)) return true;
    }
    return false;
  }
}

function groupsOf(blocks: readonly Block[]): PartGroup[] {
  const found = new Map<PartLoops, { readonly parts: Part[]; readonly at: number[] }>();
  for (const block of blocks) {
    for (const [index, { part }] of block.parts.entries()) {
      const group = found.get(part.loops) ?? { parts: [], at: [] };
      found.set(part.loops, group);
      group.parts.push(part);
      group.at.push(block.firstBranchOf(index));
    }
  }
  return [...found].map(([loops, { parts, at }]) => ({ loops, parts, at: Int32Array.from(at) }));
}
