const IN_ORDER =
  'phase, earth wire and tower are refused where they are not in order of height; the phase has a least and the tower a largest usual height';

/** Travelling waves, structures, conductors, earthing, risk: why a quantity that a check rests on has no usual range ('calculation.given': reason). */
export const REASONS_OF_LINES_AND_STRUCTURES: Readonly<Record<string, string>> = {
  'inspection-record.uncertainty': 'a share of 0 % to 50 %, which are permitted ends',
  'lightning-field.inner_shielding': 'decibels of 0 to 100, which are permitted ends: no unit to slip in',
  'lightning-field.wall_distance': 'one too near the shield is refused, and above there is a usual range',
  'lightning-field.roof_distance': 'one too near the shield is refused, and above there is a usual range',
  'line-lightning-performance.tower_height': IN_ORDER,
  'line-lightning-performance.shield_height': IN_ORDER,
  'line-lightning-performance.phase_height': IN_ORDER,
};
