import { expect } from 'vitest';
import type { EvaluatedStep } from '../../src/engine/definition/evaluated.ts';
import type { MathPiece } from '../../src/formula/math-piece.ts';
import { writeTex } from '../../src/page/math/write-tex.ts';
import type { Displayed } from '../../src/quantity/display.ts';
import { toSi } from '../../src/quantity/quantity.ts';
import type { Unit } from '../../src/quantity/unit.ts';
import { evaluateTex } from './evaluate-tex.ts';

/**
 * Recomputing a printed line from its printed numbers gives its printed result within one unit of the last digit. False
 * where the step prints no numbers: a table, a solver, a choice.
 */
export function expectRecomputable(step: EvaluatedStep): boolean {
  const { result, numbers, rows } = step;
  if (rows && result.type === 'list') {
    expect(rows.length, step.name).toBe(result.items.length);
    for (const [i, { displayed }] of result.items.entries()) {
      expectLine(step, rows[i]!.numbers, displayed, result.unit);
    }
    return rows.length > 0;
  }
  if (!numbers || result.type !== 'number') return false;
  expectLine(step, numbers, result.displayed, result.unit);
  return true;
}

function expectLine(step: EvaluatedStep, numbers: MathPiece, displayed: Displayed, unit: Unit): void {
  const numbersTex = writeTex(numbers);
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
