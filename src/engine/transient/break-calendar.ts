/**
 * The grid steps that begin with a discontinuity for some block, by the samples at which they end. What jumps knows that in advance: a
 * source from the start, a line when a jump leaves for its far end. So no step has to ask every element.
 */
export class BreakCalendar {
  private readonly marks: Uint8Array;

  constructor(samples: number) {
    this.marks = new Uint8Array(samples + 1);
  }

  announce(sample: number): void {
    if (sample >= 0 && sample < this.marks.length) this.marks[sample] = 1;
  }

  has(sample: number): boolean {
    return this.marks[sample] === 1;
  }
}
