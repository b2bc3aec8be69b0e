import type { CatalogueCalculation } from '../../definition/define-calculation.ts';
import { bendForce } from './bend-force.ts';
import { conductorForce } from './conductor-force.ts';
import { conductorHeating } from './conductor-heating.ts';
import { conductorInductance } from './conductor-inductance.ts';
import { downConductorVoltage } from './down-conductor-voltage.ts';
import { jointHeating } from './joint-heating.ts';

export const conductorCalculations: readonly CatalogueCalculation[] = [
  conductorHeating,
  jointHeating,
  conductorForce,
  bendForce,
  conductorInductance,
  downConductorVoltage,
];
