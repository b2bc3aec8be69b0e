import { describe, expect, it } from 'vitest';
import {
  atMask,
  atRing,
  ringSize,
  type WaveEnd,
  WaveHistories,
} from '../../../../src/engine/transient/elements/wave-histories.ts';

interface Ends extends WaveEnd {
  other: Ends;
}

/** A line whose near end is the second of all ends, and whose far end the last; a longer one lies between. */
function endsOf(delayInSteps: number, initialWave: number): WaveEnd[] {
  const line = (steps: number, wave: number): Ends[] => {
    const near = { delayInSteps: steps, initialWave: wave } as Ends;
    const far = { ...near, other: near };
    near.other = far;
    return [near, far];
  };
  const [near, far] = line(delayInSteps, initialWave);
  const [before, between] = line(7.5, 1);
  return [before!, near!, between!, far!];
}

const [near, far] = [1, 3];

function send({ waves, rings }: WaveHistories, end: number, sample: number, wave: number): void {
  const own = ringSize * end;
  waves[rings[own + atRing]! + (sample & rings[own + atMask]!)] = wave;
}

/** Samples 0, 1, 2 ... of a wave from the near end that is `of` the number of the sample; with the arrivals of jumps. */
function written(
  delayInSteps: number,
  of: (sample: number) => number,
  jumpAt?: number,
  samples = 20,
): { histories: WaveHistories; arrivals: (number | undefined)[] } {
  const histories = new WaveHistories(endsOf(delayInSteps, 0));
  const arrivals: (number | undefined)[] = [];
  let largest = 0;
  for (let sample = 1; sample <= samples; sample++) {
    for (const [end, wave] of [1, of(sample), 1, -1].entries()) send(histories, end, sample, wave);
    largest = Math.max(largest, Math.abs(of(sample)));
    if (sample === jumpAt) arrivals.push(histories.markJump(near, sample, largest));
  }
  return { histories, arrivals };
}

/** What has arrived at the far end. */
function read(histories: WaveHistories, sample: number, share: number): number {
  return histories.arriving(far, sample, share);
}

describe('waves under way', () => {
  it.each([3, 3.25, 3.5, 3.9])(
    'reads a straight wave exactly after %s steps, half steps included',
    (delay) => {
      const { histories } = written(delay, (sample) => sample);
      for (const sample of [18, 20, 21]) {
        expect(read(histories, sample, 1)).toBeCloseTo(sample - delay, 12);
        expect(read(histories, sample, 0.5)).toBeCloseTo(sample - 0.5 - delay, 12);
      }
    },
  );

  it('keeps a jump sharp where the delay is whole, and says when it arrives', () => {
    const { histories, arrivals } = written(4, (sample) => (sample >= 15 ? 100 : 0), 15);
    expect(arrivals).toEqual([19]);
    expect([18, 19, 20].map((sample) => histories.jumpArrives(far, sample))).toEqual([false, true, false]);
    expect(histories.jumpArrives(near, 19)).toBe(false);
    expect(read(histories, 18, 1)).toBe(0);
    expect(read(histories, 19, 0.5)).toBe(100);
  });

  it('takes a change that is small against the waves so far for none', () => {
    const { histories, arrivals } = written(4, (sample) => (sample >= 15 ? 101 : 100), 15);
    expect(arrivals).toEqual([undefined]);
    expect(read(histories, 19, 0.5)).toBeCloseTo(100.5, 12);
  });

  it('forgets a jump when its place is written again', () => {
    // The ring of four steps has eight places: sample 13 lies where sample 5 lay.
    const { histories } = written(4, (sample) => 100 * sample, 5, 17);
    expect(histories.jumpArrives(far, 9)).toBe(true);
    expect(histories.jumpArrives(far, 17)).toBe(false);
    expect(read(histories, 17, 0.5)).toBeCloseTo(1250, 12);
  });

  it('spreads a jump over one step where the delay is not whole', () => {
    const { histories, arrivals } = written(4.5, (sample) => (sample >= 15 ? 100 : 0), 15);
    expect(arrivals).toEqual([undefined]);
    expect(histories.jumpArrives(far, 19)).toBe(false);
    expect([18, 19, 20].map((sample) => read(histories, sample, 1))).toEqual([0, 50, 100]);
  });

  it('holds the square of what is under way', () => {
    expect(written(4, () => 3).histories.squareUnderway(near, 20)).toBeCloseTo(9 * 4, 12);
    expect(written(4.5, () => 3).histories.squareUnderway(near, 20)).toBeCloseTo(9 * 4.5, 12);
  });

  it('begins with the wave of a charged line', () => {
    const histories = new WaveHistories(endsOf(2.5, 7));
    expect(read(histories, 1, 0.5)).toBe(7);
    expect(histories.squareUnderway(near, 0)).toBeCloseTo(49 * 2.5, 12);
  });
});
