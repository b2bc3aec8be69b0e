import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import { outlineNote, outlineSummary } from '../../src/cli/outline-note.ts';
import { plainText, widthOf } from '../../src/cli/styled-line.ts';
import { ARRESTER, calcBlock, evaluateText } from '../review/evaluate-text.ts';
import { spread } from '../support/at-length.ts';

const inCase = (block: string, ofCase: string) => block.replace('given:', `case: ${ofCase}\ngiven:`);
const ARRESTER_OF = (id: string, given: Readonly<Record<string, string>>) =>
  calcBlock(id, 'arrester-connection', { ...ARRESTER, ...given });
const note = evaluateText(
  [
    inCase(ARRESTER_OF('long', { line_lead: '1.2 m', earth_lead: '5.1 m' }), 'as-found'),
    inCase(ARRESTER_OF('short', { line_lead: '0.4 m', earth_lead: '0.7 m' }), 'proposed'),
    calcBlock('wire', 'conductor-inductance', { shape: 'round-wire', length: '3 m', diameter: '8 mm' }),
  ].join('\n'),
);

const styleOf = (text: string, of = note) =>
  outlineNote(of)
    .flat()
    .find((piece) => piece.text === text)?.style;

test('a check stands in a line with its value, its limit and its verdict, and below it the values that decide', () => {
  const text = plainText(outlineNote(note));
  // By hand: 33 kV + 6.3 m * 10 kV/m = 96 kV, 75/96 = 0.781; 33 kV + 1.1 m * 10 kV/m = 44 kV, 75/44 = 1.70.
  expect(text).toMatch(/^ {4}withstand_margin {2}0\.781 {2}required >= 1\.15 {2}does not comply$/m);
  expect(text).toMatch(/^ {4}withstand_margin {2}1\.70 {2}required >= 1\.15 {2}complies$/m);
  expect(text).toMatch(/^ {6}Protective ratio .*: .*impulse_withstand 75 kV.*terminal_voltage 96\.0 kV/m);
  expect(text).toMatch(/^ {6}Protective ratio .*: .*terminal_voltage 44\.0 kV/m);
  // A calculation that judges nothing tells what comes of it.
  expect(text).toMatch(/^ {2}wire \(conductor-inductance\)\n {4}(?:\w+ [\d.]+ uH.*)$/m);
});

test('verdicts are words, and coloured by what they say', () => {
  expect([styleOf('does not comply'), styleOf('complies')]).toEqual(['bad', 'good']);
  const open = evaluateText(
    calcBlock('gap', 'spd-effective-protection-level', {
      spd_type: 'limiting',
      protection_level: '1.3 kV',
      lead_a: '0.2 m',
      lead_b: '0.1 m',
      lead_c: '0.1 m',
      steepness: '1 kA/us',
    }),
  );
  expect(styleOf('cannot be judged', open)).toBe('open');
  expect(plainText(outlineNote(open))).toMatch(/not given: .*impulse_withstand/);
});

test('the values of a check over a range are told as those that are stated', () => {
  const ranged = evaluateText(ARRESTER_OF('ranged', { earth_lead: '{ value: 5 m, range: [4 m, 6 m] }' }));
  // The check at 6 m: 33 kV + 7.8 m * 10 kV/m = 111 kV, 75/111 = 0.676; as stated 33 kV + 6.8 m * 10 kV/m = 101 kV.
  const text = plainText(outlineNote(ranged));
  expect(text).toMatch(/withstand_margin {2}0\.676 /);
  expect(text).toMatch(/at the stated values impulse_withstand 75 kV, terminal_voltage 101 kV/);
  expect(text).toContain('Met at no point examined in the range of');
});

test('cautions are counted, each once in a line; in full when asked for', () => {
  const said = note.blocks.flatMap(({ evaluated }) => evaluated.cautions);
  const short = plainText(outlineNote(note, { width: 80 })).split('\n');
  expect(short).toContain(`  ${said.length} cautions, in full with --cautions:`);
  expect(short.filter((line) => line.startsWith('    upper-bound'))).toEqual([
    expect.stringMatching(/^ {4}upper-bound \(long and 1 more\): Residual voltage, .*\.\.\.$/),
  ]);
  const full = plainText(outlineNote(note, { cautions: true }));
  expect(full.match(/^ {4}caution /gm)).toHaveLength(said.length);
  expect(full).toContain('which errs on the safe side for the residual voltage');
  expect(full).not.toContain('--cautions');
});

test('the end counts the verdicts of all notes case by case', () => {
  expect(plainText(outlineSummary([note, note], undefined))).toBe(
    [
      'Verdicts of 2 notes',
      '  As proposed: both requirements comply',
      '  As found (not required): neither requirement is met',
    ].join('\n'),
  );
  const wire = evaluateText(
    calcBlock('wire', 'conductor-inductance', { shape: 'round-wire', length: '3 m', diameter: '8 mm' }),
  );
  expect(plainText(outlineSummary([wire], 80))).toBe('Verdicts\n  no check');
});

const project = loadAndEvaluate([
  resolve(import.meta.dirname, '../../projects/corran-fold/102-protective-distance-and-insulation.md'),
  resolve(import.meta.dirname, '../../projects/ember-hill/403-devices-as-surveyed.md'),
]);

describe('no line is wider than the terminal, but for a word that is', () => {
  test.each(spread([34, 60, 80, 132], 2))('%i columns', async (width) => {
    for (const one of (await project).flatMap(({ notes }) => notes)) {
      for (const cautions of [true, false]) {
        const lines = outlineNote(one, { width, cautions });
        const wide = lines.filter((line) => widthOf(line) > width);
        expect(wide.filter((line) => /\S {1,2}\S/.test(plainText([line]).trim()))).toEqual([]);
        // Whatever the width, the same words.
        const words = (of: typeof lines) => plainText(of).replace(/\s+/g, ' ');
        if (cautions) expect(words(lines)).toBe(words(outlineNote(one, { cautions })));
      }
    }
  });
});

test('of a long schedule the worst rows are told, and the others counted', async () => {
  const survey = (await project)
    .flatMap(({ notes }) => notes)
    .find(({ source }) => source.path.startsWith('403'))!;
  const { schedules } = survey;
  const text = plainText(outlineNote(survey, { width: 80 }));
  const long = schedules.flatMap(({ id, rows }) => {
    const adverse = rows.filter(({ checks }) =>
      checks.some(({ force, verdict }) => force === 'requirement' && verdict !== 'complies'),
    ).length;
    return adverse > 10 ? [{ id, adverse }] : [];
  });
  expect(long.length).toBeGreaterThan(1);
  for (const { id, adverse } of long) {
    const part = text.slice(text.indexOf(`  ${id} (`));
    expect(part.slice(0, part.indexOf('more that'))).toContain(`and ${adverse - 10} `);
  }
});
