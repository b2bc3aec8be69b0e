import type { Measured } from './fit-lengths.ts';
import { fitLengths } from './fit-lengths.ts';
import { chooseScale, type Scale } from './scale.ts';

/** Lengths on paper in their order, and the scale that all of them have; without one they are not to scale. */
export interface LaidLengths {
  readonly drawn: readonly number[];
  readonly scale?: Scale;
}

/** Most figures need no more of the page than the first of these parts of the room that they may take; the next where it is too little. */
const ROOMS = [0.55, 0.65, 0.75, 0.85, 1] as const;
const COMPACT = ROOMS[0];

/**
 * Lays lengths end to end to one scale: within about half of the stretch where the shortest is still `least` long then, within as
 * much more of it as that takes where it is not; else shared out so that each is legible, and then not to scale. A length that is missing or nothing does
 * not count.
 *
 * @throws {NotDrawable} where a length is negative or not finite
 */
export function layLengths(
  lengths: readonly (Measured | undefined)[],
  stretch: number,
  least: number,
  toScale = true,
): LaidLengths {
  const metres = lengths.map((each) => each?.length ?? 0);
  const real = metres.filter((length) => length > 0);
  const total = real.reduce((sum, length) => sum + length, 0);
  const usable = toScale && real.length > 0 && Number.isFinite(total) && total > 1e-6 && total < 1e6;
  if (usable) {
    const shortest = Math.min(...real);
    for (const part of ROOMS) {
      const room = part * stretch;
      const scale = chooseScale({ width: 0, height: total }, { width: 1, height: room });
      if (scale.of(shortest) >= least) return { drawn: metres.map((length) => scale.of(length)), scale };
    }
  }
  return { drawn: fitLengths(metres, stretch * COMPACT, Math.max(least, 64)) };
}
