import type { CatalogueCalculation } from '../../definition/define-calculation.ts';
import { riskAssessment } from './risk-assessment.ts';

export const riskCalculations: readonly CatalogueCalculation[] = [riskAssessment];
