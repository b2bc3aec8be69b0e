import { type Dimension, sameDimension } from '../../quantity/dimension.ts';
import { readUnit } from '../../quantity/unit.ts';

/**
 * Units in use, common practice: what the table of units can combine is without end, and most of it nobody writes.
 *
 * @internal
 */
export const USUAL_UNITS = [
  'm',
  'mm',
  'cm',
  'km',
  'ft',
  'in',
  'mm^2',
  'cm^2',
  'm^2',
  'km^2',
  'mm^3',
  'm^3',
  's',
  'ms',
  'us',
  'ns',
  'min',
  'h',
  'd',
  'year',
  '1/year',
  '1/km^2/year',
  '1/km/year',
  '1/m',
  '1/s',
  'Hz',
  'kHz',
  'MHz',
  'A',
  'kA',
  'mA',
  'uA',
  'V',
  'kV',
  'mV',
  'MV',
  'V/m',
  'kV/m',
  'kV/us',
  'kA/us',
  'A/m',
  'A/mm^2',
  'ohm',
  'mohm',
  'kohm',
  'Mohm',
  'ohm m',
  'uohm m',
  'ohm mm^2/m',
  'ohm/m',
  'ohm/km',
  'mohm/m',
  'S',
  'mS',
  'uS',
  'S/m',
  'H',
  'mH',
  'uH',
  'nH',
  'uH/m',
  'mH/km',
  'nH/m',
  'F',
  'uF',
  'nF',
  'pF',
  'pF/m',
  'nF/km',
  'C',
  'mC',
  'uC',
  'J',
  'kJ',
  'MJ',
  'J/ohm',
  'kJ/ohm',
  'MJ/ohm',
  'kJ/kV',
  'A^2 s',
  'kA^2 s',
  'MA^2 s',
  'W',
  'kW',
  'MW',
  'VA',
  'kVA',
  'MVA',
  'W/m',
  'W/m^2',
  'N',
  'kN',
  'N/m',
  'kN/m',
  'Pa',
  'kPa',
  'MPa',
  'GPa',
  'g',
  'kg',
  'kg/m^3',
  'kg/m',
  'K',
  'degC',
  '1/K',
  'J/(kg K)',
  'J/(m^3 K)',
  'W/(m K)',
  'm/s',
  'm/us',
  'T',
  'mT',
  'uT',
  '%',
  'deg',
  'rad',
] as const;

/** Units of a dimension, the first the one that is asked for. */
export function unitsLike(unit: string): readonly string[] {
  const asked = dimensionOf(unit);
  if (!asked) return [];
  const alike = USUAL_UNITS.filter((one) => {
    const dimension = dimensionOf(one);
    return one !== unit && dimension !== undefined && sameDimension(asked, dimension);
  });
  return unit === '1' ? alike : [unit, ...alike];
}

export function haveOneDimension(one: string, other: string): boolean {
  const [a, b] = [dimensionOf(one), dimensionOf(other)];
  return a !== undefined && b !== undefined && sameDimension(a, b);
}

function dimensionOf(unit: string): Dimension | undefined {
  const reading = readUnit(unit);
  return reading.ok ? reading.value.dimension : undefined;
}
