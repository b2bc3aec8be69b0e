import { all, create } from 'mathjs';
import { describe, expect, test } from 'vitest';
import type { Dimension } from '../../src/quantity/dimension.ts';
import { toSi } from '../../src/quantity/quantity.ts';
import { unit } from '../../src/quantity/unit.ts';
import { UNIT_TABLE } from '../../src/quantity/unit-table.ts';

const math = create(all ?? {}, {});

/** What mathjs calls our symbols where it has another spelling. */
const SPELLING: Readonly<Record<string, string>> = { d: 'day', min: 'minute', '°': 'deg', '°C': 'degC' };

/** Symbols that are ours alone, with the reason. */
const OURS: Readonly<Record<string, string>> = {
  '1': 'the pure number has no symbol in mathjs',
  '%': 'mathjs has percent as an operator',
  year: 'mathjs has the Julian year of 365.25 days; ours has 365 days by convention',
};

/** A dimension in base units, as mathjs reads it; angles are pure numbers with us and radians with mathjs. */
function baseUnit(dimension: Dimension, symbol: string): string {
  if (dimension.every((e) => e === 0)) return symbol === '' ? '' : 'rad';
  return ['m', 'kg', 's', 'A', 'K'].map((base, i) => `${base}^${dimension[i]}`).join(' ');
}

function toMathjs(symbol: string): string {
  const ascii = symbol.replace(/[µμ]/, 'u').replace(/[Ω\u2126]/, 'ohm');
  return SPELLING[ascii] ?? ascii;
}

describe('every unit symbol is what mathjs takes it for', () => {
  const known = [...UNIT_TABLE.keys()].filter((symbol) => !(symbol in OURS) && !symbol.endsWith('VA'));
  test.each(known)('%s', (symbol) => {
    const ours = unit(symbol);
    // toNumber throws where the dimensions differ.
    const theirs = math.unit(1, toMathjs(symbol)).toNumber(baseUnit(ours.dimension, symbol));
    expect(Math.abs(toSi(1, ours) - theirs)).toBeLessThanOrEqual(1e-14 * Math.abs(theirs));
  });
});

describe('units that are written together', () => {
  test.each([
    ['kA/us', 'kA/us'],
    ['uH/m', 'uH/m'],
    ['ohm m', 'ohm m'],
    ['mm^2', 'mm^2'],
    ['MJ/ohm', 'MJ/ohm'],
    ['J/(kg K)', 'J/(kg K)'],
    ['W/(m^2 K)', 'W/(m^2 K)'],
    ['kA^2 s', 'kA^2 s'],
    ['kg/m^3', 'kg/m^3'],
    ['1/km^2/d', '1/(km^2 day)'],
    ['kV/us', 'kV/us'],
    ['m/s/s', 'm/s^2'],
    ['ohm/km', 'ohm/km'],
    ['uohm cm', 'uohm cm'],
    ['pF/m', 'pF/m'],
    ['g/cm^3', 'g/cm^3'],
    ['1/K', 'K^-1'],
    ['m^-2 s^-1', 'm^-2 s^-1'],
  ])('%s', (text, theirs) => {
    const ours = unit(text);
    const factor = math.evaluate(
      `1 ${theirs.startsWith('1/') ? theirs.slice(1).replace('/', '* 1 /') : theirs}`,
    );
    const expected = factor.toNumber(baseUnit(ours.dimension, text));
    expect(Math.abs(toSi(1, ours) - expected)).toBeLessThanOrEqual(1e-14 * Math.abs(expected));
  });
});

test('volt-amperes are watts, and a year is 365 days', () => {
  expect(unit('kVA').dimension).toEqual(unit('kW').dimension);
  expect(toSi(1, unit('kVA'))).toBe(1000);
  expect(toSi(1, unit('year'))).toBe(365 * toSi(1, unit('d')));
  expect(toSi(50, unit('%'))).toBe(0.5);
});

describe('units are printed', () => {
  test.each([
    ['kA/us', 'kA/us', 'kA/µs', '\\mathrm{kA}/\\text{µs}'],
    ['ohm m', 'ohm m', 'Ω m', '\\Omega\\,\\mathrm{m}'],
    ['kohm', 'kohm', 'kΩ', '\\mathrm{k}\\Omega'],
    ['mm²', 'mm^2', 'mm²', '\\mathrm{mm}^{2}'],
    ['J/(kg K)', 'J/(kg K)', 'J/(kg K)', '\\mathrm{J}/(\\mathrm{kg}\\,\\mathrm{K})'],
    ['1/K', '1/K', 'K⁻¹', '\\mathrm{K}^{-1}'],
    ['1/km^2/year', '1/km^2/year', 'km⁻² year⁻¹', '\\mathrm{km}^{-2}\\,\\mathrm{year}^{-1}'],
    ['m/s/s', 'm/(s s)', 'm/(s s)', '\\mathrm{m}/(\\mathrm{s}\\,\\mathrm{s})'],
    ['°C', 'degC', '°C', '^\\circ\\mathrm{C}'],
    ['deg^2/m', 'deg^2/m', '°²/m', '{^\\circ}^{2}/\\mathrm{m}'],
    ['1', '1', '', ''],
  ])('%s', (written, text, print, tex) => {
    expect(unit(written)).toMatchObject({ text, print, tex });
  });
});
