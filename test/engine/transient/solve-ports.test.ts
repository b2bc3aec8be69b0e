import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CurrentLaw } from '../../../src/engine/transient/element.ts';
import {
  characteristicLaw,
  referenceConductance,
} from '../../../src/engine/transient/elements/arrester-characteristic.ts';
import { PortSolver } from '../../../src/engine/transient/solve-ports.ts';

/** 10 kA at the voltage, with the exponent. */
const characteristic = (voltage: number, exponent: number) => ({
  coefficient: 1e4 / voltage ** exponent,
  exponent,
});

/** Arresters, each behind its own resistance, all behind a common one, a source at its head. */
function solveStar(values: {
  levels: number[];
  exponent: number;
  own: number;
  common: number;
  source: number;
}) {
  const { levels, exponent, own, common, source } = values;
  const characteristics = levels.map((level) => characteristic(level, exponent));
  const conductances = Float64Array.from(characteristics, referenceConductance);
  // Seen from the ports with every reference conductance in place: Z = (Y + G)^-1, v0 = Z Y u.
  const count = levels.length;
  const bare = levels.map((_, row) => levels.map((_, column) => common + (row === column ? own : 0)));
  const admittance = inverse(bare);
  const loaded = admittance.map((line, row) =>
    line.map((value, column) => value + (row === column ? conductances[row]! : 0)),
  );
  const impedance = inverse(loaded);
  const drive = admittance.map((line) => line.reduce((sum, value) => sum + value * source, 0));
  const open = Float64Array.from(impedance, (line) =>
    line.reduce((sum, value, column) => sum + value * drive[column]!, 0),
  );
  const laws = characteristics.map(characteristicLaw);
  const solver = new PortSolver(laws, conductances, Float64Array.from(impedance.flat()));
  solver.openVoltages.set(open);
  const found = solver.solve();
  const currents = levels.map((_, port) => {
    laws[port]!.evaluate(solver.voltages[port]!);
    return laws[port]!.current;
  });
  const total = currents.reduce((sum, current) => sum + current, 0);
  const residuals = Array.from({ length: count }, (_, port) =>
    Math.abs(source - common * total - own * currents[port]! - solver.voltages[port]!),
  );
  return { found, residuals, voltages: solver.voltages };
}

function inverse(matrix: readonly (readonly number[])[]): number[][] {
  const size = matrix.length;
  const work = matrix.map((line, row) => [...line, ...line.map((_, column) => (row === column ? 1 : 0))]);
  for (let column = 0; column < size; column++) {
    const pivot = work[column]![column]!;
    work[column] = work[column]!.map((value) => value / pivot);
    for (let row = 0; row < size; row++) {
      const factor = work[row]![column]!;
      if (row !== column)
        work[row] = work[row]!.map((value, entry) => value - factor * work[column]![entry]!);
    }
  }
  return work.map((line) => line.slice(size));
}

describe('non-linear ports of a network', () => {
  it('finds the one solution from rest, whatever the source and the levels', () => {
    fc.assert(
      fc.property(
        fc.record({
          levels: fc.array(fc.double({ min: 5e3, max: 500e3, noNaN: true }), { minLength: 1, maxLength: 4 }),
          exponent: fc.double({ min: 2, max: 50, noNaN: true }),
          own: fc.double({ min: 0.1, max: 500, noNaN: true }),
          common: fc.double({ min: 0.1, max: 500, noNaN: true }),
          source: fc.double({ min: -5e6, max: 5e6, noNaN: true }),
        }),
        (values) => {
          const { found, residuals, voltages } = solveStar(values);
          expect(found).toBe(true);
          const measure = Math.abs(values.source) + Math.max(...voltages.map(Math.abs)) + 1;
          for (const residual of residuals) expect(residual / measure).toBeLessThan(1e-6);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('says so where there is no number to be found', () => {
    const broken: CurrentLaw = {
      current: 0,
      slope: 0,
      referenceVoltage: 1,
      evaluate() {
        this.current = Number.NaN;
        this.slope = Number.NaN;
      },
    };
    const one = new PortSolver([broken], Float64Array.of(1), Float64Array.of(0.5));
    one.openVoltages[0] = 10;
    expect(one.solve()).toBe(false);
    const two = new PortSolver([broken, broken], Float64Array.of(1, 1), Float64Array.of(0.5, 0, 0, 0.5));
    two.openVoltages.fill(10);
    expect(two.solve()).toBe(false);
  });
});
