/** Standard withstand voltages for one highest voltage for equipment, in volts. */
export interface StandardLevels {
  /** Lightning impulse, peak. */
  readonly lightning: readonly number[];
  /** Power frequency of short duration, r.m.s. */
  readonly powerFrequency: readonly number[];
}

/**
 * In kV: highest voltage, power frequency, lightning impulse. IEC 60071-1:2006, range I (from memory); 40.5 kV is no value
 * of that standard, its levels are those of practice in networks of 35 kV.
 */
const RANGE_I: readonly (readonly [number, readonly number[], readonly number[]])[] = [
  [3.6, [10], [20, 40]],
  [7.2, [20], [40, 60]],
  [12, [28], [60, 75, 95]],
  [17.5, [38], [75, 95]],
  [24, [50], [95, 125, 145]],
  [36, [70], [145, 170]],
  [40.5, [80, 95], [185, 200]],
  [52, [95], [250]],
  [72.5, [140], [325]],
  [100, [150, 185], [380, 450]],
  [123, [185, 230], [450, 550]],
  [145, [185, 230, 275], [450, 550, 650]],
  [170, [230, 275, 325], [550, 650, 750]],
  [245, [275, 325, 360, 395, 460], [650, 750, 850, 950, 1050]],
];

/**
 * The standard levels of range I for a highest voltage in volts, r.m.s. between phases; undefined where it is none of the
 * standard values.
 */
export function standardLevels(highestVoltage: number): StandardLevels | undefined {
  const found = RANGE_I.find(
    ([kilovolts]) => Math.abs(kilovolts * 1000 - highestVoltage) < 1e-6 * highestVoltage,
  );
  if (!found) return undefined;
  const inVolts = (list: readonly number[]) => list.map((kilovolts) => kilovolts * 1000);
  return { powerFrequency: inVolts(found[1]), lightning: inVolts(found[2]) };
}

/** In kV: highest voltage, switching impulse to earth. IEC 60071-1:2006 with its amendment of 2010, range II, from memory. */
const RANGE_II: readonly (readonly [number, readonly number[]])[] = [
  [300, [750, 850]],
  [362, [850, 950]],
  [420, [850, 950, 1050]],
  [550, [950, 1050, 1175]],
  [800, [1300, 1425, 1550]],
  [1100, [1425, 1550, 1675, 1800]],
  [1200, [1675, 1800, 1950]],
];

/**
 * The standard switching impulse withstand voltages to earth of range II, in volts, for a highest voltage in volts; undefined
 * where it is none of the standard values.
 */
export function switchingLevels(highestVoltage: number): readonly number[] | undefined {
  const found = RANGE_II.find(
    ([kilovolts]) => Math.abs(kilovolts * 1000 - highestVoltage) < 1e-6 * highestVoltage,
  );
  return found?.[1].map((kilovolts) => kilovolts * 1000);
}
