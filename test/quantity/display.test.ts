import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { MathPiece } from '../../src/formula/math-piece.ts';
import { writeTex } from '../../src/page/math/write-tex.ts';
import { displayEntered, displaySi, displayValue, type Rounding } from '../../src/quantity/display.ts';
import { quantity } from '../../src/quantity/quantity.ts';
import { readQuantity } from '../../src/quantity/read-quantity.ts';
import { unit } from '../../src/quantity/unit.ts';

const PURE = unit('1');
const down: Rounding = { digits: 3, direction: 'down' };
const up: Rounding = { digits: 3, direction: 'up' };

describe('a value is rounded to significant digits', () => {
  const cases: readonly (readonly [value: number, text: string, rounding?: Rounding])[] = [
    [126.4, '126'],
    [7.5, '7.50'],
    [0.5, '0.500'],
    // Half away from zero in decimal, although the double of 1.005 lies below 1.005.
    [1.005, '1.01'],
    [-1.005, '-1.01'],
    [2.675, '2.68'],
    [0.1 + 0.2, '0.300'],
    // Digits before the point are never rounded away.
    [1236.4, '1236'],
    [999_999, '999999'],
    [999.6, '1000'],
    [99.96, '100'],
    [9.996, '10.0'],
    [0.9996, '1.00'],
    [1_236_400, '1.24e6'],
    [999_999.6, '1.00e6'],
    [0.001, '0.00100'],
    [0.00099996, '0.00100'],
    [0.00012345, '1.23e-4'],
    [-0.00012345, '-1.23e-4'],
    [0, '0'],
    [-0, '0'],
    [126.01, '127', up],
    [126.99, '126', down],
    [126, '126', up],
    [126, '126', down],
    [-126.5, '-127', down],
    [-126.5, '-126', up],
    [0.3 * 3, '0.900', up],
    [0.7 + 0.2, '0.900', down],
    [9.991, '10.0', up],
    [9.999, '9.99', down],
    [1.23456789, '1.234568', { digits: 7 }],
    [0.42, '0.4', { digits: 1 }],
  ];
  test.each(cases.map(([value, text, rounding]) => ({ value, text, rounding })))(
    '$value is printed $text',
    (c) => {
      const { value, text, rounding = { digits: 3 } } = c;
      const shown = displayValue(value, PURE, rounding);
      expect(shown.text).toBe(text);
      expect(shown.value).toBe(Number(text));
    },
  );
});

describe('one unit of the last printed digit', () => {
  test.each([
    [126.4, 1],
    [7.5, 0.01],
    [1236.4, 1],
    [9.996, 0.1],
    [1_236_400, 1e4],
    [0.00012345, 1e-6],
    [999_999.6, 1e4],
  ])('of %d is %d', (value, lastDigit) => {
    expect(displayValue(value, PURE, { digits: 3 }).lastDigit).toBe(lastDigit);
  });
});

describe('a value is displayed in its declared unit, in text, print and LaTeX', () => {
  test.each([
    [126_400, 'kV', '126 kV', '126\u00a0kV', '126\\,\\mathrm{kV}'],
    [1e10, 'kA/us', '10.0 kA/us', '10.0\u00a0kA/µs', '10.0\\,\\mathrm{kA}/\\text{µs}'],
    [0.2, '%', '20.0 %', '20.0\u00a0%', '20.0\\,\\%'],
    [Math.PI / 6, 'deg', '30.0 deg', '30.0°', '30.0^\\circ'],
    [293.15, 'degC', '20.0 degC', '20.0\u00a0°C', '20.0\\,^\\circ\\mathrm{C}'],
    [-1.5, 'm', '-1.50 m', '−1.50\u00a0m', '-1.50\\,\\mathrm{m}'],
    [2.5e-12, 'F', '2.50e-12 F', '2.50 × 10⁻¹²\u00a0F', '2.50 \\times\\nobreak 10^{-12}\\,\\mathrm{F}'],
    [1.5e6, 'm', '1.50e6 m', '1.50 × 10⁶\u00a0m', '1.50 \\times\\nobreak 10^{6}\\,\\mathrm{m}'],
    [3.3e-6, 'uH', '3.30 uH', '3.30\u00a0µH', '3.30\\,\\text{µH}'],
    [0.5, '1', '0.500', '0.500', '0.500'],
  ])('%d in %s', (si, unitText, text, print, tex) => {
    const displayed = displaySi(si, unit(unitText));
    expect(displayed).toMatchObject({ text, print });
    const { number } = displayed;
    const piece: MathPiece =
      unitText === '1' ? { type: 'number', number } : { type: 'quantity', number, unit: displayed.unit };
    expect(writeTex(piece)).toBe(tex);
  });
});

