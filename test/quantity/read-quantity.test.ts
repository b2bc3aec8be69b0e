import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { wordMessage } from '../../src/diagnostics/messages.ts';
import type { Reading } from '../../src/diagnostics/problem.ts';
import { displayEntered } from '../../src/quantity/display.ts';
import { quantity } from '../../src/quantity/quantity.ts';
import { readQuantity } from '../../src/quantity/read-quantity.ts';
import { readUnit, unit } from '../../src/quantity/unit.ts';
import { UNIT_TABLE } from '../../src/quantity/unit-table.ts';

function valueIn<T>(reading: Reading<T>): T {
  if (reading.ok) return reading.value;
  throw new Error(`refused: ${wordMessage(reading.problem.code, reading.problem.data as never).message}`);
}

describe('a quantity is read in every way of writing it', () => {
  test.each([
    ['7.5 m', 7.5, 'm', 7.5],
    ['7.5m', 7.5, 'm', 7.5],
    ['  7.5   m ', 7.5, 'm', 7.5],
    ['7.5\u00a0m', 7.5, 'm', 7.5],
    ['-7.5 m', -7.5, 'm', -7.5],
    ['−7.5 m', -7.5, 'm', -7.5],
    ['+7.5 m', 7.5, 'm', 7.5],
    ['.5 m', 0.5, 'm', 0.5],
    ['1e3 m', 1000, 'm', 1000],
    ['1.5e-3 m', 1.5e-3, 'm', 1.5e-3],
    ['10 kA/us', 10, 'kA/us', 1e10],
    ['10 kA/µs', 10, 'kA/us', 1e10],
    ['1 uH/m', 1, 'uH/m', 1e-6],
    ['1 \u00b5H/m', 1, 'uH/m', 1e-6],
    ['1 \u03bcH/m', 1, 'uH/m', 1e-6],
    ['50 ohm m', 50, 'ohm m', 50],
    ['50 \u03a9 m', 50, 'ohm m', 50],
    ['50 \u2126 m', 50, 'ohm m', 50],
    ['50 ohm*m', 50, 'ohm m', 50],
    ['50 ohm·m', 50, 'ohm m', 50],
    ['50 mm^2', 50, 'mm^2', 50e-6],
    ['50 mm²', 50, 'mm^2', 50e-6],
    ['2.5 MJ/ohm', 2.5, 'MJ/ohm', 2.5e6],
    ['2.5 MJ/Ω', 2.5, 'MJ/ohm', 2.5e6],
    ['385 J/(kg K)', 385, 'J/(kg K)', 385],
    ['2.5 1/%', 2.5, '1/%', 250],
    ['6 deg^2/K', 6, 'deg^2/K', 6 * (Math.PI / 180) ** 2],
    // A year is 365 days.
    ['0.1 1/km^2/year', 0.1, '1/km^2/year', 0.1 / (1e6 * 365 * 86_400)],
    ['10 ft', 10, 'ft', 3.048],
    ['20 %', 20, '%', 0.2],
    ['4 1/m', 4, '1/m', 4],
    ['4 1 / m', 4, '1/m', 4],
    ['0e-999 m', 0, 'm', 0],
    ['2e-300 m', 2e-300, 'm', 2e-300],
    ['1.250 kV', 1.25, 'kV', 1250],
    ['20%', 20, '%', 0.2],
    ['0.66', 0.66, '1', 0.66],
    ['20 °C', 20, 'degC', 293.15],
    ['20 degC', 20, 'degC', 293.15],
    ['90 °', 90, 'deg', Math.PI / 2],
    ['0.004 1/K', 0.004, '1/K', 0.004],
    ['3 m^-1', 3, '1/m', 3],
    ['3 m⁻¹', 3, '1/m', 3],
    // Powers of ten are exact: the double nearest to the number with its unit, without noise in the last digits.
    ['3.3 uH', 3.3, 'uH', 3.3e-6],
    ['0.28 km', 0.28, 'km', 280],
    ['4.35 cm', 4.35, 'cm', 0.0435],
  ])('%s', (text, value, unitText, si) => {
    const read = valueIn(readQuantity(text));
    expect([read.value, read.unit.text, read.kind]).toEqual([value, unitText, undefined]);
    expect(Math.abs(read.si - si)).toBeLessThanOrEqual(2e-16 * Math.abs(si));
  });

  test('3.3 uH is 3.3 uH and the very double 3.3e-6 H', () => {
    expect(valueIn(readQuantity('3.3 uH')).si).toBe(3.3e-6);
  });
});

