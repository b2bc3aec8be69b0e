/** Low voltage, arresters, insulation: why a quantity that a check rests on has no usual range ('calculation.given': reason). */
export const REASONS_OF_POWER_SYSTEMS: Readonly<Record<string, string>> = {};

/** Calculations whose quantities have not been given their ranges yet. */
export const OPEN_OF_POWER_SYSTEMS: readonly string[] = [
  'spd-effective-protection-level',
  'spd-mounting-comparison',
  'spd-selection',
  'lightning-current-share',
  'spd-protective-distance',
  'spd-backup-fuse',
  'spd-coordination',
  'arrester-rating',
  'arrester-discharge-current',
  'arrester-characteristic',
  'arrester-duty',

  'arrester-protective-distance',
  'arrester-protective-distance-statistical',
  'cable-protection',
  'insulation-margins',
  'insulation-withstand',
  'creepage-distance',
];
