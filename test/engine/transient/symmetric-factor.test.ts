import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LinearRows } from '../../../src/engine/transient/linear-rows.ts';
import { type SymmetricEntry, SymmetricFactor } from '../../../src/engine/transient/symmetric-factor.ts';

/** Conductances between nodes and to earth, as a network has them. */
const networks = fc.integer({ min: 1, max: 25 }).chain((size) =>
  fc.record({
    size: fc.constant(size),
    branches: fc.array(
      fc.tuple(
        fc.nat({ max: size - 1 }),
        fc.nat({ max: size - 1 }),
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
      ),
      { maxLength: 60 },
    ),
    sources: fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: size, maxLength: size }),
  }),
);

function entriesOf(size: number, branches: readonly (readonly [number, number, number])[]): SymmetricEntry[] {
  const earthed: SymmetricEntry[] = Array.from({ length: size }, (_, node) => [node, node, 0.1]);
  const between = branches
    .filter(([from, to]) => from !== to)
    .flatMap(([from, to, value]): SymmetricEntry[] => [
      [from, from, value],
      [to, to, value],
      [from, to, -value],
    ]);
  return [...earthed, ...between];
}

describe('factored symmetric matrix', () => {
  it('gives voltages that meet every current balance', () => {
    fc.assert(
      fc.property(networks, ({ size, branches, sources }) => {
        const entries = entriesOf(size, branches);
        const solution = Float64Array.from(sources);
        SymmetricFactor.of(size, entries).solve(solution);
        const product = new Float64Array(size);
        for (const [row, column, value] of entries) {
          product[row]! += value * solution[column]!;
          if (row !== column) product[column]! += value * solution[row]!;
        }
        for (let row = 0; row < size; row++)
          expect(Math.abs(product[row]! - sources[row]!)).toBeLessThan(1e-6);
      }),
    );
  });

  it('gives the same to the last bit as sums of products, one after the other', () => {
    fc.assert(
      fc.property(networks, ({ size, branches, sources }) => {
        // In the vector the matrix takes the places behind the first two, and what is fed those behind it.
        const [first, feeds] = [2, 2 + size];
        const factor = SymmetricFactor.of(size, entriesOf(size, branches), first);
        const solved = Float64Array.from([7, 8, ...sources, ...sources]);
        const worked = Float64Array.from([7, 8, ...sources.map(() => Number.NaN), ...sources]);
        factor.solve(solved);
        const rows = factor.rows((row) => [{ place: feeds + row - first, coefficient: 1 }]);
        const half = Math.floor(rows.length / 2);
        const program = new LinearRows(rows, worked);
        program.work(0, half);
        program.work(half, rows.length);
        for (const [place, value] of solved.entries()) expect(worked[place]! + 0).toBe(value + 0);
      }),
    );
  });

  it('keeps a long chain as sparse as it is', () => {
    const size = 4_000;
    const branches = Array.from({ length: size - 1 }, (_, node) => [node, node + 1, 1] as const);
    const vector = new Float64Array(size).fill(0.1);
    SymmetricFactor.of(size, entriesOf(size, branches)).solve(vector);
    // One tenth of an ampere into every node with 0.1 S to earth: one volt everywhere.
    expect(Math.max(...vector.map((value) => Math.abs(value - 1)))).toBeLessThan(1e-9);
  });

  it('refuses a singular matrix', () => {
    const floating: SymmetricEntry[] = [
      [0, 0, 1],
      [1, 1, 1],
      [0, 1, -1],
    ];
    expect(() => SymmetricFactor.of(2, floating)).toThrow(RangeError);
  });
});
