import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fitTwoLayers } from '../../../src/engine/physics/fit-two-layers.ts';
import { apparentRatio, discRatio } from '../../../src/engine/physics/two-layer-soil.ts';

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Bessel's J0 by its integral over a period, which the trapezoidal rule gives to the last digits. */
function besselJ0(x: number): number {
  const steps = 200 + Math.ceil(2 * x);
  let sum = 0;
  for (let at = 0; at < steps; at++) sum += Math.cos(x * Math.sin((Math.PI * (at + 0.5)) / steps));
  return sum / steps;
}

/** Potential of a point source on two layers by Sunde's integral, over that constant that uniform soil has as well. */
function potential(reflection: number, thickness: number, distance: number): number {
  const [end, steps] = [20 / thickness, 1500];
  let sum = 0;
  for (let at = 0; at < steps; at++) {
    const lambda = ((at + 0.5) * end) / steps;
    const kernel = reflection * Math.exp(-2 * lambda * thickness);
    sum += (kernel / (1 - kernel)) * besselJ0(lambda * distance);
  }
  return 1 / distance + (2 * sum * end) / steps;
}

describe('apparentRatio', () => {
  // Independent: Sunde's integral in place of the images.
  test.each([
    [-0.7, 1.4, 0.8, 1.6],
    [0.55, 2.7, 5, 10],
    [0.9, 0.9, 3, 4],
    [-0.95, 3.5, 6, 7.5],
  ])('reflection %d, %d m thick, electrodes at %d m and %d m', (reflection, thickness, near, far) => {
    const direct = 1 / near - 1 / far;
    const byIntegral =
      (potential(reflection, thickness, near) - potential(reflection, thickness, far)) / direct;
    expect(apparentRatio({ reflection, thickness }, { near, far }).ratio / byIntegral).toBeCloseTo(1, 4);
  });

  test('close electrodes see the upper layer, distant ones the lower', () => {
    const ratio = (reflection: number, near: number) =>
      apparentRatio({ reflection, thickness: 2 }, { near, far: 2 * near }).ratio;
    for (const reflection of [-0.8, -0.3, 0.3, 0.8]) {
      expect(ratio(reflection, 0.05)).toBeCloseTo(1, 4);
      expect(ratio(reflection, 2000) / ((1 + reflection) / (1 - reflection))).toBeCloseTo(1, 2);
    }
  });

  test('slopes are those of differences', () => {
    fc.assert(
      fc.property(between(-0.95, 0.95), between(0.3, 20), between(0.5, 40), (reflection, thickness, near) => {
        const at = (k: number, h: number) =>
          apparentRatio({ reflection: k, thickness: h }, { near, far: 2 * near }, 1e-14);
        const [here, step] = [at(reflection, thickness), 1e-5];
        const byReflection =
          (at(reflection + step, thickness).ratio - at(reflection - step, thickness).ratio) / (2 * step);
        const byThickness =
          (at(reflection, thickness * (1 + step)).ratio - at(reflection, thickness * (1 - step)).ratio) /
          (2 * step * thickness);
        expect(here.byReflection).toBeCloseTo(byReflection, 4);
        expect(here.byThickness).toBeCloseTo(byThickness, 4);
      }),
      { numRuns: 30 },
    );
  });
});

describe('discRatio', () => {
  test('a small disc lies in the upper layer, a large one in the lower', () => {
    for (const reflection of [-0.9, -0.4, 0.4, 0.9]) {
      expect(discRatio({ reflection, thickness: 10 }, 0.01)).toBeCloseTo(1, 2);
      const lower = (1 + reflection) / (1 - reflection);
      expect(discRatio({ reflection, thickness: 0.001 }, 100) / lower).toBeCloseTo(1, 2);
    }
  });

  /**
   * Independent: rings of one potential. The disc is cut into rings whose currents are solved for, with the images of every ring;
   * elliptic integrals by the arithmetic-geometric mean.
   */
  test.each([
    [-0.8, 0.3],
    [-0.5, 1],
    [0.5, 0.5],
    [0.8, 1.5],
  ])('reflection %d, %d radii thick, against rings of one potential', (reflection, thickness) => {
    const byRings = discByRings(reflection, thickness) / discByRings(0, 1);
    // With its current spread as in uniform soil the disc has at least the resistance that it really has.
    const over = discRatio({ reflection, thickness }, 1) / byRings;
    expect(over).toBeGreaterThan(0.998);
    expect(over).toBeLessThan(1.035);
  });
});

