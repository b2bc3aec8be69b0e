import type { CompiledCalculation } from '../../definition/compiled.ts';
import { separationDistance } from './separation-distance.ts';

export const structureCalculations: readonly CompiledCalculation[] = [separationDistance];
