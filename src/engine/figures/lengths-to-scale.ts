import type { Measured } from './fit-lengths.ts';
import { fitLengths } from './fit-lengths.ts';
import { chooseScale, type Scale } from './scale.ts';

/** Lengths on paper in their order, and the scale that all of them have; without one they are not to scale. */
export interface LaidLengths {
  readonly drawn: readonly number[];
  readonly scale?: Scale;
}

/**
 * Lays lengths end to end: to the largest scale at which they fit the stretch, where the shortest is still `least` long then; else
 * shared out so that each is legible, and then not to scale. A length that is missing or nothing does not count.
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
    const scale = chooseScale({ width: 0, height: total }, { width: 1, height: stretch });
    if (Math.min(...real) >= 0 && scale.of(Math.min(...real)) >= least)
      return { drawn: metres.map((length) => scale.of(length)), scale };
  }
  return { drawn: fitLengths(metres, stretch * 0.55, Math.max(least, 64)) };
}
