import { describe, expect, test } from 'vitest';
import { DOMAINS } from '../../../src/engine/calculations/registry.ts';
import { withDefaults } from '../../../src/engine/definition/apply-defaults.ts';
import type { CompiledCalculation } from '../../../src/engine/definition/compiled.ts';
import { compute } from '../../../src/engine/definition/compute.ts';
import { formulaValues, type Inputs } from '../../../src/engine/definition/inputs.ts';
import { oneByOne } from '../../../src/engine/definition/piece-task.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import { runInShort } from '../../../src/engine/definition/run-in-short.ts';
import { Scan } from '../../../src/engine/definition/scan.ts';
import { spread, trials } from '../../support/at-length.ts';

const TOOLS = { spread: oneByOne };

/** Pieces of evidence by which a calculation is run; of those with simulations the first, which take long enough. */
function inputsOf(calculation: CompiledCalculation): Inputs[] {
  const { evidence, solutions } = calculation.definition;
  return evidence
    .slice(0, solutions ? 1 : trials(2, 6))
    .map(({ given }) => evidenceInputs(calculation, given));
}

for (const { name: domain, calculations } of DOMAINS) {
  describe(domain, () => {
    for (const calculation of spread(calculations, 3)) {
      test(`${calculation.definition.name}: in short the same verdicts, limiting values and cautions as at length`, () => {
        for (const inputs of inputsOf(calculation)) {
          const [long, short] = [runCalculation(calculation, inputs), runInShort(calculation, inputs)];
          expect(short.ok).toBe(long.ok);
          if (!long.ok || !short.ok) continue;
          expect(short.state.values).toEqual(long.state.values);
          expect(short.limiting).toEqual(long.evaluated.limiting);
          // What a figure has to caution of, nothing that is not drawn has.
          const ofFigure = long.evaluated.cautions.filter(({ id }) => id === 'figure-left-out');
          expect(short.cautions).toEqual(long.evaluated.cautions.filter((one) => !ofFigure.includes(one)));
          expect(long.evaluated.checks).toMatchObject(short.checks);
        }
      });

      test(`${calculation.definition.name}: brought to other values it is as computed there`, () => {
        for (const inputs of inputsOf(calculation).slice(0, 2)) {
          const values = formulaValues(calculation, withDefaults(calculation, inputs));
          const stated = compute(calculation, values, TOOLS);
          if (stated.faults.length > 0) continue;
          for (const [name, value] of values) {
            if (typeof value !== 'number' || calculation.definition.solutions) continue;
            if (!calculation.givens.has(name)) continue;
            const scan = new Scan(calculation, name, stated, TOOLS);
            for (const factor of [0.5, 0, 1.7, 1e3, 1]) {
              const state = scan.moveTo(value * factor);
              const anew = compute(calculation, new Map([...values, [name, value * factor]]), TOOLS);
              expect(sorted(state.values)).toEqual(sorted(anew.values));
              expect(sorted(state.words)).toEqual(sorted(anew.words));
              expect(state.faults).toEqual(anew.faults);
            }
          }
        }
      });
    }
  });
}

function sorted<T>(map: ReadonlyMap<string, T>): [string, T][] {
  return [...map].sort(([a], [b]) => (a < b ? -1 : 1));
}
