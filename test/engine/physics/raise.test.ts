import fc from 'fast-check';
import { expect, test } from 'vitest';
import { raise } from '../../../src/engine/physics/raise.ts';

test('a power is that of the language, whole exponent or not', () => {
  const exponents = fc.oneof(fc.integer({ min: 1, max: 64 }), fc.double({ min: 0.5, max: 60, noNaN: true }));
  fc.assert(
    fc.property(fc.double({ min: 0.1, max: 10, noNaN: true }), exponents, (base, exponent) => {
      expect(Math.abs(raise(base, exponent) / base ** exponent - 1)).toBeLessThan(1e-12);
    }),
  );
});

test('a power beyond all numbers is infinite, one below them zero', () => {
  expect(raise(1e200, 2)).toBe(Number.POSITIVE_INFINITY);
  expect(raise(1e200, 2.5)).toBe(Number.POSITIVE_INFINITY);
  expect(raise(1e-200, 2)).toBe(0);
});
