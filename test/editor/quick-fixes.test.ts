import { expect, test } from 'vitest';
import { TextLines } from '../../src/diagnostics/text-lines.ts';
import { Evaluator } from '../../src/editor/evaluation/evaluator.ts';
import type { FoundDiagnostic } from '../../src/editor/evaluation/outcome.ts';
import { quickFixes } from '../../src/editor/fixes/quick-fixes.ts';
import { noteWith, PROJECT } from '../support/write-project.ts';
import { readingOf } from './reading-of.ts';

const GIVEN = `arrangement: common-earth
residual_voltage: 33 kV peak
line_lead: 0.6 m
earth_lead: 1.4 m
steepness: 10 kA/us
impulse_withstand: !ref equipment.TX1.withstand`;
const SOUND = `${noteWith(GIVEN)}\nThe lead is {{ trial.line_lead }} long.\n`;

function errorsOf(text: string): readonly FoundDiagnostic[] {
  const { diagnostics } = new Evaluator().evaluate({
    round: 1,
    changes: [
      ['project.yaml', PROJECT],
      ['1-a.md', text],
      ['201-b.md', noteWith(GIVEN)],
    ],
    notes: ['1-a.md', '201-b.md'],
    submittals: [],
    imageFaults: new Map(),
    unread: [],
    unreadable: [],
    tableNames: [],
    found: [],
    foundIn: [],
  });
  return diagnostics.filter(({ severity }) => severity === 'error');
}

/** The text when the first fix of the first fault is made. */
function mend(text: string): string {
  const [found] = errorsOf(text);
  const lines = new TextLines(text);
  const start = lines.startOf(found!.position.line - 1) + found!.position.column - 1;
  const files = { 'project.yaml': PROJECT, '1-a.md': text, '201-b.md': noteWith(GIVEN) };
  const [fix] = quickFixes(readingOf(files), '1-a.md', found!, start, start + found!.position.length);
  if (!fix) throw new Error(`no fix for ${found!.code}: ${found!.message}`);
  return text.slice(0, fix.start) + fix.text + text.slice(fix.end);
}

test.each([
  ['a given', 'line_lead:', 'line_led:'],
  ['a key', 'calculation:', 'calculatoin:'],
  ['a calculation', 'arrester-connection', 'arester-connection'],
  ['an option', 'common-earth', 'comon-earth'],
  ['a unit', '10 kA/us', '10 kA/uss'],
  ['an entry of the register', 'equipment.TX1.withstand', 'equipment.TX1.withstnd'],
  ['a block in the prose', '{{ trial.line_lead', '{{ trail.line_lead'],
  ['a value in the prose', '{{ trial.line_lead', '{{ trial.line_laed'],
  ['a kind of block', 'yaml calc', 'yaml clac'],
])('the nearest name of %s', (_, right, wrong) => {
  const text = SOUND.replace(right, wrong);
  expect(text).not.toBe(SOUND);
  expect(mend(text)).toBe(SOUND);
});

test('the nearest name of a value of another note', () => {
  const right = `${SOUND}\n{{ 201/trial.earth_lead }}\n`;
  expect(mend(right.replace('201/trial.earth_lead', '201/trial.earth_laed'))).toBe(right);
  expect(mend(right.replace('201/trial.earth_lead', '201/trail.earth_lead'))).toBe(right);
});

test.each([
  ['line_lead: 0.6', 'line_lead: 0.6 m'],
  ['line_lead: { value: 0.6, source: tape }', 'line_lead: { value: 0.6 m, source: tape }'],
  ['line_lead: "0.6"', 'line_lead: "0.6 m"'],
])('the missing unit of %s', (wrong, right) => {
  expect(mend(SOUND.replace('line_lead: 0.6 m', wrong))).toBe(SOUND.replace('line_lead: 0.6 m', right));
});

test.each(['```yaml', '```', '```yml calc', '```calc'])('the missing mark of a block behind %s', (fence) => {
  expect(mend(SOUND.replace('```yaml calc', fence))).toBe(SOUND);
});

test.each([
  ['!ref equipment.TX1.withstand', 'equipment.TX1.withstand'],
  ['!ref 201/trial.impulse_withstand', '201/trial.impulse_withstand'],
])('the missing tag before %s', (right, wrong) => {
  const sound = SOUND.replace('!ref equipment.TX1.withstand', right);
  expect(mend(sound.replace(right, wrong))).toBe(sound);
});

test('a line for a given that is missing', () => {
  const mended = mend(SOUND.replace('  residual_voltage: 33 kV peak\n', ''));
  expect(mended).toContain('given:\n  residual_voltage: \n  arrangement');
});

test('no number is ever put in', () => {
  const text = SOUND.replace('0.6 m', '0.6 kV');
  const [found] = errorsOf(text);
  expect(found!.code).toBe('wrong-dimension');
  expect(quickFixes(readingOf({ '1-a.md': text }), '1-a.md', found!, 0, 1)).toEqual([]);
});
