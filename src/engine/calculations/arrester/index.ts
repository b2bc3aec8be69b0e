import type { CompiledCalculation } from '../../definition/compiled.ts';
import { arresterConnection } from './arrester-connection.ts';
import { arresterProtectiveDistance } from './arrester-protective-distance.ts';

export const arresterCalculations: readonly CompiledCalculation[] = [
  arresterConnection,
  arresterProtectiveDistance,
];
