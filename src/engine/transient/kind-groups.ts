import type { Block } from './block.ts';
import { type Part, type PartEnergy, type PartKind, type RunningParts, valuesOfBranch } from './element.ts';
import type { NetworkValues } from './network-values.ts';

/** A part of the network during a run: its kind's number, the parts of that kind, and the place of its first branch among theirs. */
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
  { ends, numbers }: NetworkValues,
  announceBreak: (sample: number) => void,
): KindGroups {
  const found = new Map<PartKind, { readonly parts: Part[]; readonly places: number[] }>();
  for (const { parts, firstBranches } of blocks) {
    for (const [index, { part }] of parts.entries()) {
      const group = found.get(part.kind) ?? { parts: [], places: [] };
      found.set(part.kind, group);
      group.parts.push(part);
      for (const offset of part.branches.keys()) {
        const branch = firstBranches[index]! + offset;
        group.places.push(valuesOfBranch * branch, ends[2 * branch]!, ends[2 * branch + 1]!);
      }
    }
  }
  const placed = new Map<Part, PlacedPart>();
  const running = [...found].map(([start, { parts, places }], kind) => {
    const own = start(parts, { places: new Int32Array(places), numbers, announceBreak });
    let index = 0;
    for (const part of parts) {
      placed.set(part, { kind, parts: own, index });
      index += part.branches.length;
    }
    return own;
  });
  return { running, placed };
}
