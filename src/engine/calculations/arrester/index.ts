import type { CompiledCalculation } from '../../definition/compiled.ts';
import { arresterConnection } from './arrester-connection.ts';

export const arresterCalculations: readonly CompiledCalculation[] = [arresterConnection];
