import { problem } from '../../diagnostics/problem.ts';
import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import { say } from '../../words/sentence.ts';
import { defaultOf, withDefaults } from './apply-defaults.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { ComputeFault } from './computation.ts';
import { formulaValues, type Inputs } from './inputs.ts';
import { ownMeaning } from './own-text.ts';
import { stepNeeds } from './plan-step.ts';
import { judgeRows } from './rows.ts';

/**
 * What is wrong with the set of givens that were written, whatever their values: two of one alternative, none, or a given
 * missing that every option needs. For blocks whose values are faulty, so that one run reports these faults too.
 */
export function judgeWritten(
  calculation: CompiledCalculation,
  inputs: Inputs,
  written: ReadonlySet<string>,
): ComputeFault[] {
  const missing = [...calculation.required].filter((name) => !written.has(name));
  return [
    ...judgeAlternatives(calculation, inputs, written),
    ...judgeRows(calculation, inputs),
    ...missing.map((name) => ({ given: name, problem: missingGiven(calculation, name) })),
  ];
}

/** Faults of alternatives: `inputs` holds what could be read, `written` the names of all that was written. */
export function judgeAlternatives(
  calculation: CompiledCalculation,
  inputs: Inputs,
  written: ReadonlySet<string> = new Set(inputs.keys()),
): ComputeFault[] {
  return calculation.alternatives.flatMap(({ oneOf, mayBeAbsent, when }) => {
    const names = oneOf.filter((name) => written.has(name));
    if (names.length > 1) return [{ given: names[1]!, problem: problem('both-alternatives', { names }) }];
    const hasDefault = oneOf.some((name) => defaultOf(calculation, name) !== undefined);
    if (names.length === 1 || hasDefault || mayBeAbsent) return [];
    if (when) {
      const asked = evaluateCondition(when, formulaValues(calculation, withDefaults(calculation, inputs)));
      if (!asked.ok || !asked.value) return [];
    }
    return [{ problem: problem('no-alternative', { names: oneOf }) }];
  });
}

function missingGiven(calculation: CompiledCalculation, name: string) {
  const step = calculation.steps.find(
    (s) => !s.definition.optional && stepNeeds(s).some((n) => n.split('.')[0] === name),
  );
  return problem('missing-given', {
    name,
    meaning: ownMeaning(calculation, name),
    step: step ? ownMeaning(calculation, step.name) : say('step.whole', {}),
  });
}
