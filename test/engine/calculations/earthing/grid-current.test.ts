import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const fault: CaseGiven = { fault_current: '7.5 kA', x_over_r: '18', duration: '0.25 s' };
const run = (given: CaseGiven) => runCase('grid-current', { ...fault, ...given });

/** Division of an alternating current between a grid and a chain of spans and footings, span by span from the far end. */
function shareByChain(grid: number, span: readonly [number, number], footing: number, spans: number): number {
  // The far end is a footing; admittances as [real, imaginary].
  let seen: [number, number] = [footing, 0];
  for (let at = 0; at < spans; at++) {
    const along: [number, number] = [seen[0] + span[0], seen[1] + span[1]];
    seen = at === spans - 1 ? along : parallel(along, [footing, 0]);
  }
  const [r, x] = seen;
  const [g, b] = [r / (r * r + x * x), x / (r * r + x * x)];
  return 1 / Math.hypot(1 + grid * g, grid * b);
}

function parallel([a, b]: [number, number], [c, d]: [number, number]): [number, number] {
  const [nr, ni] = [a * c - b * d, a * d + b * c];
  const [sr, si] = [a + c, b + d];
  const size = sr * sr + si * si;
  return [(nr * sr + ni * si) / size, (ni * sr - nr * si) / size];
}

describe('grid-current', () => {
  // Independent: the chain worked span by span, as circuit theory has it.
  test.each([
    [0.8, [0.05, 0.11], 20, 120],
    [2.5, [0.3, 0.35], 10, 40],
    [0.3, [0.02, 0.06], 65, 300],
  ] as const)('grid of %d Ω beside an earth wire, span by span', (grid, span, footing, spans) => {
    const found = run({
      grid_resistance: `${grid} ohm`,
      earth_wires: [
        {
          span_resistance: `${span[0]} ohm`,
          span_reactance: `${span[1]} ohm`,
          footing_resistance: `${footing} ohm`,
          spans,
        },
      ],
    });
    expect(found.cautions).not.toContain('validity-long-chain');
    const byChain = shareByChain(grid, span, footing, spans);
    expect(found.number('division_factor') / byChain).toBeCloseTo(1, 3);
  });

  // The mean square of a fully offset current over the fault, by quadrature.
  test.each([
    [50, 18, 0.25],
    [60, 33, 0.1],
    [50, 6, 0.04],
  ])('decrement factor at %d Hz, X/R %d, over %d s, by quadrature', (frequency, ratio, duration) => {
    const constant = ratio / (2 * Math.PI * frequency);
    const steps = 20_000;
    let sum = 0;
    for (let at = 0; at < steps; at++) {
      const t = ((at + 0.5) * duration) / steps;
      // A symmetrical effective value of 1 with a direct component of √2: their mean squares add.
      sum += 1 + 2 * Math.exp((-2 * t) / constant);
    }
    const found = run({
      division_factor: '1',
      frequency: `${frequency} Hz`,
      x_over_r: `${ratio}`,
      duration: `${duration} s`,
    });
    expect(found.number('decrement_factor')).toBeCloseTo(Math.sqrt(sum / steps), 6);
  });

  test('more metal that leads out leaves less to the soil, and none leaves all', () => {
    const share = (count: number) =>
      run({
        grid_resistance: '1.1 ohm',
        ...(count > 0 ? { paths: [{ count, resistance: '3 ohm', reactance: '1 ohm' }] } : {}),
      }).number('division_factor');
    expect(share(0)).toBeCloseTo(1, 12);
    // 1 / |1 + 1.1 (3 - j)/10| = 1 / |1.33 - 0.11 j|
    expect(share(1)).toBeCloseTo(1 / Math.hypot(1.33, 0.11), 12);
    expect(share(4)).toBeLessThan(share(2));
  });

  test('local return, growth and offset enter the current; the rise is that of the grid', () => {
    const found = run({ grid_resistance: '0.5 ohm', local_current: '2.5 kA', growth: '1.2' });
    const offset = found.number('decrement_factor');
    expect(found.number('grid_current')).toBeCloseTo(5000 * 1.2 * offset, 6);
    expect(found.number('potential_rise')).toBeCloseTo(2500 * 1.2 * offset, 6);
    expect(found.cautions).toContain('no-paths');
    expect(run({ division_factor: '0.4' }).result('potential_rise')).toBeUndefined();
  });

  test('a grid designed for less does not comply', () => {
    expect(run({ division_factor: '0.4', design_current: '3 kA' }).verdict('design_current')).toBe(
      'does-not-comply',
    );
    expect(run({ division_factor: '0.4', design_current: '3.4 kA' }).verdict('design_current')).toBe(
      'complies',
    );
  });
});
