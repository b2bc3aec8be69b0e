import type { CompiledCalculation } from '../../definition/compiled.ts';
import { altitudeCorrection } from './altitude-correction.ts';
import { creepageDistance } from './creepage-distance.ts';
import { insulationMargins } from './insulation-margins.ts';
import { insulationWithstand } from './insulation-withstand.ts';

export const insulationCalculations: readonly CompiledCalculation[] = [
  insulationMargins,
  insulationWithstand,
  altitudeCorrection,
  creepageDistance,
];
