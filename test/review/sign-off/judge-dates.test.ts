import { expect, test } from 'vitest';
import { verifyDates } from '../../../src/cli/verify-dates.ts';
import { findDateConflicts, type StatedDates } from '../../../src/review/sign-off/judge-dates.ts';

const DATES: StatedDates = {
  frontMatter: {
    revision: 'B',
    date: '2031-05-12',
    revisions: [
      { revision: 'A', date: '2031-01-14', reason: 'first issue' },
      { revision: 'B', date: '2031-05-12', reason: 'as built' },
    ],
  },
  statements: [
    { role: 'checked', date: '2031-05-13' },
    { role: 'prepared', date: '2031-05-12' },
    { role: 'approved', date: '2031-05-13' },
  ],
  issue: { date: '2031-05-15' },
};

test('days in their order, also the same day, are no conflict', () => {
  expect(findDateConflicts(DATES)).toEqual([]);
  const oneDay = DATES.statements.map((one) => ({ ...one, date: '2031-05-15' }));
  expect(findDateConflicts({ ...DATES, statements: oneDay })).toEqual([]);
});

const front = (change: Partial<StatedDates['frontMatter']>): Partial<StatedDates> => ({
  frontMatter: { ...DATES.frontMatter, ...change },
});

test.each<[string, Partial<StatedDates>, string]>([
  [
    'a history that goes back',
    front({ revisions: [...DATES.frontMatter.revisions].reverse() }),
    'revision A is dated 2031-01-14, before revision B, 2031-05-12',
  ],
  [
    'a note of after its issue',
    front({ date: '2031-05-16' }),
    'the issue is dated 2031-05-15, before the date of the note, 2031-05-16',
  ],
  [
    'a revision of after its issue',
    front({ revisions: [{ revision: 'B', date: '2031-06-01', reason: 'as built' }] }),
    'the issue is dated 2031-05-15, before revision B in its history, 2031-06-01',
  ],
  [
    'checked before it was prepared',
    {
      statements: [
        { role: 'prepared', date: '2031-05-14' },
        { role: 'checked', date: '2031-05-13' },
      ],
    },
    "the sign-off 'checked' is dated 2031-05-13, before the sign-off 'prepared', 2031-05-14",
  ],
  [
    'approved after it was issued',
    { statements: [{ role: 'approved', date: '2031-05-16' }] },
    "the issue is dated 2031-05-15, before the sign-off 'approved', 2031-05-16",
  ],
  [
    'withdrawn before it was issued',
    {
      issue: {
        date: '2031-05-15',
        withdrawal: { number: 'N', revision: 'B', date: '2031-05-14', withdrawn: 'x', software: 's' },
      },
    },
    'the withdrawal is dated 2031-05-14, before the issue, 2031-05-15',
  ],
])('%s cannot be', (_, change, conflict) => {
  expect(findDateConflicts({ ...DATES, ...change })).toEqual([conflict]);
  expect(verifyDates({ ...DATES, ...change }, '2035-01-01')).toMatchObject({
    state: 'contradicted',
    text: conflict,
  });
});

test('what is dated after the day of the verification is not proven, and said', () => {
  expect(verifyDates(DATES, '2031-05-15')).toMatchObject({ state: 'proven' });
  expect(verifyDates(DATES, '2031-05-14')).toMatchObject({
    state: 'not proven',
    text: expect.stringMatching(/after 2031-05-14, the day of this verification, lies what was issued$/),
  });
  const ahead = { ...DATES, issue: { date: '9999-12-31' } };
  expect(verifyDates(ahead, '2031-06-01').state).toBe('not proven');
  expect(verifyDates({ ...DATES, statements: [], issue: undefined }, '2031-06-01').state).toBe('not proven');
});
