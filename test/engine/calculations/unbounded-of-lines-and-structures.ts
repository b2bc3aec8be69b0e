/** Travelling waves, structures, conductors, earthing, risk: why a quantity that a check rests on has no usual range ('calculation.given': reason). */
export const REASONS_OF_LINES_AND_STRUCTURES: Readonly<Record<string, string>> = {
  'earth-grid.rods': 'grids without rods are usual, and a number of rods has no unit that could slip',
};

/** Calculations whose quantities have not been given their ranges yet. */
export const OPEN_OF_LINES_AND_STRUCTURES: readonly string[] = [
  'surge-at-terminals',
  'surge-statistics',
  'rolling-sphere',
  'down-conductors',
  'insulated-down-conductor',
  'conductor-loop',
  'joint-heating',
  'conductor-force',
  'bend-force',
  'earth-electrode',
  'electrode-length',
  'touch-and-step-limits',
  'touch-and-step-precautions',
  'risk-assessment',
];
