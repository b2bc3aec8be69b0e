import { expect, test } from 'vitest';
import { frontMatterSchema, RECIPIENTS } from '../../src/source/document-schema.ts';
import { projectSchema } from '../../src/source/project-schema.ts';
import { RECIPIENT } from '../../src/source/read-distribution.ts';
import { FRONT_MATTER } from '../../src/source/read-front-matter.ts';
import { LETTERHEAD } from '../../src/source/read-letterhead.ts';
import { PROJECT } from '../../src/source/read-project.ts';
import type { Shape } from '../../src/source/read-shape.ts';

interface Keys {
  readonly properties: Readonly<Record<string, unknown>>;
  readonly required: readonly string[];
}

function expectSameKeys(schema: unknown, read: Shape): void {
  const { properties, required } = schema as Keys;
  expect(Object.keys(properties).sort()).toEqual(Object.keys(read).sort());
  const needed = Object.entries(read).filter(([, field]) => field.required);
  expect([...required].sort()).toEqual(needed.map(([key]) => key).sort());
}

test('the schemas of front matter and project have the keys that are read, and ask for those that are required', () => {
  expectSameKeys(frontMatterSchema(), FRONT_MATTER);
  expectSameKeys(projectSchema(), PROJECT);
});

test('the schemas of a recipient and of a letterhead have the keys that are read', () => {
  const [, recipient] = RECIPIENTS.items.oneOf;
  expect(Object.keys(recipient.properties)).toEqual(Object.keys(RECIPIENT));
  const { letterhead } = projectSchema().properties as { letterhead: Keys };
  expect(Object.keys(letterhead.properties)).toEqual(Object.keys(LETTERHEAD));
});