describe('what is said of a voltage', () => {
  test.each([
    ['36 kV rms phase-phase', { measure: 'rms', between: 'phase-phase' }],
    ['36 kV phase-phase rms', { measure: 'rms', between: 'phase-phase' }],
    ['36 kV r.m.s.', { measure: 'rms' }],
    ['75 kV peak', { measure: 'peak' }],
    ['230 V line-neutral', { between: 'line-neutral' }],
    ['20 kV phase-earth', { between: 'phase-earth' }],
    ['10 kA peak', { measure: 'peak' }],
  ])('%s', (text, kind) => {
    const read = valueIn(readQuantity(text));
    expect(read.kind).toEqual(kind);
    expect(read.si).toBe(valueIn(readQuantity(text.split(' ').slice(0, 2).join(' '))).si);
  });
});

test('a pair of values is not one value', () => {
  const single = readQuantity('230/400 V');
  expect(!single.ok && single.problem).toMatchObject({
    code: 'pair-where-single',
    data: { first: '230 V' },
  });
});

/** Faults with the code and what the message or its hint says. */
const FAULTS: readonly (readonly [text: string, code: string, words: RegExp])[] = [
  ['', 'not-a-quantity', /write a number and a unit/],
  ['long', 'not-a-quantity', /'long' is not a quantity/],
  ['m 7.5', 'not-a-quantity', /'m 7.5'/],
  ['0,x5 m', 'not-a-quantity', /'0,x5 m'/],
  ['3,m', 'not-a-quantity', /'3,m' is not a quantity/],
  ['2;5l kV', 'not-a-quantity', /'2;5l kV'/],
  ['7.5.3 m', 'several-numbers', /'7.5.3 m'/],
  ['NaN', 'not-a-quantity', /NaN/],
  ['Infinity m', 'not-a-quantity', /Infinity/],
  ['1e999 m', 'number-out-of-range', /1e999/],
  ['1e308 km', 'number-out-of-range', /1e308 km/],
  ['7,5 m', 'decimal-comma', /write a decimal point: 7\.5 m/],
  ['0,234 m', 'decimal-comma', /0\.234 m/],
  // With the full stop or comma that ended a sentence the number could not be read either.
  ['0,7.', 'decimal-comma', /: 0\.7$/],
  ['2,25, kV', 'decimal-comma', /: 2\.25 kV$/],
  ['7,53421 m', 'decimal-comma', /7\.53421 m/],
  ['1.234,5 m', 'decimal-comma', /1234\.5 m/],
  ['1.5,2 m', 'several-numbers', /1\.5,2 m/],
  ['1,234 m', 'ambiguous-comma', /write 1\.234 m if it is a decimal sign, or 1234 m if it groups digits/],
  ['1,234', 'ambiguous-comma', /write 1\.234 if .*, or 1234 if/],
  ['1,234.5 m', 'digit-grouping', /without separators: 1234\.5 m/],
  ['1,234,567 m', 'digit-grouping', /1234567 m/],
  ['1 234 m', 'digit-grouping', /1234 m/],
  ['1\u202f234 m', 'digit-grouping', /1234 m/],
  ["1'234 m", 'digit-grouping', /1234 m/],
  ['1_234 m', 'digit-grouping', /1234 m/],
  ['2’750 m', 'digit-grouping', /: 2750 m/],
  ['2.750.000 V', 'digit-grouping', /: 2750000 V/],
  ['2 750 000.5 V', 'digit-grouping', /: 2750000\.5 V/],
  ['3 200 1/km^2/year', 'digit-grouping', /: 3200 1\/km\^2\/year/],
  ['2 750,5 V', 'decimal-comma', /: 2750\.5 V/],
  ["2'750,5 V", 'decimal-comma', /: 2750\.5 V/],
  ['-12,750 kV peak', 'ambiguous-comma', /write -12\.750 kV peak if .*, or -12750 kV peak/],
  ['1_23 m', 'several-numbers', /more than one number/],
  ['3 2 m', 'several-numbers', /'3 2 m' holds more than one number/],
  ['40 3 kV', 'several-numbers', /'40 3 kV'/],
  ['2.4 3m', 'several-numbers', /'2.4 3m'/],
  ['0 250 m', 'several-numbers', /more than one/],
  ['1250 300 m', 'several-numbers', /more than one/],
  ['2,3,4 m', 'several-numbers', /more than one/],
  ['3, 250 m', 'several-numbers', /more than one/],
  ['7 1 m^2', 'several-numbers', /more than one/],
  ['4.25   1', 'several-numbers', /more than one/],
  ['-80\u00a0\u00a01', 'several-numbers', /more than one/],
  ['12\ufeff1/km', 'not-a-quantity', /12\ufeff1\/km/],
  ['36\u200a1/s', 'not-a-quantity', /36\u200a1\/s/],
  ['6..8 m', 'range-in-quantity', /range: \[6 m, 8 m\]/],
  ['6 m ... 8 m', 'range-in-quantity', /range: \[6 m, 8 m\]/],
  ['0.4-0.9 m', 'range-in-quantity', /range: \[0\.4 m, 0\.9 m\]/],
  ['6 – 8 kA/us', 'range-in-quantity', /range: \[6 kA\/us, 8 kA\/us\]/],
  ['300 m to 1 km', 'unknown-unit', /'to'/],
  ['30 m to 100 m', 'range-in-quantity', /range: \[30 m, 100 m\]/],
  ['9 m ± 0.3 m', 'tolerance-in-quantity', /value: 9 m, plus_minus: 0\.3 m/],
  ['9 +/- 0.3 m', 'tolerance-in-quantity', /value: 9 m, plus_minus: 0\.3 m/],
  ['3 1/4 m', 'fraction-in-quantity', /write a decimal number/],
  ['3¼ m', 'fraction-in-quantity', /write a decimal number/],
  ['¾ m', 'fraction-in-quantity', /write a decimal number/],
  ['3/4 m', 'pair-where-single', /3 m or 4 m; a fraction/],
  ['10^4 V', 'power-of-ten', /write it with e/],
  ['3.2·10^4 V', 'power-of-ten', /write it with e/],
  ['3 x 10⁴ V', 'power-of-ten', /write it with e/],
  ['--7 m', 'not-a-quantity', /'--7 m'/],
  ['2e-390 m', 'number-out-of-range', /sign of the exponent/],
  ['0.000003e-305 m', 'number-out-of-range', /beyond the numbers/],
  ['2e-305 nm', 'number-out-of-range', /beyond the numbers/],
  ['2e390', 'number-out-of-range', /beyond the numbers/],
  // A degree of angle times a kelvin, a coulomb or a farad.
  ['30 °K', 'unknown-unit', /did you mean 'K'/],
  ['30 deg K', 'unknown-unit', /did you mean 'K'/],
  ['30 ° C', 'unknown-unit', /did you mean 'degC'/],
  ['86 °F', 'unknown-unit', /units are written/],
  ['7.5 metres', 'unknown-unit', /'metres' is not a known unit/],
  ['7.5 KV', 'unknown-unit', /did you mean 'kV'/],
  ['7.5 Ohm', 'unknown-unit', /did you mean 'ohm'/],
  ['7.5 kv/us', 'unknown-unit', /did you mean 'kV'/],
  ['7.5 L', 'unknown-unit', /units are written as in kV/],
  ['385 J/kg K', 'ambiguous-unit', /J\/\(kg K\)/],
  ['5 mm2', 'malformed-unit', /mm\^2/],
  ['5 m//s', 'malformed-unit', /m\/\/s/],
  ['40 1/1/km', 'fraction-in-quantity', /40 1\/1\/km/],
  ['12 m°', 'malformed-unit', /m°/],
  ['3 kA%', 'malformed-unit', /kA%/],
  ['5 m/(s', 'malformed-unit', /m\/\(s/],
  ['5 m^0', 'malformed-unit', /m\^0/],
  ['5 /m', 'malformed-unit', /\/m/],
  ['5 degC/m', 'offset-unit-in-product', /use K for differences/],
  ['36 kV rms peak', 'contradicting-qualifiers', /both 'rms' and 'peak'/],
  ['36 kV phase-phase phase-earth', 'contradicting-qualifiers', /both 'phase-phase' and 'phase-earth'/],
  ['7 m rms', 'qualifier-on-non-voltage', /'7 m rms' is neither/],
  ['0.5 peak', 'qualifier-on-non-voltage', /leave it out/],
  ['36 kV constructor', 'unknown-unit', /'constructor' is not a known unit/],
  ['36 kV __proto__', 'malformed-unit', /__proto__/],
];

describe('what is not a quantity is refused with what to write instead', () => {
  test.each(FAULTS)('%s', (text, code, words) => {
    const reading = readQuantity(text);
    if (reading.ok) throw new Error(`read as ${displayEntered(reading.value).text}`);
    const { message, hint } = wordMessage(reading.problem.code, reading.problem.data as never);
    expect(reading.problem.code).toBe(code);
    expect(`${message}; ${hint}`).toMatch(words);
  });
  test('a wrong unit is marked within the text', () => {
    const reading = readQuantity('7.5 metres');
    expect(!reading.ok && reading.problem.span).toEqual({ start: 4, end: 10 });
  });
});

const writtenUnits = fc.constantFrom(
  ...[...UNIT_TABLE.keys()].filter((symbol) => symbol !== '1'),
  ...[
    'kA/us',
    'uH/m',
    'ohm m',
    'mm^2',
    'MJ/ohm',
    'J/(kg K)',
    '1/km^2/year',
    '1/K',
    'kA^2 s',
    'kg/m^3',
    'W/(m^2 K)',
    '1',
  ],
);
const writtenNumbers = fc.oneof(
  // Nearer to zero digits are lost, and the number is refused.
  fc
    .double({ noNaN: true, noDefaultInfinity: true, min: -1e200, max: 1e200 })
    .filter((n) => n === 0 || Math.abs(n) > 1e-200),
  fc.integer({ min: -1e9, max: 1e9 }),
  fc.integer({ min: -99_999, max: 99_999 }).map((n) => n / 1000),
);

test('what is displayed as entered reads as the same quantity', () => {
  fc.assert(
    fc.property(writtenNumbers, writtenUnits, (number, unitText) => {
      const entered = quantity(number === 0 ? 0 : number, unit(unitText));
      const read = valueIn(readQuantity(displayEntered(entered).text));
      expect([read.value, read.si, read.unit.dimension]).toEqual([
        entered.value,
        entered.si,
        entered.unit.dimension,
      ]);
      expect(read.unit.text).toBe(entered.unit.text);
    }),
    { numRuns: 2000, seed: 5 },
  );
});

test('a unit reads as itself from its text, and mostly from its print', () => {
  fc.assert(
    fc.property(writtenUnits, (unitText) => {
      const first = unit(unitText);
      for (const text of [first.text, first.print]) {
        const again = valueIn(readUnit(text));
        expect(again).toEqual({ ...first, text: again.text });
        expect(again.text).toBe(first.text);
      }
    }),
    { numRuns: 500, seed: 5 },
  );
});

test('no text makes the reader throw', () => {
  const parts = fc.array(
    fc.constantFrom(
      '7',
      '.5',
      'e',
      ',',
      ' ',
      '/',
      '(',
      ')',
      '^',
      '²',
      '⁻',
      '-',
      '−',
      'kV',
      'm',
      '°C',
      '%',
      'rms',
      'Ω',
      '1',
      '230/400',
    ),
    { maxLength: 12 },
  );
  const text = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 60 }),
    parts.map((p) => p.join('')),
  );
  fc.assert(
    fc.property(text, (written) => {
      for (const reading of [readQuantity(written), readUnit(written)]) {
        if (reading.ok) continue;
        expect(wordMessage(reading.problem.code, reading.problem.data as never).message).not.toMatch(
          /undefined/,
        );
      }
    }),
    { numRuns: 3000 },
  );
});
