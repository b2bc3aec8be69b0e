import { NotDrawable } from './not-drawable.ts';

/** A length of the real thing, with the text that stands beside it. */
export interface Measured {
  /** In metres, not negative. */
  readonly length: number;
  /** As printed: '7.5 m' or '*a* = 0.15 m'. */
  readonly shown: string;
}

/**
 * Shares a stretch of paper out among lengths: in proportion, except that none becomes shorter than `least`, so that its
 * label finds room. Where the stretch does not even hold that much, all become equal.
 *
 * @throws {NotDrawable} where a length is negative or not finite
 */
export function fitLengths(lengths: readonly number[], stretch: number, least: number): readonly number[] {
  for (const length of lengths)
    if (!(length >= 0 && length < Number.POSITIVE_INFINITY))
      throw new NotDrawable(`a sketch cannot show a length of ${length}`);
  if (lengths.length * least >= stretch) return lengths.map(() => stretch / lengths.length);
  const largest = Math.max(...lengths);
  // Divided first, since the sum of huge lengths may be beyond all numbers.
  const parts = lengths.map((length) => (largest === 0 ? 1 : length / largest));
  const raised = new Set<number>();
  for (;;) {
    const free = parts.map((_, index) => index).filter((index) => !raised.has(index));
    const room = stretch - raised.size * least;
    const sum = free.reduce((total, index) => total + parts[index]!, 0);
    const short = free.filter((index) => (parts[index]! / sum) * room < least);
    if (short.length === 0)
      return parts.map((part, index) => (raised.has(index) ? least : (part / sum) * room));
    for (const index of short) raised.add(index);
  }
}
