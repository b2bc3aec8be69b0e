import type { Assembly } from './assemble.ts';
import { energyOf } from './kind-groups.ts';

/** Joules since time zero. */
export interface EnergyBalance {
  /** From the sources, and what was stored at time zero. */
  readonly supplied: number;
  readonly dissipated: number;
  readonly stored: number;
}

/** What the sources gave against what the elements lost and hold, the waves on the lines included. */
export function energyBalance({ blocks }: Assembly, storedAtStart: number): EnergyBalance {
  let supplied = storedAtStart;
  let dissipated = 0;
  let stored = 0;
  for (const { block, parts } of blocks) {
    supplied += block.driven;
    for (const part of parts) {
      const energy = energyOf(part);
      supplied += energy.supplied;
      dissipated += energy.dissipated;
      stored += energy.stored;
    }
  }
  return { supplied, dissipated, stored };
}

/** The largest difference met in a run against the largest energy turned over in it. */
export class ImbalanceRecord {
  private scale = 0;
  private largest = 0;

  note({ supplied, dissipated, stored }: EnergyBalance): void {
    this.scale = Math.max(this.scale, Math.abs(supplied), dissipated + stored);
    this.largest = Math.max(this.largest, Math.abs(supplied - dissipated - stored));
  }

  /** As a share; zero where nothing moved. */
  relative(): number {
    return this.scale === 0 ? this.largest : this.largest / this.scale;
  }
}
