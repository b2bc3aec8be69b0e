import type { CatalogueCalculation } from '../definition/define-calculation.ts';
import { indexCalculations } from '../definition/index-calculations.ts';
import { arresterCalculations } from './arrester/index.ts';
import { conductorCalculations } from './conductor/index.ts';
import { earthingCalculations } from './earthing/index.ts';
import { insulationCalculations } from './insulation/index.ts';
import { lowVoltageCalculations } from './low-voltage/index.ts';
import { riskCalculations } from './risk/index.ts';
import { structureCalculations } from './structure/index.ts';
import { travellingWaveCalculations } from './travelling-wave/index.ts';

/** The calculations of one domain, in the order in which the handbook lists them. */
export interface Domain {
  readonly name: string;
  readonly title: string;
  readonly calculations: readonly CatalogueCalculation[];
}

/** Every domain of the catalogue. Adding a calculation touches its own file and its domain's index only. */
export const DOMAINS: readonly Domain[] = [
  { name: 'low-voltage', title: 'Low-voltage surge protection', calculations: lowVoltageCalculations },
  { name: 'arrester', title: 'Arresters', calculations: arresterCalculations },
  { name: 'insulation', title: 'Insulation co-ordination', calculations: insulationCalculations },
  { name: 'travelling-wave', title: 'Travelling waves', calculations: travellingWaveCalculations },
  { name: 'structure', title: 'Structures', calculations: structureCalculations },
  { name: 'conductor', title: 'Conductors', calculations: conductorCalculations },
  { name: 'earthing', title: 'Earthing', calculations: earthingCalculations },
  { name: 'risk', title: 'Risk', calculations: riskCalculations },
];

/** Every calculation by its name. */
export const CALCULATIONS = indexCalculations(DOMAINS.flatMap(({ calculations }) => calculations));
