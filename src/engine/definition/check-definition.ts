import { checkConditions } from './checks/check-conditions.ts';
import { checkEvidence } from './checks/check-evidence.ts';
import { checkGivens } from './checks/check-givens.ts';
import { checkNames } from './checks/check-names.ts';
import { checkSentences } from './checks/check-sentences.ts';
import { checkSymbols } from './checks/check-symbols.ts';
import { checkTables } from './checks/check-tables.ts';
import { checkUse } from './checks/check-use.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { DefinitionFault } from './definition-fault.ts';

/** One kind of mistake, looked for in the whole of a definition whose formulas were parsed. */
type DefinitionCheck = (calculation: CompiledCalculation) => readonly DefinitionFault[];

const CHECKS: readonly DefinitionCheck[] = [
  checkSymbols,
  checkGivens,
  checkNames,
  checkTables,
  checkConditions,
  checkSentences,
  checkUse,
  checkEvidence,
];

/** What is wrong in a definition beside its formulas, units and dimensions. */
export function checkDefinition(calculation: CompiledCalculation): DefinitionFault[] {
  return CHECKS.flatMap((check) => check(calculation));
}
