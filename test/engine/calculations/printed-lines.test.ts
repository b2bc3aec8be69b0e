import { describe, expect, test } from 'vitest';
import { DOMAINS } from '../../../src/engine/calculations/registry.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import { typesetMath } from '../../../src/page/typeset-math.ts';
import { expectRecomputable } from '../../support/expect-recomputable.ts';

/** Every line that the evidence of the catalogue prints, read back from its LaTeX and computed anew. */
for (const { name: domain, calculations } of DOMAINS) {
  describe(domain, () => {
    test.each(calculations.map((c) => [c.definition.name, c] as const))('%s', (_, calculation) => {
      for (const evidence of calculation.definition.evidence) {
        const outcome = runCalculation(calculation, evidenceInputs(calculation, evidence.given));
        if (!outcome.ok) throw new Error(`evidence '${evidence.about}' does not run`);
        for (const step of outcome.evaluated.steps) {
          expectRecomputable(step);
          for (const tex of [step.symbol, step.formulaTex, step.numbersTex]) {
            const set = typesetMath(tex);
            expect(set.ok, `${step.name}: ${tex} cannot be typeset`).toBe(true);
          }
        }
      }
    });
  });
}
