import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import { wordNote } from '../../src/evaluation/word-note.ts';
import { renderNote } from '../../src/page/render-note.ts';
import { ENGLISH } from '../../src/words/words.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';
import { OPTIONS } from './fixtures/build-note.ts';
import { readText } from './read-html.ts';

const RATING = `highest_voltage: 24 kV
earthing: non-effective
fault_duration: { value: 2 s, range: [1 s, 4 s] }
rated_voltage: 24 kV
continuous_voltage: 19.5 kV`;

const CONNECTION = `arrangement: common-earth
line_lead: 1 m
earth_lead: { value: 5 m, range: [4 m, 6 m] }
residual_voltage: 33 kV
steepness: 10 kA/us
impulse_withstand: 125 kV`;

test('what was examined over a range is said once behind the checks for which it is the same, and with a single check at it', async () => {
  const folder = join(temporaryFolder(), 'p');
  mkdirSync(folder);
  writeProject(folder, {
    '001.md': noteWith(RATING, 'arrester-rating'),
    '002.md': noteWith(CONNECTION).replace('number: "1"', 'number: "2"'),
  });
  const [loaded] = await loadAndEvaluate([folder], { threads: 1 });
  expect(loaded!.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  const [rating, connection] = loaded!.notes.map((note) => ({
    ranged: note.blocks[0]!.evaluated.checks.filter(({ overRange }) => overRange).length,
    text: readText(renderNote(note, loaded!.project!, OPTIONS).html),
  }));
  const count = (text: string, words: RegExp) => [...text.matchAll(words)].length;
  expect(rating!.ranged).toBeGreaterThan(1);
  expect(count(rating!.text, /Examined/g)).toBe(1);
  expect(rating!.text).toMatch(/Examined for each check over a range: both ends and \d+ points between/);
  expect(count(rating!.text, /in the range of time after which/g)).toBe(rating!.ranged);
  expect(connection!.ranged).toBe(1);
  expect(count(connection!.text, /Examined: both ends and/g)).toBe(1);
  expect(connection!.text).not.toContain('Examined for each check');
});

const CABLE = `arrangement: riser-only
riser_level: 81 kV
impulse_withstand: 125 kV`;

test('remedies that two checks of a block share stand once, and the second check leads to the first', async () => {
  const folder = join(temporaryFolder(), 'p');
  mkdirSync(folder);
  writeProject(folder, { '001.md': noteWith(CABLE, 'cable-protection') });
  const [loaded] = await loadAndEvaluate([folder], { threads: 1 });
  const [note] = loaded!.notes;
  const { checks } = wordNote(note!, ENGLISH).blocks[0]!.evaluated;
  const [first, second] = checks.filter(({ remedies }) => remedies.length > 0);
  expect(second!.remedies).toEqual(first!.remedies);
  const { html } = renderNote(note!, loaded!.project!, OPTIONS);
  expect(html.split(`<li>${first!.remedies[0]}</li>`)).toHaveLength(2);
  expect(readText(html)).toContain(`What to do: as for the check ${first!.criterion}.`);
  expect(html).toContain(`<a href="#check-trial-${first!.name}">`);
});

test('a limiting value with a unit is not broken within', async () => {
  const folder = join(temporaryFolder(), 'p');
  mkdirSync(folder);
  writeProject(folder, { '001.md': noteWith(CONNECTION) });
  const [loaded] = await loadAndEvaluate([folder], { threads: 1 });
  const { html } = renderNote(loaded!.notes[0]!, loaded!.project!, OPTIONS);
  expect(html).toMatch(/<td class="quantity">at most <span class="whole">[\d.]+\s?[^<]*m<\/span><\/td>/u);
});
