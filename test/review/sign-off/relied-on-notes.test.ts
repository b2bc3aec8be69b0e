import { expect, test } from 'vitest';
import type { SignOff } from '../../../src/review/sign-off/judge-sign-offs.ts';
import { reviewNote } from '../../../src/review/sign-off/note-review.ts';
import type { Issue } from '../../../src/review/sign-off/register-entry.ts';
import { listReliedOn } from '../../../src/review/sign-off/relied-on-notes.ts';
import { openProject } from '../../../src/session/project-session.ts';
import { FRONT_MATTER, PROJECT } from '../../support/write-project.ts';

const own = (value: string) => `\`\`\`yaml formula
id: own
given:
  x: { symbol: "x", meaning: length, unit: m, value: ${value} }
steps:
  y: { symbol: "y", meaning: its double, unit: m, formula: "2 * x" }
\`\`\``;

const note = (number: string, value: string) =>
  `${FRONT_MATTER.replace(/^number: .*$/m, `number: N-${number}`)}\n## Trial\n\n${own(value)}\n`;

/** Note 4 takes from 3 and 1, note 3 from 2, note 2 from 1. */
const { notes } = openProject([
  ['project.yaml', PROJECT],
  ['1.md', note('1', '3 m')],
  ['2.md', note('2', '!ref 1/own.y')],
  ['3.md', note('3', '!ref 2/own.y')],
  ['4.md', note('4', '!formula "{3/own.y} - {1/own.x}"')],
]).state();

const signOffs = (...states: readonly SignOff['state'][]): readonly SignOff[] =>
  (['prepared', 'checked', 'approved'] as const).map((role, i) => ({ role, state: states[i]! }));
const VALID = signOffs('valid', 'valid', 'valid');
const issue = (revision: string, more: Partial<Issue> = {}) =>
  ({ number: 'N-1', revision, date: '2031-05-20', ...more }) as Issue;

/** How note 1 stands for those that rest on it, with these sign-offs and this register. */
function stateOf(own: readonly SignOff[], register: readonly Issue[]) {
  const review = reviewNote({ number: 'N-1', revision: 'A' }, own, register);
  const [found] = listReliedOn(notes[1]!, () => ({ note: notes[0]!, review }));
  return [found!.state.words, found!.state.sound];
}

test.each([
  [['not signed off', false], signOffs('missing', 'missing', 'missing'), []],
  [['sign-off missing: approved', false], signOffs('valid', 'valid', 'missing'), []],
  [['sign-off void: checked, approved', false], signOffs('valid', 'void', 'void'), []],
  [['sign-off void: prepared', false], signOffs('void', 'valid', 'valid'), [issue('A')]],
  [['signed off, not issued', true], VALID, []],
  [['signed off, issued 2031-05-20', true], VALID, [issue('A')]],
  [['superseded by revision C', false], VALID, [issue('A'), issue('B'), issue('C')]],
  [
    ['withdrawn 2031-07-01', false],
    VALID,
    [issue('A', { withdrawal: { ...issue('A'), date: '2031-07-01', withdrawn: 'measured anew' } })],
  ],
])('%s', (said, own, register) => {
  expect(stateOf(own, register)).toEqual(said);
});

test('the notes from which values are taken come first, then those on which these rest, each once', () => {
  const review = reviewNote({ number: 'N', revision: 'A' }, VALID, []);
  const found = listReliedOn(notes[3]!, (path) => {
    const other = notes.find(({ source }) => source.path === path);
    return other && { note: other, review };
  });
  expect(found.map(({ note: { path }, through }) => [path, through])).toEqual([
    ['3.md', []],
    ['1.md', []],
    ['2.md', ['3']],
  ]);
});
