import fc from 'fast-check';
import { expect, test } from 'vitest';
import { EXACT, NUMERICAL } from '../../src/review/recorded-node.ts';
import { isSameValue, saysSame, wordDigits, wordNumber } from '../../src/review/recorded-number.ts';

test('12 significant digits, in the shortest form', () => {
  expect(wordDigits(0.1 + 0.2, 12)).toBe('0.3');
  expect(wordDigits(200 / 3, 12)).toBe('66.6666666667');
  expect(wordDigits(1e21, 12)).toBe('1e21');
  expect(wordDigits(-0, 12)).toBe('0');
  expect(wordNumber({ value: 1.15, unit: '1', precision: EXACT, before: 'at least' })).toBe('at least 1.15');
  expect(wordNumber({ value: 14.85, unit: 'm', precision: EXACT })).toBe('14.85 m');
  expect(wordNumber({ value: 123.456789, unit: 'kV', precision: NUMERICAL })).toBe('123.457 kV');
});

test('a value within 1e-9 keeps its text, one beyond does not', () => {
  const near = (value: number) => saysSame('14.85 m', { value, unit: 'm', precision: EXACT });
  expect(near(14.85 * (1 + 0.9e-9))).toBe(true);
  expect(near(14.85 * (1 + 1.2e-9))).toBe(false);
  expect(near(-14.85)).toBe(false);
});

test('a value of a numerical method: within 1e-6 beside the rounding to 6 digits', () => {
  const near = (value: number) => saysSame('123.457 kV', { value, unit: 'kV', precision: NUMERICAL });
  expect(near(123.4575)).toBe(true);
  expect(near(123.4576)).toBe(true);
  expect(near(123.4578)).toBe(false);
});

test('another unit, other words or another way of writing is not the same text', () => {
  const fresh = { value: 14.85, unit: 'm', precision: EXACT };
  for (const text of ['14.85 mm', '14.85', '14.850 m', '1485e-2 m', 'at least 14.85 m', ' m', '', 'melts']) {
    expect(saysSame(text, fresh), text).toBe(false);
  }
});

test('what is written is kept for the value that it was written for', () => {
  const values = fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e100, max: 1e100 });
  fc.assert(
    fc.property(values, fc.constantFrom(EXACT, NUMERICAL), (value, precision) => {
      const number = { value, unit: 'kV', precision };
      return Math.abs(value) < 1e-290 || saysSame(wordNumber(number), number);
    }),
  );
});

test('equal but for noise', () => {
  expect(isSameValue(0.17 + 0.28 + 0.05, 0.5)).toBe(true);
  expect(isSameValue(0.5, 0.5 + 1e-8)).toBe(false);
  expect(isSameValue(0, 0)).toBe(true);
});
