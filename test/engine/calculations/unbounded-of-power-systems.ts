const OF_THE_KILOMETRE =
  'no more than 1 km is permitted, and what is missing from it counts as the least favourable kind of line';
const NOT_OVERLAPPING =
  'distances of axes below the diameter of the sheath are refused, which has a least and they a largest usual value';
const EXPONENT = 'a number between 0 and 1, which are permitted ends: no unit to slip in';

/** Low voltage, arresters, insulation: why a quantity that a check rests on has no usual range ('calculation.given': reason). */
export const REASONS_OF_POWER_SYSTEMS: Readonly<Record<string, string>> = {
  'arrester-characteristic.coefficient':
    'a pure number that runs over many tens of decades with the exponent: 1.5e-27 for the sixth power',
  'cable-sheath-protection.spacing': NOT_OVERLAPPING,
  'cable-sheath-protection.sheath_diameter': NOT_OVERLAPPING,
  'cable-sheath-protection.conductor_distance': NOT_OVERLAPPING,
  'creepage-distance.altitude_exponent': EXPONENT,
  'earthing-voltage-design.neutral_current':
    'the whole fault current, which has a usual range, bounds it from above, and nothing of it is the safe side',
  'earthing-voltage-design.touch_voltage':
    'one above the potential rise is refused, and below there is a usual range',
  'grid-current.local_current':
    'the whole fault current, which has a usual range, bounds it from above, and nothing of it is the safe side',
  'insulation-coordination-range-2.altitude_exponent': EXPONENT,
  'insulation-coordination-range-2.two_percent_overvoltage':
    'an overvoltage below the peak of the highest voltage is refused, and above there is a usual range',
  'insulation-withstand.altitude_exponent': EXPONENT,
  'insulation-withstand.two_percent_overvoltage':
    'an overvoltage below the peak of the highest voltage is refused, and above there is a usual range',
  'spd-need.lv_overhead': OF_THE_KILOMETRE,
  'spd-need.lv_cable': OF_THE_KILOMETRE,
  'spd-need.hv_overhead': OF_THE_KILOMETRE,
  'spd-need.hv_cable': OF_THE_KILOMETRE,
};
