import { describe, expect, test } from 'vitest';
import { Collector } from '../../../src/diagnostics/collector.ts';
import { findFormalGaps } from '../../../src/review/sign-off/formal-gaps.ts';
import type { SignOff } from '../../../src/review/sign-off/judge-sign-offs.ts';
import { reviewNote } from '../../../src/review/sign-off/note-review.ts';
import { refuseIssue } from '../../../src/review/sign-off/refuse-issue.ts';
import type { Issue } from '../../../src/review/sign-off/register-entry.ts';
import { ROLES } from '../../../src/review/sign-off/roles.ts';
import type { Statement } from '../../../src/review/sign-off/statement.ts';
import { readProject } from '../../../src/source/read-project.ts';
import { noteTexts, positionOf } from '../../support/told.ts';
import { evaluateText } from '../evaluate-text.ts';

const PROJECT = `title: Trial
client: A board
site: A quay
company: { name: An office }
people:
  adams: { name: A. Adams }
  brown: { name: B. Brown }
  clark: { name: C. Clark }
`;
const NOTE = `---
number: N-1
title: A note
revision: B
status: for-review
date: 2031-05-14
prepared: adams
checked: brown
approved: clark
revisions:
  - { revision: A, date: 2031-01-14, reason: first issue }
  - { revision: B, date: 2031-05-14, reason: as built }
---

## Purpose

None.
`;
const OPEN = `
\`\`\`yaml holds
- { id: H1, missing: a length, effect: the voltage }
- { id: H2, missing: a width, effect: the voltage, state: closed, closed_by: survey }
\`\`\`
`;

const load = (note: string, project = PROJECT) => ({
  note: evaluateText(note, '001.md', project),
  project: readProject('project.yaml', project, new Collector())!,
});

const statement = (day: string): Statement => ({
  ...{ note: 'N-1', file: '001.md', revision: 'B', role: 'prepared', by: 'adams', name: 'A. Adams' },
  ...{ date: day, independent: [], comments: [], sourceSha256: '', resultsSha256: '', follows: 'none' },
  software: 'surgenote 1',
});
const VALID: readonly SignOff[] = ROLES.map((role) => ({
  ...{ role, state: 'valid', statement: statement('2031-05-20') },
}));
const change = (role: string, to: Partial<SignOff>): readonly SignOff[] =>
  VALID.map((one) => (one.role === role ? { ...one, ...to } : one));

const issue = (revision: string, date = '2031-02-01', number = 'N-1'): Issue => ({
  ...{
    number,
    revision,
    date,
    status: 'for-review',
    reason: 'x',
    prepared: 'a',
    checked: 'b',
    approved: 'c',
  },
  ...{ file: 'x.pdf', sourceSha256: '', resultsSha256: '', software: 'surgenote 1' },
});

