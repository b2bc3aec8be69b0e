import { wordMessage } from '../../diagnostics/messages.ts';
import type { CatalogueCalculation } from './define-calculation.ts';

/** Calculations by their names. Throws where two have the same: one of them would be lost. */
export function indexCalculations(
  calculations: readonly CatalogueCalculation[],
): ReadonlyMap<string, CatalogueCalculation> {
  const byName = new Map<string, CatalogueCalculation>();
  for (const calculation of calculations) {
    const { name } = calculation;
    if (byName.has(name)) throw new Error(wordMessage('same-calculation', { name }).message);
    byName.set(name, calculation);
  }
  return byName;
}
