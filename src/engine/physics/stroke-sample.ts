import { normalQuantile } from './normal-distribution.ts';

/** Log-normal: median in SI and standard deviation of the natural logarithm. */
export interface LogNormal {
  readonly median: number;
  readonly deviation: number;
}

/** Peak current and steepness of strokes, with the correlation of their logarithms. */
export interface StrokeDistribution {
  /** Amperes; below `turn` the first branch, above it the second; both the same for one branch. */
  readonly lowCurrent: LogNormal;
  readonly highCurrent: LogNormal;
  /** Amperes. */
  readonly turn: number;
  /** Amperes per second. */
  readonly steepness: LogNormal;
  readonly correlation: number;
}

export interface Stroke {
  /** Amperes. */
  readonly current: number;
  /** Amperes per second. */
  readonly steepness: number;
}

/** 2^32 over the golden ratio, odd: multiples of it spread over the 32-bit numbers as evenly as can be. */
const GOLDEN_STEP = 2654435769;
const WORDS = 2 ** 32;

/**
 * Stroke `index` of a sample of `size`: currents from as many strata of equal share, one each, and steepnesses by
 * multiples of the golden ratio; the seed shifts both. Equal arguments, equal strokes, whichever others are asked for.
 */
export function strokeOfSample(
  distribution: StrokeDistribution,
  sample: { readonly size: number; readonly seed: number },
  index: number,
): Stroke {
  const { size, seed } = sample;
  const first = (index + (mix(2 * seed + 1) + 0.5) / WORDS) / size;
  const second = (((mix(2 * seed + 2) + Math.imul(index, GOLDEN_STEP)) >>> 0) + 0.5) / WORDS;
  return strokeAt(distribution, normalQuantile(first), normalQuantile(second));
}

/** The stroke at two independent standard normal quantities: of the current, and of what the steepness has beside it. */
export function strokeAt(
  { lowCurrent, highCurrent, turn, steepness, correlation }: StrokeDistribution,
  first: number,
  second: number,
): Stroke {
  const low = at(lowCurrent, first);
  const own = Math.sqrt(1 - correlation ** 2) * second;
  return {
    current: low <= turn ? low : at(highCurrent, first),
    steepness: at(steepness, correlation * first + own),
  };
}

function at({ median, deviation }: LogNormal, normal: number): number {
  return median * Math.exp(deviation * normal);
}

/** A number below 2^32 from a whole one, every bit of which depends on every bit. */
function mix(value: number): number {
  let word = value >>> 0;
  word = Math.imul(word ^ (word >>> 16), 0x7feb352d);
  word = Math.imul(word ^ (word >>> 15), 0x846ca68b);
  return (word ^ (word >>> 16)) >>> 0;
}
