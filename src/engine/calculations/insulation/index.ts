import type { CatalogueCalculation } from '../../definition/define-calculation.ts';
import { altitudeCorrection } from './altitude-correction.ts';
import { creepageDistance } from './creepage-distance.ts';
import { insulationCoordinationRange2 } from './insulation-coordination-range-2.ts';
import { insulationMargins } from './insulation-margins.ts';
import { insulationWithstand } from './insulation-withstand.ts';
import { transferredSurge } from './transferred-surge.ts';

export const insulationCalculations: readonly CatalogueCalculation[] = [
  insulationMargins,
  insulationWithstand,
  insulationCoordinationRange2,
  altitudeCorrection,
  creepageDistance,
  transferredSurge,
];
