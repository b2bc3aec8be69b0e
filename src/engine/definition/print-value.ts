import { displaySi, USUAL_DIGITS } from '../../quantity/display.ts';
import { unit } from '../../quantity/unit.ts';
import type { CheckDefinition } from './definition.ts';
import { safeSideOf } from './find-roundings.ts';

/** An SI value as it prints in a unit of the program's own: for the labels of figures. */
export function printValue(si: number, unitText: string): string {
  return displaySi(si, unit(unitText)).print;
}

/** A limit that is no value of the calculation, rounded to the safe side; with a digit more, for elsewhere it may stand rounded otherwise. */
export function printLimit(si: number, unitText: string, relation: CheckDefinition['relation']): string {
  return displaySi(si, unit(unitText), { digits: USUAL_DIGITS + 1, direction: safeSideOf(relation) }).print;
}
