import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { nameLookAlikes } from '../../src/diagnostics/look-alikes.ts';
import { evaluateNote } from '../../src/evaluation/evaluate-note.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { told } from '../support/told.ts';
import { noteWith, PROJECT } from '../support/write-project.ts';

// The characters, their code points and their foldings are those of Unicode (confusables, NFKC).
describe('a character that only looks like one of ours is named', () => {
  test.each([
    ['\u043aV', "'\u043a' (U+043A) in it only looks like 'k'"],
    ['\u041aA', "'\u041a' (U+041A) in it only looks like 'K'"],
    ['\u212a', "'\u212a' (U+212A) in it only looks like 'K'"],
    ['\uff18 m', "'\uff18' (U+FF18) in it only looks like '8'"],
    ['\u33a1', "'\u33a1' (U+33A1) in it only looks like 'm2'"],
    ['l\u0456ne', "'\u0456' (U+0456) in it only looks like 'i'"],
    ['\u0391', "'\u0391' (U+0391) in it only looks like 'A'"],
    ['tx1\u2011lead', "'\u2011' (U+2011) in it only looks like '-'"],
    ['3\u200b m', 'a character that cannot be seen (U+200B) stands in it'],
    ['\u096b m', "'\u096b' (U+096B) in it is none of the digits 0 to 9"],
  ])('%s', (text, words) => expect(nameLookAlikes(text)).toBe(words));

  test.each([
    '7.5 m',
    '5 mm²',
    '10⁻³ S',
    '3 µH',
    '3 μs',
    '50 Ω m',
    '50 \u2126 m',
    '20 °C',
    '−3 m',
    '1¼ m',
    '1\u00a0m',
    'Ø 50 mm',
    'é',
  ])('%s is as it seems', (text) => expect(nameLookAlikes(text)).toBe(''));
});

function messages(given: string): string[] {
  const collector = new Collector();
  const project = readProject('project.yaml', PROJECT, collector)!;
  evaluateNote(project, readNote('1.md', noteWith(given), collector)!, collector);
  return told(collector).map(({ message, hint }) => `${message} -> ${hint ?? ''}`);
}

describe('as an author meets it', () => {
  const rest = 'arrangement: common-earth\nearth_lead: 1 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us';
  test('in a unit, a number, the name of a given, an option', () => {
    expect(messages(`line_lead: 2 \u043cm\n${rest}`)[0]).toMatch(
      /'\u043c' \(U\+043C\) in it only looks like 'm'/,
    );
    expect(messages(`line_lead: \uff12 m\n${rest}`)[0]).toMatch(
      /'\uff12' \(U\+FF12\) in it only looks like '2'/,
    );
    expect(messages(`lin\u0435_lead: 2 m\n${rest}`)[0]).toMatch(
      /looks like 'e' -> did you mean 'line_lead'\?/,
    );
    expect(messages(`line_lead: 2 m\n${rest.replace('common', 'c\u043emmon')}`)[0]).toMatch(/looks like 'o'/);
    expect(messages(`line_lead: !formula "2 \u043cm"\n${rest}`)[0]).toMatch(/looks like 'm'/);
  });
});