/** Resistance of a disc of radius 1 in units of ρ/(2 π), by rings. */
function discByRings(reflection: number, thickness: number): number {
  const count = 24;
  // Rings crowd at the edge, where the current does.
  const edge = (at: number) => Math.sin((Math.PI / 2) * (at / count));
  const radii = Array.from({ length: count }, (_, i) => (edge(i) + edge(i + 1)) / 2);
  const widths = Array.from({ length: count }, (_, i) => edge(i + 1) - edge(i));
  const matrix = radii.map((seen, i) =>
    radii.map((source, j) => {
      // A ring's own potential is that at 0.2235 of its width from it: the mean distance within a strip with even current.
      const own = i === j ? widths[i]! * 0.2235 : 0;
      let sum = ringPotential(seen, source, own);
      for (let image = 1; image <= 60; image++)
        sum += 2 * reflection ** image * ringPotential(seen, source, 2 * image * thickness);
      return sum;
    }),
  );
  const currents = solve(
    matrix,
    radii.map(() => 1),
  );
  return 1 / currents.reduce((sum, current) => sum + current, 0);
}

/** Mean of 1/distance from a ring of radius `source` to a point at radius `seen`, `height` away from its plane. */
function ringPotential(seen: number, source: number, height: number): number {
  const far = Math.hypot(seen + source, height);
  const near = Math.hypot(seen - source, height);
  let [a, b] = [far, near];
  for (let turn = 0; turn < 40; turn++) [a, b] = [(a + b) / 2, Math.sqrt(a * b)];
  return 1 / a;
}

function solve(matrix: number[][], right: number[]): number[] {
  const rows = matrix.map((row, i) => [...row, right[i]!]);
  for (let i = 0; i < rows.length; i++) {
    for (let j = i + 1; j < rows.length; j++) {
      const factor = rows[j]![i]! / rows[i]![i]!;
      for (let k = i; k < rows[j]!.length; k++) rows[j]![k]! -= factor * rows[i]![k]!;
    }
  }
  const found: number[] = [];
  for (let i = rows.length - 1; i >= 0; i--) {
    let rest = rows[i]!.at(-1)!;
    for (let j = i + 1; j < rows.length; j++) rest -= rows[i]![j]! * found[j]!;
    found[i] = rest / rows[i]![i]!;
  }
  return found;
}

describe('fitTwoLayers', () => {
  test('gives back the layers that made the readings', () => {
    fc.assert(
      fc.property(between(20, 2000), between(-1.2, 1.2), between(0.8, 8), (upper, contrast, thickness) => {
        if (Math.abs(contrast) < 0.15) return;
        const reflection = Math.tanh(contrast);
        const readings = [0.5, 1, 2, 4, 8, 16, 32].map((near) => {
          const electrodes = { near, far: 2 * near };
          const { ratio } = apparentRatio({ reflection, thickness }, electrodes);
          return { ...electrodes, apparent: upper * ratio };
        });
        const found = fitTwoLayers(readings);
        expect(found.upper / upper).toBeCloseTo(1, 5);
        expect(found.lower / (upper * Math.exp(2 * contrast))).toBeCloseTo(1, 5);
        expect(found.thickness / thickness).toBeCloseTo(1, 4);
        expect(found.residual).toBeLessThan(1e-6);
      }),
      { numRuns: 15 },
    );
  });

  test('no neighbour fits readings with scatter better', () => {
    const readings = [
      [1, 148],
      [2, 131],
      [3, 118],
      [5, 84],
      [8, 71],
      [12, 52],
      [20, 49],
    ].map(([near, apparent]) => ({ near: near!, far: 2 * near!, apparent: apparent! }));
    const found = fitTwoLayers(readings);
    const residual = (upper: number, lower: number, thickness: number) => {
      const reflection = (lower - upper) / (lower + upper);
      const squares = readings.map(
        (each) => ((upper * apparentRatio({ reflection, thickness }, each).ratio) / each.apparent - 1) ** 2,
      );
      return Math.sqrt(squares.reduce((sum, each) => sum + each, 0) / squares.length);
    };
    expect(residual(found.upper, found.lower, found.thickness)).toBeCloseTo(found.residual, 9);
    for (const nudge of [0.99, 1.01]) {
      expect(residual(found.upper * nudge, found.lower, found.thickness)).toBeGreaterThan(found.residual);
      expect(residual(found.upper, found.lower * nudge, found.thickness)).toBeGreaterThan(found.residual);
      expect(residual(found.upper, found.lower, found.thickness * nudge)).toBeGreaterThan(found.residual);
    }
  });
});
