import { expect, test } from 'vitest';
import { hoverAt } from '../../src/editor/describe/hover.ts';
import { Evaluator } from '../../src/editor/evaluation/evaluator.ts';
import { inlayHints } from '../../src/editor/hints/inlay-hints.ts';
import { noteWith, PROJECT } from '../support/write-project.ts';
import { readingOf } from './reading-of.ts';

const GIVEN = `arrangement: common-earth
residual_voltage: 33 kV peak
line_lead: 1.8 m
earth_lead: 7.5 m
steepness: 10 kA/us
impulse_withstand: !ref equipment.TX1.withstand`;
const FILES = {
  'project.yaml': PROJECT,
  '1-a.md': `${noteWith(GIVEN)}\nSee {{ trial.terminal_voltage }} and {{ 201/trial.line_lead }}.\n`,
  '201-b.md': noteWith(GIVEN.replace('1.8 m', '0.4 m')),
};
const reading = readingOf(FILES);
const outcome = new Evaluator().evaluate({
  round: 1,
  changes: Object.entries(FILES),
  notes: ['1-a.md', '201-b.md'],
  submittals: [],
  unread: [],
  unreadable: [],
  tableNames: [],
  found: [],
  foundIn: [],
  imageFaults: new Map(),
});

/** What is said in the first note behind the first so many characters of a text. */
function said(text: string, behind = text.length, known = true): string {
  const offset = FILES['1-a.md'].indexOf(text) + behind;
  return (
    hoverAt(reading, '1-a.md', offset, known ? outcome : undefined)?.text.replaceAll('\u00a0', ' ') ?? ''
  );
}

test('of a given its meaning, unit, ranges and symbol', () => {
  const text = said('line_le');
  expect(text).toMatch(/^- `line_lead` \(m, optional\): length of the lead/);
  expect(text).toContain('permitted from 0 m');
  expect(text).toContain('usual from');
  expect(text).toContain('symbol: `');
});

test('of a key, a calculation and an option what they mean', () => {
  expect(said('calculat')).toBe('`calculation`: name of the calculation; on a base it is that of the base');
  expect(said('arrester-con')).toMatch(/^\*\*Connection of a surge arrester\.\*\*/);
  expect(said('common-ea')).toMatch(/^`common-earth`: /);
});

test('of a reference the value, and of what it leads to formula and clause', () => {
  // 33 kV with 9.3 m of 1 uH/m at 10 kA/us: U = Up + L' l di/dt (IEC 60099-5:2018, leads of an arrester).
  const text = said('{{ trial.terminal_vol');
  expect(text).toMatch(/^\*\*126 kV\*\*/);
  expect(text).toMatch(/`terminal_voltage = .*IEC 60099-5/s);
  expect(said('{{ 201/trial.line_l')).toMatch(/^\*\*0\.4 m\*\*/);
  expect(said('equipment.TX1.with')).toMatch(
    /^\*\*75 kV peak\*\*\n\nequipment\.TX1\.withstand\n\nrating plate/,
  );
});

test('of a block its verdicts; while they are not known, that', () => {
  expect(said('{{ tri')).toMatch(/required >= .*: does not comply/);
  expect(said('{{ tri', 6, false)).toMatch(/still being computed/);
});

test('behind blocks stand their verdicts, behind references their values', () => {
  const whole = { start: 0, end: FILES['1-a.md'].length };
  const hints = inlayHints(reading, '1-a.md', whole, outcome).map(({ offset, label }) => {
    const text = FILES['1-a.md'];
    return `${text.slice(text.lastIndexOf('\n', offset - 1) + 1, offset)}  ${label.replaceAll('\u00a0', ' ')}`;
  });
  expect(hints).toEqual([
    'id: trial  withstand_margin: does not comply',
    '  impulse_withstand: !ref equipment.TX1.withstand  = 75 kV peak',
    'See {{ trial.terminal_voltage }}  = 126 kV',
    'See {{ trial.terminal_voltage }} and {{ 201/trial.line_lead }}  = 0.4 m',
  ]);
});
