import { wordMessage } from '../../diagnostics/messages.ts';
import type { CompiledCalculation } from './compiled.ts';

/** Calculations by their names. Throws where two have the same: one of them would be lost. */
export function indexCalculations(
  calculations: readonly CompiledCalculation[],
): ReadonlyMap<string, CompiledCalculation> {
  const byName = new Map<string, CompiledCalculation>();
  for (const calculation of calculations) {
    const { name } = calculation.definition;
    if (byName.has(name)) throw new Error(wordMessage('same-calculation', { name }).message);
    byName.set(name, calculation);
  }
  return byName;
}
