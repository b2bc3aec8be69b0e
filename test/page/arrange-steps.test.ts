import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import type { EvaluatedNote, WordedNote } from '../../src/evaluation/evaluated-note.ts';
import { wordNote } from '../../src/evaluation/word-note.ts';
import { Memory } from '../../src/memory/memory.ts';
import { arrangeSteps } from '../../src/page/arrange-steps.ts';
import { renderNote } from '../../src/page/render-note.ts';
import { ENGLISH } from '../../src/words/words.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';
import { OPTIONS } from './fixtures/build-note.ts';
import { readText } from './read-html.ts';

const RISK = (system: string) => `ground_flash_density: 3.1 1/km^2/year
structure: { value: [{ length: 61 m, width: 17 m, height: 9 m, location: isolated }], source: drawing }
lines:
  value:
    - { length: 420 m, installation: aerial, surroundings: rural, supply: low-voltage, impulse_withstand: 4 kV }
    - { length: 730 m, installation: buried, surroundings: suburban, supply: low-voltage, impulse_withstand: 6 kV }
    - { length: 95 m, installation: buried, surroundings: urban, supply: low-voltage, impulse_withstand: 2.5 kV }
  source: plans
zones:
  value: [{ persons: 40, presence: 2600 h, floor: concrete, fire: ordinary, fire_protection: manual, hazard: none }]
  source: brief
losses: { value: [{ touch: 0.01, damage: 0.1 }], source: brief }
measures: { value: [{ protection_system: ${system}, bonding: ${system} }], source: brief }`;

const second = (given: string) => `
\`\`\`yaml calc
id: second
calculation: risk-assessment
title: With a system
given:
${given
  .split('\n')
  .map((line) => `  ${line}`)
  .join('\n')}
\`\`\`
`;

let evaluated: EvaluatedNote;
let note: WordedNote;
let html: string;

beforeAll(async () => {
  const folder = join(temporaryFolder(), 'p');
  mkdirSync(folder);
  writeProject(folder, { '001.md': noteWith(RISK('none'), 'risk-assessment') + second(RISK('II')) });
  const [loaded] = await loadAndEvaluate([folder], { threads: 1 });
  expect(loaded!.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  evaluated = loaded!.notes[0]!;
  note = wordNote(evaluated, ENGLISH, new Memory());
  html = renderNote(evaluated, loaded!.project!, OPTIONS).html;
});

/** The part of the page that sets out the calculation of that number. */
function part(number: number): string {
  return html.split(/<section class="calculation"[^>]*>/)[number]!.split('</section>')[0]!;
}

test('no step is lost or told twice, and each stands behind what it needs', () => {
  const { steps } = note.blocks[0]!.evaluated;
  const { repeated, groups } = arrangeSteps(steps);
  expect(repeated).toEqual([]);
  const told = groups.flatMap((group) => group.steps);
  expect(told.map(({ name }) => name).sort()).toEqual(
    steps
      .filter(({ asGiven }) => !asGiven)
      .map(({ name }) => name)
      .sort(),
  );
  const place = new Map(told.map(({ name }, i) => [name, i]));
  for (const { name, uses } of told) {
    for (const used of uses) {
      if (place.has(used)) expect(place.get(used), `${used} before ${name}`).toBeLessThan(place.get(name)!);
    }
  }
});

test('the steps over a table stand in one table, a column for each of its rows', () => {
  const { groups } = arrangeSteps(note.blocks[0]!.evaluated.steps);
  expect(groups.flatMap((group) => (group.kind === 'rows' ? [group.table] : []))).toEqual(['lines', 'zones']);
  const [lines] = [...part(1).matchAll(/<table class="row-steps"[^>]*>.*?<\/table>/gs)].map(
    ([table]) => table,
  );
  const rows = [...lines!.matchAll(/<tr[^>]*><td>.*?<\/tr>/gs)].map(([row]) => readText(row));
  // IEC 62305-2:2010, Annex A: A_L = 40 L and A_I = 4000 L, here of lines of 420 m, 730 m and 95 m, worked by hand.
  const area = rows.find((row) => row.startsWith('Collection area for flashes to each line'))!;
  expect(area.replaceAll('\u00a0', ' ')).toMatch(/16800.*29200.*3800/);
  expect(rows.some((row) => /Factor of the installation of each line.*1.*0\.5.*0\.5/.test(row))).toBe(true);
});

test('a repeated method prints its values beside those of the first, and no formula again', () => {
  const first = part(1);
  const again = part(2);
  expect(first).toMatch(/class="steps"/);
  expect(again).not.toMatch(/class="steps"|class="row-steps"/);
  const rows = [...again.matchAll(/<table class="repeated"[^>]*>.*?<\/table>/gs)].flatMap(([table]) =>
    [...table.matchAll(/<tr[^>]*><td.*?<\/tr>/gs)].map(([row]) => readText(row)),
  );
  // IEC 62305-2:2010, Table B.2: a system of class II leaves a probability of 0.05 of physical damage.
  expect(
    rows.find((row) => row.includes('Probability of physical damage by a flash to the structure')),
  ).toMatch(/1 0\.05$/);
  // What is the same stands as one sentence: the areas do not depend on the system.
  expect(readText(again)).toMatch(/As in calculation 1: .*A_D|As in calculation 1:/);
  expect(rows.some((row) => row.includes('Collection area'))).toBe(false);
});

test('what repeats little is set out in full, and so is a step with another formula', () => {
  const { steps } = note.blocks[1]!.evaluated;
  const before = note.blocks[0]!.evaluated.steps;
  expect(arrangeSteps(steps, before.slice(0, 2)).repeated).toEqual([]);
  const changed = before.map((step) =>
    step.name === 'AD' ? { ...step, formula: { type: 'words', words: 'another' } as const } : step,
  );
  const { repeated, groups } = arrangeSteps(steps, changed);
  expect(repeated.some(({ name }) => name === 'AD')).toBe(false);
  expect(groups.flatMap((group) => group.steps.map(({ name }) => name))).toEqual(['AD']);
});

test('what a numerical method gives has a column for how it is found only where that is said of one of the values', async () => {
  const folder = join(temporaryFolder(), 'soil');
  mkdirSync(folder);
  const given = `readings:
  value:
    - { spacing: 2 m, resistance: 9.7 ohm, pin_depth: 0.1 m }
    - { spacing: 5 m, resistance: 3.6 ohm, pin_depth: 0.2 m }
    - { spacing: 12 m, resistance: 1.2 ohm, pin_depth: 0.2 m }
    - { spacing: 30 m, resistance: 0.39 ohm, pin_depth: 0.3 m }
  source: survey
earthing_extent: { value: 28 m, source: drawing }`;
  writeProject(folder, { '001.md': noteWith(given, 'soil-resistivity') });
  const [loaded] = await loadAndEvaluate([folder], { threads: 1 });
  expect(loaded!.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  const page = renderNote(loaded!.notes[0]!, loaded!.project!, OPTIONS).html;
  const tables = [...page.matchAll(/<table class="results"[^>]*>.*?<\/table>/gs)].map(([table]) => table);
  const heads = tables.map((table) => /How it is found/.test(table));
  expect(heads).toEqual([true, false]);
  for (const [i, table] of tables.entries()) {
    const [head, ...rows] = [...table.matchAll(/<tr[^>]*>.*?<\/tr>/gs)].map(
      ([row]) => row.match(/<t[dh][ >]/g)!.length,
    );
    expect(head).toBe(heads[i] ? 4 : 3);
    expect(new Set(rows)).toEqual(new Set([head]));
  }
});
