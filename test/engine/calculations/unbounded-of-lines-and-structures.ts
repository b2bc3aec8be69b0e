/** Travelling waves, structures, conductors, earthing, risk: why a quantity that a check rests on has no usual range ('calculation.given': reason). */
export const REASONS_OF_LINES_AND_STRUCTURES: Readonly<Record<string, string>> = {
  'lightning-field.inner_shielding': 'decibels of 0 to 100, which are permitted ends: no unit to slip in',
  'lightning-field.wall_distance': 'one too near the shield is refused, and above there is a usual range',
  'lightning-field.roof_distance': 'one too near the shield is refused, and above there is a usual range',
};
