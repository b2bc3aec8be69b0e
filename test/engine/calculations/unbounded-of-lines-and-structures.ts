/** Travelling waves, structures, conductors, earthing, risk: why a quantity that a check rests on has no usual range ('calculation.given': reason). */
export const REASONS_OF_LINES_AND_STRUCTURES: Readonly<Record<string, string>> = {
  'touch-and-step-precautions.natural_columns':
    'structures without natural columns are usual, and a number has no unit that could slip',
  'earth-grid.rods': 'grids without rods are usual, and a number of rods has no unit that could slip',
};

/** Calculations whose quantities have not been given their ranges yet. */
export const OPEN_OF_LINES_AND_STRUCTURES: readonly string[] = [
  'surge-at-terminals',
  'surge-statistics',
  'earth-electrode',
  'risk-assessment',
];
