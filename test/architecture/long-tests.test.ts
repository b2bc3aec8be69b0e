import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { longTests, ONLY_AT_LENGTH } from '../support/long-tests.ts';

const TESTS = resolve(import.meta.dirname, '..');
const fileOf = (name: string): string => `${name}.test.ts`;
const long = longTests();

test.each(Object.entries(ONLY_AT_LENGTH))(
  '%s is worked at length, and some of its kind in the suite',
  (name, inSuite) => {
    expect(existsSync(join(TESTS, fileOf(name)))).toBe(true);
    expect(long).toContain(`test/${fileOf(name)}`);
    expect(inSuite.length).toBeGreaterThan(0);
    for (const one of inSuite) {
      expect(existsSync(join(TESTS, fileOf(one))), one).toBe(true);
      expect(Object.keys(ONLY_AT_LENGTH)).not.toContain(one);
    }
  },
);

test('what has more cases at length is worked at length', () => {
  for (const name of ['hostile/verify-attacks', 'accessibility/examples', 'end-to-end/printed-pages'])
    expect(long).toContain(`test/${fileOf(name)}`);
  expect(long.filter((path) => path.endsWith('.endurance.ts')).length).toBeGreaterThan(5);
  expect(long).not.toContain('test/architecture/long-tests.test.ts');
});
