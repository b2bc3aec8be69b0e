import type { CompiledCalculation } from '../../definition/compiled.ts';
import { conductorHeating } from './conductor-heating.ts';

export const conductorCalculations: readonly CompiledCalculation[] = [conductorHeating];
