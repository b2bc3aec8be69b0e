import { describe, expect, test } from 'vitest';
import { DOMAINS } from '../../../src/engine/calculations/registry.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';

/** Every source that an object of a definition names. */
function sourcesIn(value: unknown, found = new Set<string>()): Set<string> {
  if (typeof value !== 'object' || value === null) return found;
  if ('kind' in value && value.kind === 'source' && 'source' in value) found.add(String(value.source));
  for (const inner of Object.values(value)) sourcesIn(inner, found);
  return found;
}

// What is calculated by one edition must not be printed as resting on another.
for (const { calculations } of DOMAINS) {
  for (const calculation of calculations) {
    const { editions, name, evidence } = calculation.definition as typeof calculation.definition & {
      readonly editions?: { readonly by: string; readonly of: Readonly<Record<string, unknown>> };
    };
    if (!editions) continue;
    const sources = new Map(Object.entries(editions.of).map(([edition, part]) => [edition, sourcesIn(part)]));
    const foreignTo = (edition: string): string[] =>
      [...sources].flatMap(([other, named]) =>
        other === edition ? [] : [...named].filter((source) => !sources.get(edition)!.has(source)),
      );
    describe(name, () => {
      test.each([...sources.keys()])('%s', (edition) => {
        const foreign = new Set(foreignTo(edition));
        let runs = 0;
        for (const { given } of evidence) {
          const outcome = runCalculation(
            calculation,
            evidenceInputs(calculation, { ...given, [editions.by]: edition }),
          );
          if (!outcome.ok) continue;
          runs += 1;
          for (const { name: what, basis } of [...outcome.evaluated.steps, ...outcome.evaluated.checks]) {
            const source = basis.kind === 'source' ? basis.source : '';
            expect(foreign.has(source), `${what} rests on ${source}`).toBe(false);
          }
        }
        expect(runs).toBeGreaterThan(0);
      });
    });
  }
}
