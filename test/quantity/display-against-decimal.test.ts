import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { displayEntered, displayValue } from '../../src/quantity/display.ts';
import { fromSi, quantity, toSi } from '../../src/quantity/quantity.ts';
import { unit } from '../../src/quantity/unit.ts';

/*
 * Rounding and moved decimal points, held against decimal.js 10, which computes with decimal numbers of any length.
 */

/** Of units with a power those of six digits are written with a power of ten too. */
const fewestOfPower = fc.constantFrom({ of: unit('1'), from: 1e6 }, { of: unit('A^2 s'), from: 1e5 });
const MODES = {
  nearest: Decimal.ROUND_HALF_UP,
  down: Decimal.ROUND_FLOOR,
  up: Decimal.ROUND_CEIL,
} as const;

/** Doubles of all sizes, and such as people write: few digits, halves, runs of nines. */
const numbers = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e250, max: 1e250 }),
  fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e7, max: 1e7 }),
  fc
    .tuple(fc.integer({ min: -99_999_999, max: 99_999_999 }), fc.integer({ min: -9, max: 9 }))
    .map(([digits, power]) => Number(`${digits}e${power}`)),
  fc
    .tuple(fc.integer({ min: 1, max: 15 }), fc.integer({ min: -20, max: 9 }))
    .map(([nines, power]) => Number(`${'9'.repeat(nines)}e${power}`)),
);

/** The number as text and one unit of its last digit, by the rules of print; nothing of it is taken from the program. */
function writeByDecimal(number: Decimal, lastDigit: Decimal, from: number) {
  const isScientific = !number.isZero() && (number.abs().gte(from) || number.abs().lt(1e-3));
  const text = isScientific
    ? number.toExponential(Math.max(0, number.e - lastDigit.e)).replace('e+', 'e')
    : number.toFixed(Math.max(0, -lastDigit.e));
  const [mantissa, exponent] = text.split('e') as [string, string?];
  const split = exponent === undefined ? { mantissa } : { mantissa, exponent: Number(exponent) };
  return { number: split, lastDigit: lastDigit.toNumber() };
}

function lastDigitOf(number: Decimal, digits: number, from: number): Decimal {
  const last = new Decimal(10).pow(number.e + 1 - digits);
  return number.abs().gte(from) || number.abs().lt(1e-3) ? last : Decimal.min(last, 1);
}

test('a value is rounded as decimal.js rounds its fifteen digits', () => {
  const direction = fc.constantFrom('nearest', 'down', 'up');
  fc.assert(
    fc.property(
      numbers,
      fc.integer({ min: 1, max: 14 }),
      direction,
      fewestOfPower,
      (value, digits, way, { of, from }) => {
        const exact = new Decimal(value.toPrecision(15));
        if (exact.isZero()) return;
        const coarse = lastDigitOf(exact, digits, from);
        const rounded = exact.div(coarse).toDecimalPlaces(0, MODES[way]).times(coarse);
        const expected = writeByDecimal(rounded, lastDigitOf(rounded, digits, from), from);
        const shown = displayValue(value, of, { digits, direction: way });
        expect(shown).toMatchObject({ ...expected, value: rounded.toNumber() });
      },
    ),
    { numRuns: 20_000, seed: 71 },
  );
});

test('an entered value has the digits that decimal.js finds in it', () => {
  fc.assert(
    fc.property(numbers, fewestOfPower, (value, { of, from }) => {
      if (Object.is(value, -0)) return;
      const number = new Decimal(value);
      const isScientific = !number.isZero() && (number.abs().gte(from) || number.abs().lt(1e-3));
      const place = isScientific ? number.e - number.precision() + 1 : Math.min(0, -number.decimalPlaces());
      const expected = writeByDecimal(number, new Decimal(10).pow(place), from);
      expect(displayEntered(quantity(value, of))).toMatchObject({ ...expected, value });
    }),
    { numRuns: 10_000, seed: 72 },
  );
});

test('a value in a unit is the double nearest to its decimal number with the point moved', () => {
  const units = ['mm', 'kV', 'us', 'pF', 'MV', 'uH'].map(unit);
  fc.assert(
    fc.property(numbers, fc.constantFrom(...units), (value, of) => {
      if (Math.abs(value) < 1e-290) return;
      const power = new Decimal(10).pow(of.exponent10);
      const exact = new Decimal(value);
      expect(toSi(value, of)).toBe(exact.times(power).toNumber());
      expect(fromSi(value, of)).toBe(exact.div(power).toNumber());
    }),
    { numRuns: 20_000, seed: 73 },
  );
});