describe('what stands against issue', () => {
  const refuse = (
    note = NOTE,
    signOffs = VALID,
    register: readonly Issue[] = [],
    date = '2031-05-21',
  ): string[] => {
    const loaded = load(note);
    const review = reviewNote(loaded.note.source.frontMatter, signOffs, register);
    return refuseIssue(loaded.note, loaded.project, review, date).map(({ what }) => what);
  };

  test('nothing, where all have signed', () => {
    expect(refuse()).toEqual([]);
    expect(refuse(NOTE, VALID, [issue('A'), issue('C', '2040-01-01', 'N-2')])).toEqual([]);
    expect(refuse(NOTE, VALID, [], '2031-05-20')).toEqual([]);
  });

  test.each<[string, string[], string[]]>([
    [
      'one missing',
      refuse(NOTE, change('checked', { state: 'missing' })),
      ["the sign-off 'checked' is missing"],
    ],
    [
      'one void',
      refuse(NOTE, change('approved', { state: 'void', reason: 'for a reason' })),
      ["the sign-off 'approved' is void: for a reason"],
    ],
    [
      'one dated after the issue',
      refuse(NOTE, change('approved', { statement: statement('2031-05-22') })),
      ["the sign-off 'approved' is dated 2031-05-22, after the issue"],
    ],
    ['an open hold, and not a closed one', refuse(`${NOTE}${OPEN}`), ['the hold H1 is open: a length']],
    ['issued already', refuse(NOTE, VALID, [issue('A'), issue('B')]), ['revision B has been issued']],
    [
      'an older revision than the last',
      refuse(NOTE.replace('revision: B\n', 'revision: A\n'), VALID, [issue('B')]),
      [
        'the note is dated 2031-05-14, and revision A in its history 2031-01-14',
        'revision A does not follow revision B, the last that was issued',
      ],
    ],
    [
      'a last issue that the history leaves out',
      refuse(NOTE, VALID, [issue('0')]),
      ['revision B does not follow revision 0, the last that was issued'],
    ],
    [
      'a day before the last issue',
      refuse(NOTE, VALID, [issue('A', '2031-06-01')]),
      ['2031-05-21 lies before the last issue, 2031-06-01'],
    ],
    [
      'a day after a withdrawal, and one before it',
      [{ ...issue('A'), withdrawal: { ...issue('A'), withdrawn: 'x', date: '2031-05-25' } }].flatMap(
        (one) => [...refuse(NOTE, VALID, [one], '2031-05-26'), ...refuse(NOTE, VALID, [one])],
      ),
      ['2031-05-21 lies before the last entry in the register, 2031-05-25'],
    ],
    [
      'a note and a history of later',
      refuse(NOTE.replaceAll('2031-05-14', '2031-05-23')),
      [
        ...ROLES.map(
          (role) => `the note is dated 2031-05-23, and was signed as '${role}' before, on 2031-05-20`,
        ),
        'the note is dated 2031-05-23, after the issue of 2031-05-21',
        'revision B in its history is dated 2031-05-23, after the issue of 2031-05-21',
      ],
    ],
    [
      'a history that goes back',
      refuse(NOTE.replace('2031-01-14', '2031-05-18')),
      ['revision B is dated 2031-05-14, before revision A, 2031-05-18'],
    ],
    [
      'a revision without its row',
      refuse(NOTE.replace(/^ {2}- \{ revision: B.*\n/m, '')),
      ['the revision history has no row for revision B'],
    ],
  ])('%s', (_, found, expected) => {
    expect(found).toEqual(expected);
  });

  test('everything at once, and an open hold at its place', () => {
    const loaded = load(`${NOTE}${OPEN}`);
    const review = reviewNote(loaded.note.source.frontMatter, change('prepared', { state: 'missing' }), [
      issue('B'),
    ]);
    const found = refuseIssue(loaded.note, loaded.project, review, '2031-05-21');
    expect(found).toHaveLength(3);
    const { place } = found.find((refusal) => refusal.place)!;
    expect(positionOf(place!, noteTexts(`${NOTE}${OPEN}`))).toMatchObject({ file: '001.md', line: 20 });
    for (const { hint } of found) expect(hint).not.toBe('');
  });
});

describe('what a formal document lacks', () => {
  const gaps = (note = NOTE, project = PROJECT): string[] => {
    const loaded = load(note, project);
    return findFormalGaps(loaded.note, loaded.project).map(({ what }) => what);
  };

  test('nothing', () => expect(gaps()).toEqual([]));

  test('the owner', () => {
    expect(gaps(NOTE, PROJECT.replace(/company.*\n/, ''))).toEqual([
      'the legal owner of the document is not named',
    ]);
  });

  test.each(ROLES)('somebody for %s', (role) => {
    expect(gaps(NOTE.replace(new RegExp(`^${role}: .*\\n`, 'm'), ''))).toEqual([
      `nobody is named as '${role}'`,
    ]);
  });

  test('the row of its revision', () => {
    expect(gaps(NOTE.replace('revision: B\n', 'revision: C\n'))).toEqual([
      'the revision history has no row for revision C',
    ]);
  });
});

describe('the mark of a note', () => {
  const mark = (signOffs: readonly SignOff[], register: readonly Issue[] = [], revision = 'B') =>
    reviewNote({ number: 'N-1', revision }, signOffs, register).mark;
  const VOID = change('checked', { state: 'void', reason: 'x' });

  test.each<[string, string, string]>([
    ['all have signed, and it was not issued', mark(VALID), 'draft'],
    ['nobody has been asked', mark([]), 'draft'],
    ['one is missing', mark(change('approved', { state: 'missing' })), 'draft'],
    ['one is void', mark(VOID), 'void'],
    ['one is void and one is missing', mark(VOID.slice(0, 2)), 'void'],
    ['issued, and it is the last', mark(VALID, [issue('A'), issue('B')]), 'none'],
    ['a later one was issued', mark(VALID, [issue('B'), issue('C')]), 'superseded'],
    ['a later one was issued, and it is void', mark(VOID, [issue('B'), issue('C')]), 'superseded'],
    ['an earlier one was issued', mark(VALID, [issue('A')]), 'draft'],
    ['a later one of another note', mark(VALID, [issue('B'), issue('C', '2031-06-01', 'N-2')]), 'none'],
    ['issued, and void since', mark(VOID, [issue('B')]), 'void'],
  ])('%s', (_, found, expected) => {
    expect(found).toBe(expected);
  });

  test('only the issues of the note are its own', () => {
    const { issues } = reviewNote({ number: 'N-1', revision: 'B' }, VALID, [
      issue('A'),
      issue('A', 'x', 'N-2'),
    ]);
    expect(issues).toHaveLength(1);
  });
});
