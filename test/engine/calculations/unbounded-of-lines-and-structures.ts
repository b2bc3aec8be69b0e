/** Travelling waves, structures, conductors, earthing, risk: why a quantity that a check rests on has no usual range ('calculation.given': reason). */
export const REASONS_OF_LINES_AND_STRUCTURES: Readonly<Record<string, string>> = {};

/** Calculations whose quantities have not been given their ranges yet. */
export const OPEN_OF_LINES_AND_STRUCTURES: readonly string[] = ['earth-electrode'];
