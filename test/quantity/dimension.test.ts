import { expect, test } from 'vitest';
import { nameDimension, power, sameDimension } from '../../src/quantity/dimension.ts';
import { unit } from '../../src/quantity/unit.ts';
import { clash, describeVoltageKind } from '../../src/quantity/voltage-kind.ts';

test.each([
  ['m', 'a length'],
  ['mm^2', 'an area'],
  ['kV', 'a voltage'],
  ['kA/us', 'a current steepness'],
  ['kV/us', 'a voltage steepness'],
  ['ohm', 'a resistance or impedance'],
  ['ohm m', 'a resistivity'],
  ['uH/m', 'an inductance per length'],
  ['pF/m', 'a capacitance per length'],
  ['MJ/ohm', 'a specific energy (charge squared per time, or energy per resistance)'],
  ['kA^2 s', 'a specific energy (charge squared per time, or energy per resistance)'],
  ['J/(kg K)', 'a specific heat'],
  ['1/km^2/year', 'a rate per area'],
  ['1/K', 'a temperature coefficient'],
  ['kg/m^3', 'a density'],
  ['%', 'a pure number'],
  ['N/m', 'a force per length'],
  ['kV/m', 'an electric field strength'],
  ['C', 'a charge'],
  ['ohm m^3/K', 'a quantity in m^5 kg s^-3 A^-2 K^-1'],
])('%s is %s', (text, name) => {
  expect(nameDimension(unit(text).dimension)).toBe(name);
});

test('roots come back when they are raised', () => {
  const { dimension } = unit('ohm m');
  for (const root of [2, 3, 7]) {
    expect(sameDimension(power(power(dimension, 1 / root), root), dimension)).toBe(true);
  }
  expect(nameDimension(power(unit('m').dimension, 0.5))).toBe('a quantity in m^0.5');
});

test('voltages clash only in what both state', () => {
  expect(clash({ measure: 'rms' }, { measure: 'peak' })).toBe(true);
  expect(clash({ between: 'phase-phase' }, { between: 'phase-earth' })).toBe(true);
  expect(clash({ measure: 'rms', between: 'phase-phase' }, { measure: 'rms' })).toBe(false);
  expect(clash({ measure: 'rms' }, { between: 'phase-earth' })).toBe(false);
  expect(clash(undefined, { measure: 'peak' })).toBe(false);
});

test('a kind of voltage in words', () => {
  expect(describeVoltageKind({ measure: 'rms', between: 'phase-phase' })).toBe(
    'an r.m.s. value, phase to phase',
  );
  expect(describeVoltageKind({ between: 'line-neutral' })).toBe('a value, line to neutral');
});
