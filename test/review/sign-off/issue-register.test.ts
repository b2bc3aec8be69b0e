import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Collector } from '../../../src/diagnostics/collector.ts';
import {
  appendIssue,
  type Issue,
  readIssueRegister,
  writeIssues,
} from '../../../src/review/sign-off/issue-register.ts';
import { withoutUndefined } from '../../../src/source/without-undefined.ts';

const ISSUE: Issue = {
  number: 'N-1',
  revision: 'A',
  date: '2031-05-14',
  status: 'for-construction',
  reason: 'first issue',
  prepared: 'A. Adams, 2031-05-12',
  checked: 'B. Brown, 2031-05-13',
  approved: 'C. Clark, 2031-05-14',
  file: '001.rev-A.pdf',
  sourceSha256: 'aa',
  resultsSha256: 'bb',
  software: 'surgenote 1',
};

function read(text: string) {
  const collector = new Collector();
  const issues = readIssueRegister('issues.yaml', text, collector);
  return { issues: issues?.map(({ place: _, ...issue }) => issue), faults: collector.list() };
}

const words = fc
  .oneof(
    fc.string({ unit: 'grapheme', maxLength: 40 }),
    fc.constantFrom('"', 'a # b', 'a: b', '{{ a.b }}', 'two\nlines', '- x', '1.20', 'null', 'µ', '!ref a.b'),
  )
  .map((text) => text.trim())
  .filter((text) => text !== '');

test('any texts are read back, and what stood there before keeps its bytes', () => {
  const issue = fc
    .record({
      ...{ number: words, revision: words, date: fc.constantFrom('2031-05-14', '2032-02-29') },
      ...{ status: words, reason: words, prepared: words, checked: words, approved: words, file: words },
      ...{ sourceSha256: words, resultsSha256: words, software: words },
      browser: fc.option(words, { nil: undefined }),
      unsignedPdfSha256: fc.option(words, { nil: undefined }),
    })
    .map((one) => withoutUndefined(one) as Issue);
  const several = fc.uniqueArray(issue, {
    minLength: 1,
    maxLength: 3,
    selector: ({ number, revision }) => JSON.stringify([number, revision]),
  });
  fc.assert(
    fc.property(several, (issues) => {
      let register: string | undefined;
      for (const one of issues) {
        const longer = appendIssue(register, one);
        expect(longer.startsWith(register ?? '# Register of issues')).toBe(true);
        register = longer;
      }
      expect(read(register!)).toEqual({ issues, faults: [] });
      expect(writeIssues(issues)).toBe(register);
    }),
    { numRuns: 100 },
  );
});

test('an empty register, and none', () => {
  for (const empty of ['', '\n', '# nothing yet\n']) expect(read(empty)).toEqual({ issues: [], faults: [] });
  expect(writeIssues([])).toBeUndefined();
  expect(appendIssue('', ISSUE)).toBe(appendIssue(undefined, ISSUE));
});

const ONE = appendIssue(undefined, ISSUE);
const TWO = appendIssue(ONE, { ...ISSUE, revision: 'B' });

test.each([
  ['a revision that stands twice', appendIssue(ONE, ISSUE), 15, 'revision A of N-1 stands twice'],
  ['no file', ONE.replace(/^ {2}file: .*\n/m, ''), 2, "'file'"],
  ['a key that is not known', ONE.replace('  file:', '  fill:'), 10, "'fill'"],
  ['no such day', TWO.replace('"2031-05-14"', '"2031-02-30"'), 4, '2031-02-30'],
  [
    'an empty reason in the second',
    TWO.replace(/reason: first issue\n(?![\s\S]*reason)/, 'reason:\n'),
    19,
    "'reason'",
  ],
  ['marks of a merge', `${ONE}<<<<<<< HEAD\n=======\n>>>>>>> other\n`, 15, 'merge'],
  ['a mapping', 'number: N-1\n', 1, 'list'],
  ['a text that is no YAML', ONE.replace('reason: first', 'reason: "first'), 6, ''],
])('%s is a fault at its line', (_, text, line, word) => {
  const { issues, faults } = read(text);
  expect(issues).toBeUndefined();
  expect(faults.map(({ message }) => message).join('\n')).toContain(word);
  expect(faults[0]!.place).toMatchObject({ file: 'issues.yaml', line });
});

const THREE = appendIssue(TWO, { ...ISSUE, number: 'N-2' });

test.each([
  ['an entry that was removed', THREE.replace(/^- number: N-1\n {2}revision: B\n(?: {2}.*\n)+/m, '')],
  ['an entry that was changed', THREE.replace('revision: B', 'revision: C')],
  ['an entry that was put in', THREE.replace(/^- number: N-2/m, `${ONE.replace(/^#.*\n/, '')}- number: N-2`)],
  ['an entry whose digest was taken away', THREE.replace(/^ {2}follows: .*\n(?![\s\S]*follows)/m, '')],
])('%s is a fault at the entry behind it', (_, text) => {
  expect(text).not.toBe(THREE);
  const { issues, faults } = read(text);
  expect(issues).toBeUndefined();
  expect(faults.map(({ code }) => code)).toContain('register-chain');
});

test('other line ends are no change, and entries of before have no digest', () => {
  expect(read(THREE.replaceAll('\n', '\r\n')).issues).toHaveLength(3);
  const old = TWO.replace(/^ {2}follows: .*\n/gm, '');
  expect(read(old).issues).toHaveLength(2);
  expect(read(appendIssue(old, { ...ISSUE, revision: 'C' })).issues).toHaveLength(3);
});
