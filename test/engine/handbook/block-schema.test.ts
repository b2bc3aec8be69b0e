import { expect, test } from 'vitest';
import { CALCULATIONS } from '../../../src/engine/calculations/registry.ts';
import { blockSchema } from '../../../src/engine/handbook/block-schema.ts';
import { CALC_KEYS } from '../../../src/source/read-calc-block.ts';
import { SCHEDULE_KEYS } from '../../../src/source/read-schedule-block.ts';

const schema = blockSchema(CALCULATIONS.values()) as {
  properties: Record<string, unknown>;
  allOf: { if: { not?: unknown }; then: { properties: { given: { required?: string[] } } } }[];
};

test('an editor knows every key that a calculation block may have', () => {
  expect(Object.keys(schema.properties).sort()).toEqual([...CALC_KEYS].sort());
});

test('an editor asks for no given of a block that takes givens from a base or from the register', () => {
  const asking = schema.allOf.filter(({ then }) => then.properties.given.required !== undefined);
  expect(asking).toHaveLength(CALCULATIONS.size);
  for (const one of asking) {
    expect(one.if.not).toEqual({ anyOf: [{ required: ['based_on'] }, { required: ['givens_from'] }] });
  }
});

test('an editor knows every key that a schedule may have', () => {
  const { $defs } = schema as unknown as { $defs: { schedule: { properties: Record<string, unknown> } } };
  expect(Object.keys($defs.schedule.properties).sort()).toEqual([...CALC_KEYS, ...SCHEDULE_KEYS].sort());
});
