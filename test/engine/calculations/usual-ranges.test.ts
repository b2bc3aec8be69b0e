import { describe, expect, test } from 'vitest';
import { DOMAINS } from '../../../src/engine/calculations/registry.ts';
import type { CompiledCalculation } from '../../../src/engine/definition/compiled.ts';
import type { QuantityGiven } from '../../../src/engine/definition/definition.ts';
import { stepNeeds } from '../../../src/engine/definition/plan-step.ts';
import { readQuantity } from '../../../src/quantity/read-quantity.ts';
import { REASONS_OF_LINES_AND_STRUCTURES } from './unbounded-of-lines-and-structures.ts';
import { REASONS_OF_POWER_SYSTEMS } from './unbounded-of-power-systems.ts';

/**
 * A slip of a thousand in a unit (kA/ms for kA/µs) must not turn a verdict without a word: every quantity that a check
 * rests on has a range on both sides, beyond which there is a caution or an error, or a reason stands here why it has none.
 */
const REASONS: Readonly<Record<string, string>> = {
  ...REASONS_OF_POWER_SYSTEMS,
  ...REASONS_OF_LINES_AND_STRUCTURES,
};

const unused = new Set(Object.keys(REASONS));

for (const { name: domain, calculations } of DOMAINS) {
  describe(domain, () => {
    for (const calculation of calculations) {
      const { name } = calculation.definition;
      test(name, () => {
        const decisive = decisiveQuantities(calculation);
        const open = decisive.filter(([, given]) => !isBounded(given)).map(([given]) => `${name}.${given}`);
        for (const given of open) unused.delete(given);
        const without = open.filter((given) => REASONS[given] === undefined);
        expect(
          without,
          'a check rests on each: give it `usual` on both sides, or a reason in unbounded-*.ts',
        ).toEqual([]);
      });
    }
  });
}

test('every reason belongs to a quantity without a range', () => {
  expect([...unused]).toEqual([]);
});

type Quantity = Pick<QuantityGiven, 'permitted' | 'usual' | 'whole'>;

/** The quantities, lists and columns on which some check rests, through whatever steps and conditions. */
function decisiveQuantities(calculation: CompiledCalculation): (readonly [string, Quantity])[] {
  const names = namesBehindChecks(calculation);
  return Object.entries(calculation.definition.givens).flatMap(([name, given]) => {
    if (given.type === 'rows') {
      return Object.entries(given.columns).flatMap(([column, inner]) =>
        inner.type === 'quantity' && (names.has(name) || names.has(`${name}.${column}`))
          ? [[`${name}.${column}`, inner] as const]
          : [],
      );
    }
    const counts = (given.type === 'quantity' || given.type === 'list') && names.has(name);
    return counts ? [[name, given] as const] : [];
  });
}

function namesBehindChecks(calculation: CompiledCalculation): ReadonlySet<string> {
  const names = new Set<string>();
  const open = calculation.checks.flatMap((check) => [
    ...check.candidates.flatMap(({ value, limit, when }) => [
      ...value.names,
      ...limit.names,
      ...(when?.names ?? []),
    ]),
    ...(check.when?.names ?? []),
    ...check.forces.flatMap(({ when }) => when?.names ?? []),
  ]);
  for (let name = open.pop(); name !== undefined; name = open.pop()) {
    if (names.has(name)) continue;
    names.add(name);
    const step = calculation.steps.find((s) => s.name === name);
    if (!step) continue;
    const solver = step.work.kind === 'solver' ? (step.work.step.mayUse ?? []) : [];
    const words = step.words.flatMap(({ when }) => when.names);
    open.push(...stepNeeds(step), ...solver, ...words);
  }
  return names;
}

/**
 * Whether each side has an end that a slip can run against. An end at nought is none: no slip of a unit passes it. A count
 * has no unit, and from below its nought or one suffices.
 */
function isBounded({ permitted, usual, whole }: Quantity): boolean {
  const ends = [permitted, usual];
  const low = whole || ends.flatMap((range) => [range?.from, range?.above]).some(isEnd);
  const high = ends.flatMap((range) => [range?.to, range?.below]).some(isEnd);
  return low && high;
}

function isEnd(text: string | undefined): boolean {
  if (text === undefined) return false;
  const reading = readQuantity(text);
  return reading.ok && reading.value.si !== 0;
}
