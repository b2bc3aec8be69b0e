import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import { renderNote } from '../../src/page/render-note.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';
import { OPTIONS } from './fixtures/build-note.ts';
import { readText } from './read-html.ts';

const folder = join(temporaryFolder(), 'p');

const RISK = `ground_flash_density: 3.1 1/km^2/year
structure: { value: [{ length: 61 m, width: 17 m, height: 9 m, location: isolated }], source: drawing D-4 }
lines:
  - { length: 420 m, installation: aerial, surroundings: rural, impulse_withstand: 4 kV }
  - { length: 730 m, installation: buried, surroundings: urban, impulse_withstand: 6 kV }
  - { length: 95 m, installation: buried, surroundings: urban, impulse_withstand: 2.5 kV }
zones: [{ persons: 12, floor: concrete, fire: low }]
losses: [{ damage: 0.02 }]`;

const LAYERS = `lpl: II
layers: [{ thickness: 0.4 m, factor: 1 }, { thickness: 11 cm, factor: 0.5 }]
method: simplified
count: 8
length: 6 m`;

interface Printed {
  readonly caption: string;
  readonly headings: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

const cells = (row: string) =>
  [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/gs)].map(([, cell]) =>
    readText(cell!)
      .replace(/[\u00a0\u202f\u200b]/g, ' ')
      .trim(),
  );

function tablesOf(html: string): Printed[] {
  return [...html.matchAll(/<table class="given-table"[^>]*>(.*?)<\/table>/gs)].map(([, table]) => {
    const [head, ...rows] = [...table!.matchAll(/<tr>(.*?)<\/tr>/gs)].map(([, row]) => cells(row!));
    return { caption: readText(/<caption>(.*?)<\/caption>/s.exec(table!)![1]!), headings: head!, rows };
  });
}

let risk: string;
let layers: string;
let fullRisk: string;

beforeAll(async () => {
  mkdirSync(folder);
  writeProject(folder, {
    '001.md': noteWith(RISK, 'risk-assessment'),
    '002.md': noteWith(LAYERS, 'separation-distance').replace('number: "1"', 'number: "2"'),
  });
  const [loaded] = await loadAndEvaluate([folder], { threads: 1 });
  expect(loaded!.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  const pages = loaded!.notes.map((note) => renderNote(note, loaded!.project!, OPTIONS).html);
  [risk, layers] = pages as [string, string];
  const { source, ...rest } = loaded!.notes[0]!;
  const full = { ...source, frontMatter: { ...source.frontMatter, nomenclature: 'full' as const } };
  fullRisk = renderNote({ ...rest, source: full }, loaded!.project!, OPTIONS).html;
});

test('a table with rows is set as one: a line a row, the unit in the heading, what belongs to one row in its line', () => {
  const lines = tablesOf(risk).filter(({ caption }) => caption.startsWith('lines that enter'));
  const column = (name: string) => {
    const table = lines.find(({ headings }) => headings.some((heading) => heading.endsWith(name)))!;
    const at = table.headings.findIndex((heading) => heading.endsWith(name));
    return { heading: table.headings[at], cells: table.rows.map((row) => row[at]) };
  };
  expect(column('length').cells).toEqual(['420', '730', '95']);
  expect(column('length').heading).toMatch(/ in m length$/);
  expect(column('installation')).toEqual({ heading: 'installation', cells: ['aerial', 'buried', 'buried'] });
  expect(column('impulse withstand').cells).toEqual(['4', '6', '2.5']);
  expect(column('impulse withstand').heading).toMatch(/ in kV peak impulse withstand$/);
});

test('a table wider than the page is parted between columns, no column lost and none twice, each part with its rows named', () => {
  const lines = tablesOf(risk).filter(({ caption }) => caption.startsWith('lines that enter'));
  expect(lines.length).toBeGreaterThan(1);
  for (const { headings, rows } of lines) {
    expect(headings[0]).toBe('No.');
    expect(rows.map(([label]) => label)).toEqual(['1', '2', '3']);
  }
  const all = lines.flatMap(({ headings }) => headings.slice(1));
  expect(all).toHaveLength(11);
  expect(new Set(all).size).toBe(11);
});

test('a single row needs no number; a table stands for itself, with its source in its caption', () => {
  const structure = tablesOf(risk).find(({ caption }) => caption.startsWith('the structure'))!;
  expect(structure.rows).toEqual([['61', '17', '9', 'isolated', '1', '1']]);
  const text = readText(risk.slice(risk.indexOf('<body>')));
  expect(text).toMatch(/the structure \(drawing D-4\)/);
  expect(text).not.toContain('length 61');
});

test('where the units of a column differ, each cell has its own', () => {
  const [table] = tablesOf(layers);
  expect(table!.rows.map((row) => row[1])).toEqual(['0.4 m', '11 cm']);
  expect(table!.headings[1]).toMatch(/thickness$/);
  expect(table!.headings[1]).not.toContain(' in ');
});

test('the symbols of the columns stand in a full nomenclature', () => {
  const annex = (html: string) =>
    readText(
      html.slice(html.lastIndexOf('id="annex-nomenclature"'), html.lastIndexOf('id="annex-references"')),
    );
  const text = annex(fullRisk);
  expect(text).toMatch(/ length of the line to its next node, m \(1\)/);
  // By itself a note lists what stands for several things alone.
  expect(annex(risk)).not.toMatch(/length of the line/);
});

test('a list of more signs than a line holds, its kinds counted, stands behind its meaning', async () => {
  const mounting = (currents: string) => `protection_level: 1.3 kV
nominal_current: 20 kA
exponent: 0.1
currents: [${currents}]
rail_lead: 0.4 m`;
  const other = join(temporaryFolder(), 'p');
  mkdirSync(other);
  writeProject(other, {
    '001.md': noteWith(mounting('11 kA, 21 kA, 31 kA, 41 kA'), 'spd-mounting-comparison'),
    '002.md': noteWith(mounting('11 kA, 21 kA'), 'spd-mounting-comparison').replace(
      'number: "1"',
      'number: "2"',
    ),
  });
  const [loaded] = await loadAndEvaluate([other], { threads: 1 });
  expect(loaded!.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  const classes = loaded!.notes.map((note) => {
    const { html } = renderNote(note, loaded!.project!, OPTIONS);
    return /<td([^>]*)>(?:<[^>]*>)*[^<]*11.kA.peak;/u.exec(html)![1]!.trim();
  });
  expect(classes).toEqual(['colspan="2"', 'class="quantity"']);
});
