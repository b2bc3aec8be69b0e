import { describe, expect, it } from 'vitest';
import { WaveHistory } from '../../../../src/engine/transient/elements/wave-history.ts';

/** Samples 0, 1, 2 ... of a wave that is `of` the number of the sample. */
function written(delayInSteps: number, of: (sample: number) => number, jumpAt?: number): WaveHistory {
  const history = new WaveHistory(delayInSteps, 0);
  for (let sample = 1; sample <= 20; sample++) history.write(sample, of(sample), sample === jumpAt);
  return history;
}

describe('waves under way', () => {
  it.each([3, 3.25, 3.5, 3.9])(
    'reads a straight wave exactly after %s steps, half steps included',
    (delay) => {
      const history = written(delay, (sample) => sample);
      for (const sample of [18, 20, 21]) {
        expect(history.read(sample, 1)).toBeCloseTo(sample - delay, 12);
        expect(history.read(sample, 0.5)).toBeCloseTo(sample - 0.5 - delay, 12);
      }
    },
  );

  it('keeps a jump sharp where the delay is whole, and says when it arrives', () => {
    const history = written(4, (sample) => (sample >= 15 ? 100 : 0), 15);
    expect([18, 19, 20].map((sample) => history.jumpArrives(sample))).toEqual([false, true, false]);
    expect(history.read(18, 1)).toBe(0);
    expect(history.read(19, 0.5)).toBe(100);
  });

  it('spreads a jump over one step where the delay is not whole', () => {
    const history = written(4.5, (sample) => (sample >= 15 ? 100 : 0), 15);
    expect(history.jumpArrives(19)).toBe(false);
    expect([18, 19, 20].map((sample) => history.read(sample, 1))).toEqual([0, 50, 100]);
  });

  it('holds the square of what is under way', () => {
    expect(written(4, () => 3).squareUnderway()).toBeCloseTo(9 * 4, 12);
    expect(written(4.5, () => 3).squareUnderway()).toBeCloseTo(9 * 4.5, 12);
  });

  it('begins with the wave of a charged line', () => {
    expect(new WaveHistory(2.5, 7).read(1, 0.5)).toBe(7);
    expect(new WaveHistory(2.5, 7).squareUnderway()).toBeCloseTo(49 * 2.5, 12);
  });
});
