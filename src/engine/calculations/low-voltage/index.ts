import type { CompiledCalculation } from '../../definition/compiled.ts';
import { spdEffectiveProtectionLevel } from './spd-effective-protection-level.ts';

export const lowVoltageCalculations: readonly CompiledCalculation[] = [spdEffectiveProtectionLevel];
