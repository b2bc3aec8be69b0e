import { describe, expect, test } from 'vitest';
import { DOMAINS } from '../../../src/engine/calculations/registry.ts';
import type { EvaluatedStep } from '../../../src/engine/definition/evaluated.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import { typesetMath } from '../../../src/page/typeset-math.ts';
import { toSi } from '../../../src/quantity/quantity.ts';
import { evaluateTex } from '../../support/evaluate-tex.ts';

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

function expectRecomputable(step: EvaluatedStep): void {
  const { result, numbersTex } = step;
  if (numbersTex === '' || result.type !== 'number') return;
  const { displayed, unit } = result;
  const recomputed = evaluateTex(numbersTex);
  // An empirical formula gives a number in the unit of its result.
  const [printed, lastDigit] = step.numericUnits
    ? [displayed.value, displayed.lastDigit]
    : [
        toSi(displayed.value, unit),
        Math.abs(toSi(displayed.value + displayed.lastDigit, unit) - toSi(displayed.value, unit)),
      ];
  const apart = Math.abs(recomputed - printed);
  expect(apart, `${step.name}: ${numbersTex} = ${recomputed}, printed ${displayed.text}`).toBeLessThanOrEqual(
    lastDigit * (1 + 1e-6),
  );
}
