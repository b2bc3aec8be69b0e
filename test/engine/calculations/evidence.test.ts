import { describe, expect, test } from 'vitest';
import { DOMAINS } from '../../../src/engine/calculations/registry.ts';
import { runEvidence } from '../../../src/engine/definition/run-evidence.ts';

/** Every piece of evidence in every definition, run through the engine. Sources stand beside the values there. */
for (const { name: domain, calculations } of DOMAINS) {
  describe(domain, () => {
    for (const calculation of calculations) {
      const { name, evidence } = calculation.definition;
      describe(name, () => {
        test('has evidence', () => {
          expect(evidence.length).toBeGreaterThan(0);
        });
        test.each(evidence.map((e) => [`${e.kind}: ${e.about}`, e] as const))('%s', (_, piece) => {
          const lines = runEvidence(calculation, piece);
          expect(lines.length).toBeGreaterThan(0);
          for (const line of lines) {
            expect(line.agrees, `${line.name}: expected ${line.expected}, found ${line.found}`).toBe(true);
          }
        });
      });
    }
  });
}
