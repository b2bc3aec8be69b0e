import type { CompiledCalculation } from '../../definition/compiled.ts';
import { riskAssessment } from './risk-assessment.ts';

export const riskCalculations: readonly CompiledCalculation[] = [riskAssessment];
