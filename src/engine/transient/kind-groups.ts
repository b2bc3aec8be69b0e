import type { Block } from './block.ts';
import type { BranchValues, Part, PartEnergy, PartKind, RunningParts } from './element.ts';
import { valuesOfBranch } from './element.ts';

/** A part of the network during a run: its kind's number, the parts of that kind, and its place among them. */
export interface PlacedPart {
  readonly kind: number;
  readonly parts: RunningParts;
  readonly index: number;
}

export const energyOf = ({ parts, index }: PlacedPart): PartEnergy => parts.energyOf(index);

/** The parts of all blocks by their kinds, those of a block after those of the block before. */
export interface KindGroups {
  readonly running: readonly RunningParts[];
  readonly placed: ReadonlyMap<Part, PlacedPart>;
}

export function groupByKind(
  blocks: readonly Block[],
  branches: BranchValues,
  announceBreak: (sample: number) => void,
): KindGroups {
  const found = new Map<PartKind, { readonly parts: Part[]; readonly at: number[] }>();
  for (const { parts, firstBranches } of blocks) {
    for (const [index, { part }] of parts.entries()) {
      const group = found.get(part.kind) ?? { parts: [], at: [] };
      found.set(part.kind, group);
      group.parts.push(part);
      group.at.push(valuesOfBranch * firstBranches[index]!);
    }
  }
  const placed = new Map<Part, PlacedPart>();
  const running = [...found].map(([start, { parts, at }], kind) => {
    const own = start(parts, { at: new Int32Array(at), branches, announceBreak });
    for (const [index, part] of parts.entries()) placed.set(part, { kind, parts: own, index });
    return own;
  });
  return { running, placed };
}
