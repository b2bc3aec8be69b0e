import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Collector } from '../../../src/diagnostics/collector.ts';
import { readIssueRegister } from '../../../src/review/sign-off/issue-register.ts';
import type { Issue } from '../../../src/review/sign-off/register-entry.ts';
import {
  appendEntry,
  appendIssue,
  prepareEntry,
  writeIssues,
} from '../../../src/review/sign-off/write-register.ts';
import { withoutUndefined } from '../../../src/source/without-undefined.ts';
import { told } from '../../support/told.ts';

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
  const register = readIssueRegister('issues.yaml', text, collector);
  const issues = register?.issues.map(({ place: _, ...issue }) => issue);
  return { issues, entries: register?.entries, faults: told(collector) };
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
      ...{ number: words, revision: words, date: fc.constant('2032-02-29') },
      ...{ status: words, reason: words, prepared: words, checked: words, approved: words, file: words },
      ...{ sourceSha256: words, resultsSha256: words, software: words },
      suitability: fc.option(words, { nil: undefined }),
      signOffsSha256: fc.option(words, { nil: undefined }),
      by: fc.option(words, { nil: undefined }),
      name: fc.option(words, { nil: undefined }),
      principal: fc.option(words, { nil: undefined }),
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
      expect(read(register!)).toMatchObject({ issues, faults: [] });
      expect(writeIssues(issues)).toBe(register);
    }),
    { numRuns: 100 },
  );
});

test('an empty register, and none', () => {
  for (const empty of ['', '\n', '# nothing yet\n'])
    expect(read(empty)).toEqual({ issues: [], entries: [], faults: [] });
  expect(writeIssues([])).toBeUndefined();
  expect(appendIssue('', ISSUE)).toBe(appendIssue(undefined, ISSUE));
});

const ONE = appendIssue(undefined, ISSUE);
const TWO = appendIssue(ONE, { ...ISSUE, revision: 'B' });

test.each([
  ['a revision that stands twice', appendIssue(ONE, ISSUE), 15, 'revision A of N-1 appears twice'],
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

describe('withdrawals', () => {
  const WITHDRAWAL = {
    number: 'N-1',
    revision: 'B',
    date: '2031-06-02',
    withdrawn: 'the survey was of another board',
    software: 'surgenote 1',
  };
  const withdrawn = appendIssue(TWO, WITHDRAWAL);

  test('belong to their issue, in the register and in the copy of a PDF', () => {
    const { issues, faults } = read(withdrawn);
    expect(faults).toEqual([]);
    expect(issues!.map(({ withdrawal }) => withdrawal)).toEqual([undefined, WITHDRAWAL]);
    expect(read(writeIssues(issues!)!).issues).toEqual(issues);
    const later = appendIssue(withdrawn, { ...ISSUE, revision: 'C', date: '2031-07-01' });
    expect(read(later).issues!.map(({ revision }) => revision)).toEqual(['A', 'B', 'C']);
  });

  test.each<[string, string, string]>([
    ['what was withdrawn is withdrawn again', appendIssue(withdrawn, WITHDRAWAL), 'no revision was current'],
    [
      'what was superseded is withdrawn',
      appendIssue(TWO, { ...WITHDRAWAL, revision: 'A' }),
      'revision B was current',
    ],
    [
      'what was never issued is withdrawn',
      appendIssue(TWO, { ...WITHDRAWAL, number: 'N-7' }),
      'no revision was current',
    ],
    [
      'it is withdrawn before it was issued',
      appendIssue(TWO, { ...WITHDRAWAL, date: '2031-05-13' }),
      'before the entry of 2031-05-14',
    ],
    [
      'an issue lies before the last',
      appendIssue(TWO, { ...ISSUE, revision: 'C', date: '2030-01-01' }),
      'before the entry of 2031-05-14',
    ],
    [
      'an issue supersedes what was withdrawn',
      appendIssue(withdrawn, { ...ISSUE, revision: 'C', date: '2031-07-01', supersedes: 'B' }),
      'no revision was current',
    ],
    [
      'an issue supersedes what is not current',
      appendIssue(TWO, { ...ISSUE, revision: 'C', supersedes: 'A' }),
      'revision B was current',
    ],
  ])('%s: a fault', (_, text, reason) => {
    const { issues, faults } = read(text);
    expect(issues).toBeUndefined();
    expect(faults.map(({ code }) => code)).toEqual(['register-contradiction']);
    expect(faults[0]!.message).toContain(reason);
  });
});

describe('signed entries', () => {
  const ARMOUR = '-----BEGIN SSH SIGNATURE-----\nU1NIU0lH\n-----END SSH SIGNATURE-----\n';
  const signed = prepareEntry(TWO, { ...ISSUE, revision: 'C', signed: 'ssh' });
  const token = Buffer.alloc(120, 3).toString('base64');
  const text = appendEntry(signed, ARMOUR, token);
  const more = appendIssue(text, { ...ISSUE, revision: 'D' });

  test('what was signed is read back byte for byte, whatever the line ends', () => {
    for (const register of [text, more, more.replaceAll('\n', '\r\n')]) {
      const { entries, faults } = read(register);
      expect(faults).toEqual([]);
      expect(entries![2]).toMatchObject({ text: signed.text, timeStamp: token });
      expect(entries![2]!.signature!.trim()).toBe(ARMOUR.trim());
    }
  });

  test.each([
    ['a signature that was taken away', text.replace(/^ {2}signature: \|\n(?: {4}.*\n)+/m, '')],
    [
      'a signature that was put in',
      TWO.replace(/(follows: .*\n)$/, `$1  signature: |\n    ${ARMOUR.trim().replace(/\n/g, '\n    ')}\n`),
    ],
  ])('%s is a fault', (_, register) => {
    const { issues, faults } = read(register);
    expect(issues).toBeUndefined();
    expect(faults.map(({ code }) => code)).toEqual(['register-signature-missing']);
  });

  test('what stands behind a signature is a fault, for it was not signed', () => {
    for (const forged of [
      text.replace(/$/, '  suitability: for everything\n'),
      text.replace(/^ {2}time_stamp:/m, '  suitability: for everything\n$&'),
      `${text.replace(/^ {2}file: .*\n(?![\s\S]*file:)/m, '')}  file: x.pdf\n`,
    ]) {
      const { issues, faults } = read(forged);
      expect(issues).toBeUndefined();
      expect(faults.map(({ code }) => code)).toContain('register-uncovered');
    }
  });

  test('a signature that was exchanged is a fault at the entry behind it', () => {
    const { faults } = read(more.replace('U1NIU0lH', 'U1NIU0lI'));
    expect(faults.map(({ code }) => code)).toEqual(['register-chain']);
  });
});
