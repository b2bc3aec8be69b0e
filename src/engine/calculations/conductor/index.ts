import type { CompiledCalculation } from '../../definition/compiled.ts';
import { conductorHeating } from './conductor-heating.ts';
import { conductorInductance } from './conductor-inductance.ts';
import { downConductorVoltage } from './down-conductor-voltage.ts';

export const conductorCalculations: readonly CompiledCalculation[] = [
  conductorHeating,
  conductorInductance,
  downConductorVoltage,
];