describe('of a unit with a power a number of six digits has a power of ten', () => {
  test.each([
    [245_731, 'A^2 s', '2.46e5 A^2 s'],
    [99_940, 'A^2 s', '99940 A^2 s'],
    [0.00042, 'V/m', '4.20e-4 V/m'],
    [245_731, 'V', '245731 V'],
    [245_731, 'N/m', '245731 N/m'],
    [0.00392, '1/K', '0.00392 1/K'],
  ])('%d %s', (si, unitText, text) => {
    expect(displaySi(si, unit(unitText)).text).toBe(text);
  });

  test('also where it was entered, with all its digits', () => {
    expect(displayEntered(quantity(312_500, unit('A^2 s'))).print).toBe('3.125 × 10⁵\u00a0A² s');
    expect(displayEntered(quantity(0.002, unit('1/year'))).print).toBe('2 × 10⁻³\u00a0year⁻¹');
    expect(displayEntered(quantity(0.02, unit('1/year'))).print).toBe('0.02\u00a0year⁻¹');
    expect(displayEntered(quantity(0.002, unit('1/K'))).print).toBe('0.002\u00a0K⁻¹');
  });
});

describe('an entered value keeps its digits', () => {
  test.each([
    [7.5, '7.5 m'],
    [8, '8 m'],
    [1200, '1200 m'],
    [1.23456, '1.23456 m'],
    [0.00025, '2.5e-4 m'],
    [1e6, '1e6 m'],
    [1_234_567.5, '1.2345675e6 m'],
    [1e21, '1e21 m'],
    [0, '0 m'],
  ])('%d', (value, text) => {
    expect(displayEntered(quantity(value, unit('m'))).text).toBe(text);
  });

  test.each([
    ['2.40 kV', '2.4 kV', '2.40\u00a0kV'],
    ['-3.0 m', '-3 m', '−3.0\u00a0m'],
    ['0.500', '0.5', '0.500'],
    ['7.25 m', '7.25 m', '7.25\u00a0m'],
    ['2.40e3 V', '2400 V', '2400\u00a0V'],
    ['36.0 kV rms phase-phase', '36 kV', '36.0\u00a0kV'],
  ])('with the noughts of its author in print, not in records: %s', (typed, text, print) => {
    const reading = readQuantity(typed);
    expect(reading.ok && displayEntered(reading.value)).toMatchObject({ text, print });
  });
});

test('a printed value lies within half a unit of its last digit, and on the asked side', () => {
  const value = fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e12, max: 1e12 });
  fc.assert(
    fc.property(value, fc.integer({ min: 1, max: 9 }), (exact, digits) => {
      // Fifteen digits are what a display takes of a double.
      const taken = Number(exact.toPrecision(15));
      const slack = 1e-12 * Math.abs(taken);
      const nearest = displayValue(exact, PURE, { digits });
      const below = displayValue(exact, PURE, { digits, direction: 'down' });
      const above = displayValue(exact, PURE, { digits, direction: 'up' });
      expect(Math.abs(nearest.value - taken)).toBeLessThanOrEqual(nearest.lastDigit / 2 + slack);
      expect(below.value).toBeLessThanOrEqual(taken);
      expect(above.value).toBeGreaterThanOrEqual(taken);
      expect(above.value - below.value).toBeLessThanOrEqual(above.lastDigit + slack);
    }),
    { numRuns: 2000, seed: 3 },
  );
});
