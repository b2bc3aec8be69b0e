import type { Step } from '../element.ts';

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
const ringSize = 4;

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
  /** Of each end the wave that it received last, and the one that it sends next. */
  readonly arriving: Float64Array;
  readonly leaving: Float64Array;
  private readonly waves: Float64Array;
  /** At the place of a wave the sample whose step began with a jump: an older one stays there and means nothing. */
  private readonly jumps: Int32Array;
  private readonly rings: Int32Array;
  /** What the delay is more than whole steps, in steps. */
  private readonly rests: Float64Array;
  private readonly largest: Float64Array;

  constructor(ends: readonly WaveEnd[]) {
    this.arriving = new Float64Array(ends.length);
    this.leaving = new Float64Array(ends.length);
    this.rings = new Int32Array(ringSize * ends.length);
    this.rests = new Float64Array(ends.length);
    this.largest = Float64Array.from(ends, ({ initialWave }) => Math.abs(initialWave));
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
      this.rings[ringSize * index + 1] = begins.get(other)!;
      if (initialWave !== 0) this.fill(index, initialWave);
    }
  }

  /** Puts what reaches the ends by the instant of the step into `arriving`. */
  receive({ sample, share }: Step, first: number, end: number): void {
    if (share === 1) this.receiveAtEnd(sample, first, end);
    else this.receiveWithin(sample, share, first, end);
  }

  /** Sends what stands in `leaving`, at a sample. */
  send(sample: number, first: number, end: number): void {
    const { waves, rings, largest, leaving } = this;
    for (let index = first; index < end; index++) {
      const own = ringSize * index;
      const wave = leaving[index]!;
      waves[rings[own]! + (sample & rings[own + 2]!)] = wave;
      largest[index] = Math.max(largest[index]!, Math.abs(wave));
    }
  }

  /** Of a wave sent in a step that began with a discontinuity: the sample at which it arrives as a jump, where it is one. */
  markJump(index: number, sample: number): number | undefined {
    const { waves, largest } = this;
    const own = ringSize * index;
    const begin = this.rings[own]!;
    const mask = this.rings[own + 2]!;
    const place = begin + (sample & mask);
    const change = Math.abs(waves[place]! - waves[begin + ((sample - 1) & mask)]!);
    if (this.rests[index] !== 0 || !(change > smallestJump * largest[index]!)) return undefined;
    this.jumps[place] = sample;
    return sample + this.rings[own + 3]!;
  }

  /** Whether the wave that an end receives jumps within the step that ends at `sample`. */
  jumpArrives(index: number, sample: number): boolean {
    return this.isJump(this.rings[ringSize * index + 1]!, index, sample - this.rings[ringSize * index + 3]!);
  }

  /** Integral of the square of what an end has sent over the time of travel, in steps; `newest` is the last sample sent. */
  squareUnderway(index: number, newest: number): number {
    const begin = this.rings[ringSize * index]!;
    const wholeSteps = this.rings[ringSize * index + 3]!;
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

  /** What arrives when the step is done. */
  private receiveAtEnd(sample: number, first: number, end: number): void {
    const { waves, rings, rests, arriving } = this;
    for (let index = first; index < end; index++) {
      const own = ringSize * index;
      const begin = rings[own + 1]!;
      const mask = rings[own + 2]!;
      const late = sample - rings[own + 3]!;
      const rest = rests[index]!;
      const wave = waves[begin + (late & mask)]!;
      arriving[index] = rest === 0 ? wave : wave + rest * (waves[begin + ((late - 1) & mask)]! - wave);
    }
  }

  /** The same within a step, of which `share` is done. */
  private receiveWithin(sample: number, share: number, first: number, end: number): void {
    for (let index = first; index < end; index++) {
      const begin = this.rings[ringSize * index + 1]!;
      const late = sample - this.rings[ringSize * index + 3]!;
      const rest = this.rests[index]!;
      this.arriving[index] =
        rest === 0
          ? this.wholeWithin(begin, index, late, share)
          : this.straightWithin(begin, index, share - rest < 0 ? late - 1 : late, share - rest);
    }
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
    return this.jumps[begin + (sample & this.rings[ringSize * index + 2]!)] === sample;
  }

  private waveAt(begin: number, index: number, sample: number): number {
    return this.waves[begin + (sample & this.rings[ringSize * index + 2]!)]!;
  }

  private fill(index: number, wave: number): void {
    const begin = this.rings[ringSize * index]!;
    this.waves.fill(wave, begin, begin + this.rings[ringSize * index + 2]! + 1);
  }
}
