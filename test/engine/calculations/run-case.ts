import { wordMessage } from '../../../src/diagnostics/messages.ts';
import { CALCULATIONS } from '../../../src/engine/calculations/registry.ts';
import type { EvidenceGiven } from '../../../src/engine/definition/definition.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import { wordCalculation } from '../../../src/evaluation/word-calculation.ts';
import { ENGLISH } from '../../../src/words/words.ts';

export type CaseGiven = Readonly<Record<string, EvidenceGiven>>;

/** Runs one calculation by its name, givens as an author writes them. Faults come back as their messages. */
export function runCase(name: string, given: CaseGiven) {
  const calculation = CALCULATIONS.get(name);
  if (!calculation) throw new Error(`no calculation '${name}'`);
  const outcome = runCalculation(calculation, evidenceInputs(calculation, given));
  const faults = outcome.ok
    ? []
    : outcome.faults.map(({ problem }) => wordMessage(problem.code, problem.data as never).message);
  /** Where each fault lies: 'elements[2].to'. */
  const places = outcome.ok
    ? []
    : outcome.faults.map(
        ({ given = '', item, column }) =>
          `${given}${item === undefined ? '' : `[${item}]`}${column === undefined ? '' : `.${column}`}`,
      );
  const evaluated = outcome.ok ? wordCalculation(outcome.evaluated, ENGLISH) : undefined;
  const result = (step: string) => evaluated?.steps.find((s) => s.name === step)?.result;
  return {
    faults,
    places,
    evaluated,
    /** The SI number of a step; the words where there is none; undefined where it was left out. */
    result(step: string): number | string | undefined {
      const found = result(step);
      if (found?.type === 'number') return found.si;
      if (found?.type === 'words') return found.words;
      return found?.type === 'choice' ? found.choice : undefined;
    },
    number(step: string): number {
      const found = result(step);
      if (found?.type !== 'number') throw new Error(`'${step}' is not a number: ${faults.join('; ')}`);
      return found.si;
    },
    verdict: (check: string) => evaluated?.checks.find((c) => c.name === check)?.verdict,
    missing: (check: string) => evaluated?.checks.find((c) => c.name === check)?.missing,
    cautions: evaluated?.cautions.map(({ id }) => id) ?? [],
  };
}
