/** A delay within this share of a step of a whole number of steps counts as that number. */
const wholeNumberTolerance = 1e-6;

/** A change below this share of the largest wave so far is no discontinuity worth damping at the other end. */
const smallestJump = 0.02;

/** An end of a line, of which waves leave for the other one. */
export interface WaveEnd {
  /** At least 1; the same both ways. */
  readonly delayInSteps: number;
  /** What both have sent before time zero. */
  readonly initialWave: number;
  /** Where the waves go, and whence they come. */
  readonly other: WaveEnd;
}

/** Of each end: where its ring begins, where that of the other end begins, the mask of both, and the whole steps of the delay. */
export const ringSize = 4;
export const [atRing, atOtherRing, atMask, atWholeSteps] = [0, 1, 2, 3] as const;

/** The number of no sample. */
const never = 2 ** 31 - 1;

/**
 * The waves that ends of lines have sent, sample by sample, for as long as they travel: those of one end in a ring, ring after ring in one
 * array, so that a step of a long line walks through the memory in its order.
 *
 * Between samples they are interpolated. Where the delay is a whole number of steps a jump arrives as a jump; otherwise
 * it arrives spread over one step.
 */
export class WaveHistories {
  /** The waves of all rings; sample `n` of an end lies at the begin of its ring plus `n & mask`. */
  readonly waves: Float64Array;
  readonly rings: Int32Array;
  /** What the delay is more than whole steps, in steps. */
  readonly rests: Float64Array;
  /** At the place of a wave the sample whose step began with a jump: an older one stays there and means nothing. */
  private readonly jumps: Int32Array;

  constructor(ends: readonly WaveEnd[]) {
    this.rings = new Int32Array(ringSize * ends.length);
    this.rests = new Float64Array(ends.length);
    const begins = new Map<WaveEnd, number>();
    let length = 0;
    for (const [index, end] of ends.entries()) {
      const nearest = Math.round(end.delayInSteps);
      const isWhole = Math.abs(end.delayInSteps - nearest) < wholeNumberTolerance;
      const wholeSteps = isWhole ? nearest : Math.floor(end.delayInSteps);
      const capacity = 2 ** Math.ceil(Math.log2(wholeSteps + 4));
      this.rests[index] = isWhole ? 0 : end.delayInSteps - wholeSteps;
      this.rings.set([length, length, capacity - 1, wholeSteps], ringSize * index);
      begins.set(end, length);
      length += capacity;
    }
    this.waves = new Float64Array(length);
    this.jumps = new Int32Array(length).fill(never);
    for (const [index, { initialWave, other }] of ends.entries()) {
      this.rings[ringSize * index + atOtherRing] = begins.get(other)!;
      if (initialWave !== 0) this.fill(index, initialWave);
    }
  }

  /** What reaches an end in the step that ends at `sample`, of which `share` is done. */
  arriving(index: number, sample: number, share: number): number {
    const begin = this.rings[ringSize * index + atOtherRing]!;
    const late = sample - this.rings[ringSize * index + atWholeSteps]!;
    const rest = this.rests[index]!;
    return rest === 0
      ? this.wholeWithin(begin, index, late, share)
      : this.straightWithin(begin, index, share - rest < 0 ? late - 1 : late, share - rest);
  }

  /**
   * Of a wave sent in a step that began with a discontinuity: the sample at which it arrives as a jump, where it is one beside the largest
   * that the end has sent.
   */
  markJump(index: number, sample: number, largest: number): number | undefined {
    const { waves } = this;
    const own = ringSize * index;
    const begin = this.rings[own + atRing]!;
    const mask = this.rings[own + atMask]!;
    const place = begin + (sample & mask);
    const change = Math.abs(waves[place]! - waves[begin + ((sample - 1) & mask)]!);
    if (this.rests[index] !== 0 || !(change > smallestJump * largest)) return undefined;
    this.jumps[place] = sample;
    return sample + this.rings[own + atWholeSteps]!;
  }

  /** Whether the wave that an end receives jumps within the step that ends at `sample`. */
  jumpArrives(index: number, sample: number): boolean {
    return this.isJump(
      this.rings[ringSize * index + atOtherRing]!,
      index,
      sample - this.rings[ringSize * index + atWholeSteps]!,
    );
  }

  /** Integral of the square of what an end has sent over the time of travel, in steps; `newest` is the last sample sent. */
  squareUnderway(index: number, newest: number): number {
    const begin = this.rings[ringSize * index + atRing]!;
    const wholeSteps = this.rings[ringSize * index + atWholeSteps]!;
    const rest = this.rests[index]!;
    let sum = 0;
    for (let sample = newest - wholeSteps + 1; sample <= newest; sample++) {
      const after = this.waveAt(begin, index, sample) ** 2;
      const before = this.isJump(begin, index, sample) ? after : this.waveAt(begin, index, sample - 1) ** 2;
      sum += 0.5 * (before + after);
    }
    if (rest === 0) return sum;
    const inner = this.waveAt(begin, index, newest - wholeSteps);
    const outer = inner + rest * (this.waveAt(begin, index, newest - wholeSteps - 1) - inner);
    return sum + 0.5 * rest * (inner ** 2 + outer ** 2);
  }

  private wholeWithin(begin: number, index: number, late: number, share: number): number {
    const after = this.waveAt(begin, index, late);
    if (this.isJump(begin, index, late)) return after;
    return after + (1 - share) * (this.waveAt(begin, index, late - 1) - after);
  }

  private straightWithin(begin: number, index: number, end: number, position: number): number {
    const part = position < 0 ? position + 1 : position;
    const before = this.waveAt(begin, index, end - 1);
    return before + part * (this.waveAt(begin, index, end) - before);
  }

  private isJump(begin: number, index: number, sample: number): boolean {
    return this.jumps[begin + (sample & this.rings[ringSize * index + atMask]!)] === sample;
  }

  private waveAt(begin: number, index: number, sample: number): number {
    return this.waves[begin + (sample & this.rings[ringSize * index + atMask]!)]!;
  }

  private fill(index: number, wave: number): void {
    const begin = this.rings[ringSize * index + atRing]!;
    this.waves.fill(wave, begin, begin + this.rings[ringSize * index + atMask]! + 1);
  }
}
