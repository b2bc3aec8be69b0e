import { expect, test } from 'vitest';
import { binomialUpperBound } from '../../../src/engine/physics/binomial-bound.ts';
import { normalQuantile, normalShare } from '../../../src/engine/physics/normal-distribution.ts';
import { strokeAt, strokeOfSample } from '../../../src/engine/physics/stroke-sample.ts';

/** CIGRE TB 63 and Anderson and Eriksson 1980, both from memory. */
const FIRST_STROKES = {
  lowCurrent: { median: 61e3, deviation: 1.33 },
  highCurrent: { median: 33.3e3, deviation: 0.605 },
  turn: 20e3,
  steepness: { median: 24.3e9, deviation: 0.599 },
  correlation: 0.38,
};

// Table of the standard normal distribution, as every handbook of statistics prints it.
test.each([
  [0.9, 1.2816],
  [0.95, 1.6449],
  [0.975, 1.96],
  [0.99, 2.3263],
  [0.999, 3.0902],
  [0.0001, -3.719],
])('share %d lies below %d', (share, z) => {
  expect(normalQuantile(share)).toBeCloseTo(z, 4);
  expect(normalShare(normalQuantile(share))).toBeCloseTo(share, 12);
});

test('no quantile of nothing and of all', () => {
  for (const share of [0, 1, -1, Number.NaN]) expect(() => normalQuantile(share)).toThrow(RangeError);
});

// Exact one-sided bounds: k = 0 by hand, 1 - 0.05^(1/n); k = 1 of 10 is 0.3942 in tables of Clopper and Pearson (from memory).
test.each([
  [0, 10, 1 - 0.05 ** 0.1],
  [1, 10, 0.3942],
  [10, 10, 1],
])('%d of %d has the bound %d', (count, size, bound) => {
  expect(binomialUpperBound(count, size, 0.95)).toBeCloseTo(bound, 4);
});

// CIGRE TB 63 (from memory): median steepness 12.0 I^0.171 up to 20 kA and 6.50 I^0.376 above, deviation 0.554.
test.each([
  [5, 12.0 * 5 ** 0.171],
  [15, 12.0 * 15 ** 0.171],
  [30, 6.5 * 30 ** 0.376],
  [100, 6.5 * 100 ** 0.376],
])('at %d kA the median steepness is that of the published regression, %d kA/us', (current, expected) => {
  const branch = current <= 20 ? FIRST_STROKES.lowCurrent : FIRST_STROKES.highCurrent;
  const first = Math.log((1e3 * current) / branch.median) / branch.deviation;
  const stroke = strokeAt(FIRST_STROKES, first, 0);
  expect(stroke.current / 1e3).toBeCloseTo(current, 9);
  expect(Math.abs(stroke.steepness / 1e9 / expected - 1)).toBeLessThan(0.005);
  const above = strokeAt(FIRST_STROKES, first, 1);
  expect(Math.log(above.steepness / stroke.steepness)).toBeCloseTo(0.554, 3);
});

test.each([1, 7, 123456])('a sample has the distribution and correlation asked for, seed %d', (seed) => {
  const one = { median: 31.1e3, deviation: 0.484 };
  const distribution = { ...FIRST_STROKES, lowCurrent: one, highCurrent: one };
  const size = 2000;
  const strokes = Array.from({ length: size }, (_, i) => strokeOfSample(distribution, { size, seed }, i));
  const currents = strokes.map(({ current }) => Math.log(current / 31.1e3) / 0.484);
  const steepnesses = strokes.map(({ steepness }) => Math.log(steepness / 24.3e9) / 0.599);
  for (const [values, within] of [
    [currents, 0.003],
    [steepnesses, 0.01],
  ] as const) {
    expect(Math.abs(mean(values))).toBeLessThan(within);
    expect(Math.abs(mean(values.map((z) => z ** 2)) - 1)).toBeLessThan(5 * within);
  }
  expect(mean(currents.map((z, i) => z * steepnesses[i]!))).toBeCloseTo(0.38, 2);
  // One current in each stratum.
  const strata = new Set(currents.map((z) => Math.floor(size * normalShare(z))));
  expect(strata.size).toBeGreaterThan(0.999 * size);
});

test('another seed gives other strokes, the same one the same', () => {
  const at = (seed: number) => strokeOfSample(FIRST_STROKES, { size: 100, seed }, 42);
  expect(at(1)).toEqual(at(1));
  expect(at(1)).not.toEqual(at(2));
});

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
