import type { CompiledCalculation } from '../../definition/compiled.ts';
import { spdEffectiveProtectionLevel } from './spd-effective-protection-level.ts';
import { spdMountingComparison } from './spd-mounting-comparison.ts';

export const lowVoltageCalculations: readonly CompiledCalculation[] = [
  spdEffectiveProtectionLevel,
  spdMountingComparison,
];
