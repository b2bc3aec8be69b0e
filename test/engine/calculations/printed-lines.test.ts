import { describe, expect, test } from 'vitest';
import { DOMAINS } from '../../../src/engine/calculations/registry.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import { composePiece } from '../../../src/page/math/typeset-math.ts';
import { writeTex } from '../../../src/page/math/write-tex.ts';
import { spread } from '../../support/at-length.ts';
import { expectRecomputable } from '../../support/expect-recomputable.ts';

/** Every line that the evidence of the catalogue prints, read back from its LaTeX and computed anew. */
for (const { name: domain, calculations } of DOMAINS) {
  describe(domain, () => {
    test.each(spread(calculations, 2).map((c) => [c.definition.name, c] as const))('%s', (_, calculation) => {
      for (const evidence of calculation.definition.evidence) {
        const outcome = runCalculation(calculation, evidenceInputs(calculation, evidence.given));
        if (!outcome.ok) throw new Error(`evidence '${evidence.about}' does not run`);
        for (const step of outcome.evaluated.steps) {
          expectRecomputable(step);
          const symbol = { type: 'symbol' as const, tex: step.symbol };
          for (const piece of [symbol, step.formula, step.numbers]) {
            if (!piece) continue;
            const set = composePiece(piece, true);
            expect(set.ok, `${step.name}: ${writeTex(piece)} cannot be typeset`).toBe(true);
          }
        }
      }
    });
  });
}
