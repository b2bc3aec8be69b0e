import fc from 'fast-check';
import { expect, test } from 'vitest';
import { CALCULATIONS } from '../../../src/engine/calculations/registry.ts';
import type { CompiledCalculation } from '../../../src/engine/definition/compiled.ts';
import type { EvidenceGiven } from '../../../src/engine/definition/definition.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import { trials } from '../../support/at-length.ts';
import { expectRecomputable } from '../../support/expect-recomputable.ts';
import { expectSafeLimit } from '../../support/expect-safe-limit.ts';

/** Those that simulate: each run takes seconds, and their lines stand in the evidence. */
const SLOW = ['surge-at-terminals', 'surge-network', 'surge-statistics'];
const RUNS = trials(6, 25);

type Given = Readonly<Record<string, EvidenceGiven>>;

/** The givens of evidence with each quantity, alone or in a row, multiplied by a factor of its own, in up to four digits. */
function moved(calculation: CompiledCalculation, given: Given, factors: readonly number[]): Given {
  const factor = (i: number) => factors[i % factors.length]!;
  return Object.fromEntries(
    Object.entries(given).map(([name, written], i) => {
      const definition = calculation.givens.get(name)?.definition;
      if (definition?.type === 'quantity') return [name, moveOne(written, factor(i))];
      if (definition?.type !== 'rows' || !Array.isArray(written)) return [name, written];
      const rows = written.map((row: Readonly<Record<string, string | number>>, r) =>
        Object.fromEntries(
          Object.entries(row).map(([column, cell], c) => {
            const moves = definition.columns[column]?.type === 'quantity';
            return [column, moves ? moveOne(cell, factor(i + 5 * r + c)) : cell];
          }),
        ),
      );
      return [name, rows];
    }),
  );
}

function moveOne<T>(written: T, factor: number): T | string {
  const [, number, unit] = /^(\d+(?:\.\d+)?)(\s.*)?$/.exec(String(written)) ?? [];
  if (number === undefined || isCount(number, unit) || number.length >= 12) return written;
  const value = Number((Number(number) * factor).toPrecision(4));
  return `${value.toLocaleString('en', { useGrouping: false, maximumFractionDigits: 12 })}${unit ?? ''}`;
}

const isCount = (number: string, unit: string | undefined): boolean =>
  unit === undefined && /^\d+$/.test(number);

const FACTOR = fc.oneof(
  fc.constant(1),
  fc.double({ min: 0.9, max: 1.1, noNaN: true }),
  fc.double({ min: 0.3, max: 3, noNaN: true }),
);
const FACTORS = fc.array(FACTOR, { minLength: 12, maxLength: 12 });

test.each([...CALCULATIONS].filter(([name]) => !SLOW.includes(name)))(
  '%s: recomputing a printed line from its printed numbers gives its printed result within one unit of the last digit, and no printed limit asks for less than the true one',
  (_, calculation) => {
    let lines = 0;
    fc.assert(
      fc.property(fc.constantFrom(...calculation.definition.evidence), FACTORS, (evidence, factors) => {
        let inputs: ReturnType<typeof evidenceInputs>;
        try {
          inputs = evidenceInputs(calculation, moved(calculation, evidence.given, factors));
        } catch {
          return; // A value that is not permitted, such as a count with decimals.
        }
        const outcome = runCalculation(calculation, inputs);
        if (!outcome.ok) return;
        for (const step of outcome.evaluated.steps) if (expectRecomputable(step)) lines += 1;
        for (const check of outcome.evaluated.checks) expectSafeLimit(check);
      }),
      // As it stands first, so that there are lines in any case.
      { numRuns: RUNS, examples: [[calculation.definition.evidence[0]!, Array(12).fill(1)]] },
    );
    expect(lines).toBeGreaterThan(0);
  },
);

test('a line that was content with few digits of a value recomputes still where another line asks for more of them', () => {
  const calculation = CALCULATIONS.get('earth-grid')!;
  const evidence = calculation.definition.evidence.find(({ given }) => given.touch_limit === '838.2 V')!;
  const factors = [0.947875, 1, 1, 0.3, 0.3, 1, 0.9287000000000001, 1.2615, 0.9, 0.9, 0.9, 0.9];
  const outcome = runCalculation(
    calculation,
    evidenceInputs(calculation, moved(calculation, evidence.given, factors)),
  );
  expect(outcome.ok).toBe(true);
  const lines = outcome.ok ? outcome.evaluated.steps.filter((step) => expectRecomputable(step)) : [];
  expect(lines.length).toBeGreaterThan(5);
});
