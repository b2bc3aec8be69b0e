/** Travelling waves, structures, conductors, earthing, risk: why a quantity that a check rests on has no usual range ('calculation.given': reason). */
export const REASONS_OF_LINES_AND_STRUCTURES: Readonly<Record<string, string>> = {};

/** Calculations whose quantities have not been given their ranges yet. */
export const OPEN_OF_LINES_AND_STRUCTURES: readonly string[] = [
  'surge-at-terminals',
  'surge-statistics',
  'collection-area',
  'rolling-sphere',
  'down-conductors',
  'separation-distance',
  'insulated-down-conductor',
  'conductor-loop',
  'conductor-heating',
  'joint-heating',
  'conductor-force',
  'bend-force',
  'earth-electrode',
  'electrode-length',
  'touch-and-step-limits',
  'earth-grid',
  'touch-and-step-precautions',
  'risk-assessment',
];
