import { expect, test } from 'vitest';
import { SUBMITTAL } from '../../src/source/read-submittal.ts';
import { submittalSchema } from '../../src/source/submittal-schema.ts';

test('the schema of a submittal has the keys that are read, and asks for those that are required', () => {
  const { properties, required } = submittalSchema() as {
    properties: Record<string, unknown>;
    required: string[];
  };
  const read = Object.entries(SUBMITTAL);
  expect(Object.keys(properties).sort()).toEqual(read.map(([key]) => key).sort());
  const needed = read.filter(([, field]) => field.required).map(([key]) => key);
  expect([...required].sort()).toEqual(needed.sort());
});
