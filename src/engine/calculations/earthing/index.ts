import type { CompiledCalculation } from '../../definition/compiled.ts';
import { earthElectrode } from './earth-electrode.ts';

export const earthingCalculations: readonly CompiledCalculation[] = [earthElectrode];
