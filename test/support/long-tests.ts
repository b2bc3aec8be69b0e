import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '../..');
const TESTS = join(ROOT, 'test');

/**
 * Tests that the long run alone works, `npm run endurance`, and what the suite has of the same kind. Beside them the long run works
 * every file that asks `at-length.ts` how many of its cases are its own, or `example-prints.ts` for all examples.
 */
export const ONLY_AT_LENGTH: Readonly<Record<string, readonly string[]>> = {
  'accessibility/handbook-site': ['accessibility/examples', 'handbook/handbook-site'],
  'hostile/forged-pages': ['hostile/verify-attacks', 'end-to-end/sign-off-story'],
  'hostile/signature-attacks': ['hostile/verify-attacks', 'pdf/sign-pdf', 'cms/judge-revocation'],
  'hostile/key-attacks': ['hostile/verify-attacks', 'end-to-end/sign-off-refusals'],
  'hostile/ambiguous-files': ['pdf/read-pdf', 'pdf/damaged-pdf'],
};

/** The files of the long run, from the root of the repository. */
export function longTests(): string[] {
  return readdirSync(TESTS, { recursive: true, encoding: 'utf8' })
    .map((file) => join(TESTS, file))
    .filter((path) => path.endsWith('.endurance.ts') || (path.endsWith('.test.ts') && isLong(path)))
    .map((path) => relative(ROOT, path));
}

/** The files that are no part of the suite. */
export const onlyAtLength = (): string[] => Object.keys(ONLY_AT_LENGTH).map((name) => `test/${name}.test.ts`);

function isLong(path: string): boolean {
  return (
    onlyAtLength().includes(relative(ROOT, path)) ||
    /from '[./]*\/support\/at-length\.ts'|\bEXAMPLES\b.*\/support\/example-prints\.ts'/.test(
      readFileSync(path, 'utf8'),
    )
  );
}
