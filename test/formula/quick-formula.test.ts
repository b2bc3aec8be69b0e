import fc from 'fast-check';
import { expect, test } from 'vitest';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import type { CompiledCalculation } from '../../src/engine/definition/compiled.ts';
import { evaluateCondition, evaluateFormula } from '../../src/formula/evaluate-formula.ts';
import type { Formula, FormulaValue, Node } from '../../src/formula/formula.ts';
import { childrenOf } from '../../src/formula/node-kind.ts';
import type { Unit } from '../../src/quantity/unit.ts';

/** At a row of a table that nothing belongs to a formula is evaluated as it stands. */
const AS_IT_STANDS = new Map([['no such table', 0]]);

interface Written {
  readonly formula: Formula;
  readonly numeric?: ReadonlyMap<string, Unit> | undefined;
  readonly isCondition: boolean;
}

/** Values that formulas meet: absent, nought, tiny, huge, negative, the options that they name, lists. */
const numbers = fc.oneof(
  fc.constantFrom(0, -0, 1, -1, 1e-300, 1e300, 0.5),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
);

test('a formula of the catalogue has the same value, condition or fault with and without the short cut', () => {
  const written = [...CALCULATIONS.values()].flatMap(formulasOf);
  expect(written.length).toBeGreaterThan(1500);
  let answered = 0;
  for (const [index, { formula, numeric, isCondition }] of written.entries()) {
    const options = optionsIn(formula.root);
    const value = fc.oneof(
      { weight: 6, arbitrary: numbers },
      { weight: options.length > 0 ? 6 : 1, arbitrary: fc.constantFrom('none of these', ...options) },
      { weight: 1, arbitrary: fc.array(numbers, { maxLength: 3 }) },
      { weight: 1, arbitrary: fc.constant(undefined) },
    );
    const values = fc.tuple(...formula.names.map(() => value));
    for (const sample of fc.sample(values, { numRuns: 25, seed: index })) {
      const given = new Map<string, FormulaValue>(
        formula.names.flatMap((name, i) => (sample[i] === undefined ? [] : [[name, sample[i]]])),
      );
      const at = { numeric, rows: AS_IT_STANDS };
      if (isCondition) {
        expect(evaluateCondition(formula, given)).toEqual(evaluateCondition(formula, given, at));
      } else {
        const quick = evaluateFormula(formula, given, { numeric });
        expect(quick).toEqual(evaluateFormula(formula, given, at));
        if (quick.ok) answered += 1;
      }
    }
  }
  expect(answered).toBeGreaterThan(5000);
});

function formulasOf(calculation: CompiledCalculation): Written[] {
  const condition = (formula: Formula | undefined) => (formula ? [{ formula, isCondition: true }] : []);
  const value = (formula: Formula, numeric?: ReadonlyMap<string, Unit>) => ({
    formula,
    numeric,
    isCondition: false,
  });
  return [
    ...calculation.steps.flatMap(({ when, words, work }) => [
      ...condition(when),
      ...words.flatMap((one) => condition(one.when)),
      ...(work.kind === 'formula'
        ? work.variants.flatMap((one) => [...condition(one.when), value(one.formula, one.numeric)])
        : []),
    ]),
    ...calculation.checks.flatMap(({ when, candidates }) => [
      ...condition(when),
      ...candidates.flatMap((one) => [...condition(one.when), value(one.value), value(one.limit)]),
    ]),
    ...calculation.validity.flatMap((one) => condition(one.condition)),
    ...calculation.cautions.flatMap(({ when }) => condition(when)),
  ];
}

function optionsIn(node: Node): string[] {
  return [...(node.type === 'choice' ? [node.option] : []), ...childrenOf(node).flatMap(optionsIn)];
}
