/** Draws that follow from a seed alone, the same on every machine. */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** From 0 up to, but not, 1. The generator is mulberry32, a published one of 32 bits. */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let t = this.#state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  }

  /** A whole number from 0 up to, but not, `end`. */
  below(end: number): number {
    return Math.floor(this.next() * end);
  }

  /** A whole number, both ends among them. */
  between(low: number, high: number): number {
    return low + this.below(high - low + 1);
  }

  chance(share: number): boolean {
    return this.next() < share;
  }

  pick<T>(list: readonly T[]): T {
    if (list.length === 0) throw new Error('nothing to pick from');
    return list[this.below(list.length)]!;
  }

  /** So many of the list, each drawn anew. */
  some<T>(list: readonly T[], low: number, high: number): T[] {
    return Array.from({ length: this.between(low, high) }, () => this.pick(list));
  }
}
