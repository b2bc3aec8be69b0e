import fc from 'fast-check';
import { expect, test } from 'vitest';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import type { CompiledCalculation } from '../../src/engine/definition/compiled.ts';
import { evaluateCondition, evaluateFormula } from '../../src/formula/evaluate-formula.ts';
import type { Formula, FormulaValue } from '../../src/formula/formula.ts';
import { parseCondition, parseFormula } from '../../src/formula/parse-formula.ts';
import { compareTrends, level, trend } from '../../src/formula/trend.ts';
import { type TrendScope, trendOfCondition, trendOfFormula } from '../../src/formula/trend-of-formula.ts';
import type { Unit } from '../../src/quantity/unit.ts';

/** A name that falls or rises evenly from one value to another; a name with one value stays. */
type Course = readonly [from: number, to: number];

const courses = fc.oneof(
  fc.tuple(fc.double({ min: 1e-3, max: 1e3, noNaN: true }), fc.double({ min: 1e-3, max: 1e3, noNaN: true })),
  fc.tuple(fc.double({ min: -5, max: 5, noNaN: true }), fc.double({ min: -5, max: 5, noNaN: true })),
  fc.double({ min: -10, max: 1e3, noNaN: true }).map((value) => [value, value] as const),
  fc.constantFrom<Course>([0, 0], [0, 1], [1, 1], [-1, 0], [2, 0]),
);

const PARTS = Array.from({ length: 12 }, (_, i) => i / 11);

/** Where a name stands at a part of the stretch; never before where it stood at an earlier part. */
function valueAt([from, to]: Course, part: number): number {
  const value = from + (to - from) * part;
  return Math.min(Math.max(value, Math.min(from, to)), Math.max(from, to));
}

function scopeOf(names: ReadonlyMap<string, Course>): TrendScope {
  return {
    trendOf: (name) => {
      const course = names.get(name);
      return course && trend(Math.min(...course), Math.max(...course), Math.sign(course[1] - course[0]));
    },
    optionOf: () => undefined,
    has: (name) => names.has(name),
  };
}

test('what is told of a formula of the catalogue holds of its values all over the stretch', () => {
  let told = 0;
  for (const [index, { formula, numeric, isCondition }] of formulasOfCatalogue().entries()) {
    const arbitrary = fc.tuple(...formula.names.map(() => courses));
    for (const sample of fc.sample(arbitrary, { numRuns: 12, seed: index })) {
      const names = new Map(formula.names.map((name, i) => [name, sample[i]!]));
      const at = (part: number) =>
        new Map<string, FormulaValue>([...names].map(([name, course]) => [name, valueAt(course, part)]));
      const scope = scopeOf(names);
      if (isCondition) {
        const truth = trendOfCondition(formula)(scope);
        if (!truth) continue;
        told += 1;
        const found = PARTS.map((part) => evaluateCondition(formula, at(part)));
        const verdicts = found.map((reading) => (reading.ok ? Number(reading.value) : Number.NaN));
        if (truth.always !== undefined) expect(new Set(verdicts)).toEqual(new Set([Number(truth.always)]));
        expectSlope(verdicts, truth.slope);
        continue;
      }
      const found = trendOfFormula(formula, numeric)(scope);
      if (!found) continue;
      told += 1;
      const values = PARTS.map((part) => evaluateFormula(formula, at(part), { numeric }));
      const numbers = values.map((reading) => (reading.ok ? reading.value : Number.NaN));
      expect(numbers.filter((number) => !(number >= found.low && number <= found.high))).toEqual([]);
      expectSlope(numbers, found.slope);
    }
  }
  expect(told).toBeGreaterThan(8_000);
});

test('verdicts at the edge of equality turn once', () => {
  const limit = 0.7;
  for (const operator of ['<=', '<'] as const) {
    // Binary fractions one after the other, through both edges of what counts as equal.
    for (const edge of [1 - 1e-9, 1, 1 + 1e-9]) {
      const step = 2 ** -53;
      const values = Array.from({ length: 400 }, (_, i) => limit * edge + (i - 200) * step);
      const truths = values.map((value) => compareTrends(level(value)!, operator, level(limit)!)!.always);
      expectSlope(truths.map(Number), -1);
    }
  }
});

test('nothing is told where a divisor passes nought, a root has no value, or a name has none everywhere', () => {
  const scope = scopeOf(new Map([['x', [-1, 3] as const]]));
  expect(trendOfFormula(formulaOf('6 / (x + 2)'), undefined)(scope)).toEqual({
    low: 1.2,
    high: 6,
    slope: -1,
  });
  expect(trendOfFormula(formulaOf('6 / x'), undefined)(scope)).toBeUndefined();
  expect(trendOfFormula(formulaOf('sqrt(x + 1)'), undefined)(scope)).toEqual({ low: 0, high: 2, slope: 1 });
  expect(trendOfFormula(formulaOf('sqrt(x)'), undefined)(scope)).toBeUndefined();
  // Of a power the ends alone.
  expect(trendOfFormula(formulaOf('(x + 2)^2'), undefined)(scope)?.slope).toBeNaN();
  expect(trendOfCondition(formulaOf('x < 3.1'))(scope)).toEqual({ always: true, slope: 0 });
  expect(trendOfCondition(formulaOf('x < 3'))(scope)).toEqual({ always: undefined, slope: -1 });
  expect(trendOfCondition(formulaOf('given x or x < 3'))(scope)?.always).toBe(true);
  expect(trendOfCondition(formulaOf('given x'))({ ...scope, has: () => undefined })?.always).toBeUndefined();
});

function formulaOf(text: string): Formula {
  const reading = [parseFormula(text), parseCondition(text)].find(({ ok }) => ok);
  if (!reading?.ok) throw new Error(text);
  return reading.value;
}

function expectSlope(values: readonly number[], slope: number): void {
  const wrong = values.slice(1).filter((after, i) => {
    const before = values[i]!;
    if (slope === 0) return after !== before;
    return slope === 1 ? !(after >= before) : slope === -1 && !(after <= before);
  });
  expect(wrong).toEqual([]);
}

interface Written {
  readonly formula: Formula;
  readonly numeric?: ReadonlyMap<string, Unit> | undefined;
  readonly isCondition: boolean;
}

function formulasOfCatalogue(): Written[] {
  return [...CALCULATIONS.values()].flatMap(formulasOf);
}

function formulasOf({ steps, checks, validity }: CompiledCalculation): Written[] {
  const condition = (formula: Formula | undefined) => (formula ? [{ formula, isCondition: true }] : []);
  return [
    ...steps.flatMap(({ when, words, work }) => [
      ...condition(when),
      ...words.flatMap((one) => condition(one.when)),
      ...(work.kind === 'formula'
        ? work.variants.flatMap((one) => [...condition(one.when), { ...one, isCondition: false }])
        : []),
    ]),
    ...checks.flatMap(({ candidates }) =>
      candidates.flatMap(({ value, limit }) =>
        [value, limit].map((formula) => ({ formula, isCondition: false })),
      ),
    ),
    ...validity.flatMap((one) => condition(one.condition)),
  ];
}
