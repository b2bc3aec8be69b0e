/** Travelling waves, structures, conductors, earthing, risk: why a quantity that a check rests on has no usual range ('calculation.given': reason). */
export const REASONS_OF_LINES_AND_STRUCTURES: Readonly<Record<string, string>> = {};
