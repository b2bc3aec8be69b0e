import { displaySi } from '../../quantity/display.ts';
import { unit } from '../../quantity/unit.ts';

/** An SI value as it prints in a unit of the program's own: for the labels of figures. */
export function printValue(si: number, unitText: string): string {
  return displaySi(si, unit(unitText)).print;
}
