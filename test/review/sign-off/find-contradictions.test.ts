import { describe, expect, test } from 'vitest';
import {
  findRecordContradictions,
  findReviewContradictions,
  findSourceContradictions,
} from '../../../src/review/sign-off/find-contradictions.ts';
import type { Issue } from '../../../src/review/sign-off/register-entry.ts';
import type { Statement } from '../../../src/review/sign-off/statement.ts';
import { evaluateText } from '../evaluate-text.ts';

function noteWith(front: readonly string[], ...text: readonly string[]) {
  const head = ['number: "7"', 'title: Yard', 'revision: B', 'status: for-review', 'date: 2033-04-05'];
  return evaluateText(['---', ...head, ...front, '---', '', ...text, ''].join('\n'));
}

const ROW_A =
  '  - { revision: A, date: 2032-09-01, reason: first, prepared: adams, checked: brown, approved: clark }';
const whats = (found: readonly { readonly what: string }[]) => found.map(({ what }) => what);

describe('of the source', () => {
  test('one day and one set of people are no contradiction', () => {
    const row = '  - { revision: B, date: 2033-04-05, reason: more, prepared: adams }';
    expect(
      findSourceContradictions(noteWith(['prepared: adams', 'checked: brown', 'revisions:', ROW_A, row])),
    ).toEqual([]);
  });

  test('another day, and another person', () => {
    const row = '  - { revision: B, date: 2033-04-04, reason: more, prepared: adams, checked: brown }';
    const note = noteWith(['prepared: clark', 'checked: brown', 'revisions:', ROW_A, row]);
    expect(whats(findSourceContradictions(note))).toEqual([
      'the note is dated 2033-04-05, and revision B in its history 2033-04-04',
      "the note names 'clark' as 'prepared', and its history 'adams' for the same revision",
    ]);
  });

  test('an edition that is applied and not stated, while another is stated', () => {
    const block = (ofCase: string) =>
      [
        '```yaml calc',
        'id: limits',
        'calculation: touch-and-step-limits',
        'title: Limits',
        ofCase,
        'given:',
        '  method: ieee-80-1986',
        '  duration: 0.5 s',
        '  resistivity: 100 ohm m',
        '```',
      ].filter((line) => line !== '');
    const stating = (standards: string, ofCase = '') =>
      whats(findSourceContradictions(noteWith([`standards: [${standards}]`], ...block(ofCase))));
    const [first, ...others] = stating('IEEE 80-2013');
    expect(first).toBe(
      "'Limits' applies IEEE Std 80-1986, and the note states that it applies the edition of 2013",
    );
    expect(others).toEqual([]);
    expect(stating('IEEE Std 80-2013, IEEE Std 80-1986')).toEqual([]);
    expect(stating('IEEE 80-2013', 'case: alternative')).toEqual([]);
    expect(stating('BS 7430:2011')).toEqual([]);
  });
});

const STATEMENT: Statement = {
  note: '7',
  file: '7.md',
  revision: 'B',
  role: 'prepared',
  by: 'adams',
  name: 'A. Adams',
  date: '2033-04-05',
  independent: [],
  comments: [],
  sourceSha256: 's',
  resultsSha256: 'r',
  follows: 'none',
  software: 'x',
};
const ISSUE: Issue = {
  number: '7',
  revision: 'A',
  date: '2032-09-09',
  status: 'for-review',
  reason: 'first',
  file: '7.pdf',
  software: 'x',
  prepared: 'A. Adams, 2032-09-02',
  checked: 'B. Brown, 2032-09-03',
  approved: 'D. Drew, 2032-09-04',
  sourceSha256: 's',
  resultsSha256: 'r',
};
const PEOPLE = {
  people: [
    { key: 'adams', name: 'A. Adams' },
    { key: 'brown', name: 'B. Brown' },
    { key: 'clark', name: 'C. Clark' },
  ],
};

describe('of what was signed and issued', () => {
  const signed = (date: string) =>
    whats(
      findReviewContradictions(noteWith(['revisions:', ROW_A]), PEOPLE, {
        signOffs: [{ role: 'prepared', state: 'valid', statement: { ...STATEMENT, date } }],
        issues: [],
      }),
    );

  test('a note that is dated after it was signed', () => {
    expect(signed('2033-04-05')).toEqual([]);
    expect(signed('2033-04-04')).toEqual([
      "the note is dated 2033-04-05, and was signed as 'prepared' before, on 2033-04-04",
    ]);
  });

  test('a history that names others than the register', () => {
    const found = findReviewContradictions(noteWith(['revisions:', ROW_A]), PEOPLE, {
      signOffs: [],
      issues: [ISSUE],
    });
    expect(whats(found)).toEqual([
      "the history names C. Clark as 'approved' of revision A, and the register D. Drew",
    ]);
  });
});

describe('of a checker’s record', () => {
  const note = noteWith(
    [],
    '```yaml assumptions',
    '- { id: A4, text: Soil as measured, state: confirmed, closed_by: report 12 }',
    '- { id: A5, text: Fault cleared in time, state: to be confirmed }',
    '```',
  );
  const record = (comment: string, answer = 'see there') => ({
    independent: [
      { value: 'a.b', here: '1', found: '1', difference: '0 %', remark: 'assumption A5, by hand' },
    ],
    comments: [{ comment, answer, closed: '2033-04-04' }],
  });

  test('that speaks of what the note lists, as the note has it', () => {
    expect(findRecordContradictions(note, record('On what rests assumption A4?', 'report 12'))).toEqual([]);
    expect(findRecordContradictions(note, record('Assumption A5 is still to be confirmed'))).toEqual([]);
    expect(findRecordContradictions(note, record('Open point H9 of note 004 remains'))).toEqual([]);
  });

  test('that speaks of what is not there, or is settled in the note', () => {
    expect(whats(findRecordContradictions(note, record('see assumption A6 and open point H2')))).toEqual([
      "the checker's record speaks of assumption A6, and the note lists none of that id",
      "the checker's record speaks of open point H2, and the note lists none of that id",
    ]);
    expect(
      whats(findRecordContradictions(note, record('Assumption A4?', 'accepted, still to be confirmed'))),
    ).toEqual(["the checker's record calls assumption A4 to be confirmed, and the note has it confirmed"]);
  });
});
