/** A delay within this share of a step of a whole number of steps counts as that number. */
const wholeNumberTolerance = 1e-6;

/** A change below this share of the largest wave so far is no discontinuity worth damping at the other end. */
const smallestJump = 0.02;

/**
 * The waves that one end of a line has sent, sample by sample, for as long as they travel.
 *
 * Between samples they are interpolated. Where the delay is a whole number of steps a jump arrives as a jump; otherwise
 * it arrives spread over one step.
 */
export class WaveHistory {
  private readonly waves: Float64Array;
  /** 1 where the step that ends at the sample begins with a jump. */
  private readonly marks: Uint8Array;
  private readonly mask: number;
  /** Delay in steps: whole steps and the rest. */
  private readonly wholeSteps: number;
  private readonly rest: number;
  private newest = 0;
  private largest = 0;

  /** `delayInSteps` is at least 1; before time zero the wave has been `initialWave`. */
  constructor(delayInSteps: number, initialWave: number) {
    const nearest = Math.round(delayInSteps);
    const isWhole = Math.abs(delayInSteps - nearest) < wholeNumberTolerance;
    this.wholeSteps = isWhole ? nearest : Math.floor(delayInSteps);
    this.rest = isWhole ? 0 : delayInSteps - this.wholeSteps;
    const capacity = 2 ** Math.ceil(Math.log2(this.wholeSteps + 4));
    this.mask = capacity - 1;
    this.waves = new Float64Array(capacity).fill(initialWave);
    this.marks = new Uint8Array(capacity);
    this.largest = Math.abs(initialWave);
  }

  /** The wave that arrives when `share` of the step that ends at `sample` is done. */
  read(sample: number, share: number): number {
    const { waves, mask, rest } = this;
    const late = sample - this.wholeSteps;
    if (share === 1) {
      const wave = waves[late & mask]!;
      return rest === 0 ? wave : wave + rest * (waves[(late - 1) & mask]! - wave);
    }
    if (rest === 0) {
      const after = waves[late & mask]!;
      return this.marks[late & mask] === 1
        ? after
        : after + (1 - share) * (waves[(late - 1) & mask]! - after);
    }
    const position = share - rest;
    const end = position < 0 ? late - 1 : late;
    const part = position < 0 ? position + 1 : position;
    const before = waves[(end - 1) & mask]!;
    return before + part * (waves[end & mask]! - before);
  }

  write(sample: number, wave: number, afterJump: boolean): void {
    const index = sample & this.mask;
    const change = Math.abs(wave - this.waves[(sample - 1) & this.mask]!);
    this.largest = Math.max(this.largest, Math.abs(wave));
    this.waves[index] = wave;
    this.marks[index] = afterJump && this.rest === 0 && change > smallestJump * this.largest ? 1 : 0;
    this.newest = sample;
  }

  /** Whether the wave jumps at the far end within the step that ends at `sample`. */
  jumpArrives(sample: number): boolean {
    return this.marks[(sample - this.wholeSteps) & this.mask] === 1;
  }

  /** Integral of the wave's square over the time of travel, in steps. */
  squareUnderway(): number {
    const { waves, marks, mask, newest, wholeSteps, rest } = this;
    let sum = 0;
    for (let sample = newest - wholeSteps + 1; sample <= newest; sample++) {
      const end = waves[sample & mask]! ** 2;
      const begin = marks[sample & mask] === 1 ? end : waves[(sample - 1) & mask]! ** 2;
      sum += 0.5 * (begin + end);
    }
    if (rest === 0) return sum;
    const inner = waves[(newest - wholeSteps) & mask]!;
    const outer = inner + rest * (waves[(newest - wholeSteps - 1) & mask]! - inner);
    return sum + 0.5 * rest * (inner ** 2 + outer ** 2);
  }
}
