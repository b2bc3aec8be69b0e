import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DOMAINS } from '../../../src/engine/calculations/registry.ts';
import { withDefaults } from '../../../src/engine/definition/apply-defaults.ts';
import type { CompiledCalculation } from '../../../src/engine/definition/compiled.ts';
import { compute } from '../../../src/engine/definition/compute.ts';
import { formulaValues } from '../../../src/engine/definition/inputs.ts';
import { judgeCheck } from '../../../src/engine/definition/judge-check.ts';
import { oneByOne } from '../../../src/engine/definition/piece-task.ts';
import { PointJudge } from '../../../src/engine/definition/point-judge.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import { solveLimiting } from '../../../src/engine/definition/solve-limiting.ts';
import type { FormulaValue } from '../../../src/formula/formula.ts';

/** Judges that count how many values are asked for; one of them tells nothing of how verdicts go, so that each value is asked for. */
class CountingJudge extends PointJudge {
  asked = 0;
  told = 0;
  readonly #telling: boolean;

  constructor(calculation: CompiledCalculation, values: ReadonlyMap<string, FormulaValue>, telling: boolean) {
    super(calculation, values, oneByOne, compute(calculation, values));
    this.#telling = telling;
  }

  override scan(...question: Parameters<PointJudge['scan']>): ReturnType<PointJudge['scan']> {
    const scan = super.scan(...question);
    return {
      ...scan,
      at: (si) => {
        this.asked += 1;
        return scan.at(si);
      },
      trends: (...stretch) => {
        const trends = this.#telling ? scan.trends(...stretch) : undefined;
        if (trends) this.told += 1;
        return trends;
      },
    };
  }
}

/** The values of a piece of evidence, and others: each quantity by a factor of its own. */
function valuesOf(calculation: CompiledCalculation, seed: number): ReadonlyMap<string, FormulaValue>[] {
  return calculation.definition.evidence.slice(0, 3).flatMap(({ given }, i) => {
    const written = formulaValues(calculation, withDefaults(calculation, evidenceInputs(calculation, given)));
    const names = [...written].filter(
      ([name, value]) => typeof value === 'number' && isFree(calculation, name),
    );
    const factors = fc.tuple(...names.map(() => fc.double({ min: 0.4, max: 2.5, noNaN: true })));
    return [
      written,
      ...fc.sample(factors, { numRuns: 3, seed: seed + i }).map((sample) => {
        return new Map([
          ...written,
          ...names.map(([name, value], at) => [name, (value as number) * sample[at]!] as const),
        ]);
      }),
    ];
  });
}

function isFree({ givens }: CompiledCalculation, name: string): boolean {
  const given = givens.get(name)?.definition;
  return given?.type === 'quantity' && given.whole !== true;
}

describe('a limiting value is the same, to the last bit, whether each value is asked for or what others tell is used', () => {
  let told = 0;
  const asked = { each: 0, few: 0 };
  for (const { calculations } of DOMAINS) {
    // Of those with simulations nothing can be told, and they take long.
    for (const calculation of calculations.filter(
      (one) => !one.definition.solutions && one.limiting.length > 0,
    )) {
      test(calculation.definition.name, () => {
        for (const values of valuesOf(calculation, told)) {
          const state = compute(calculation, values);
          const judged = calculation.checks.filter(
            (check) => judgeCheck(calculation, check, state)?.met !== undefined || check.when,
          );
          for (const { definition } of calculation.limiting) {
            const nominal = values.get(definition.given);
            if (typeof nominal !== 'number') continue;
            const [each, few] = [false, true].map(
              (telling) => new CountingJudge(calculation, values, telling),
            );
            // At another point too, as where a given has a range.
            const other = [...values].find(
              ([name, value]) =>
                name !== definition.given && typeof value === 'number' && isFree(calculation, name),
            );
            const points = other ? [new Map([[other[0], (other[1] as number) * 1.1]])] : [];
            const found = [each!, few!].map((judge) =>
              solveLimiting(calculation, definition, judged, judge, nominal, points),
            );
            expect(found[1]).toEqual(found[0]);
            told += few!.told;
            if (few!.told > 0) {
              asked.each += each!.asked;
              asked.few += few!.asked;
            }
          }
        }
      });
    }
  }

  test('and many of them are found with few values', () => {
    expect(told).toBeGreaterThan(200);
    expect(asked.few).toBeLessThan(asked.each / 3);
  });
});
