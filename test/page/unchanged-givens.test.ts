import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import type { EvaluatedBlock, EvaluatedNote } from '../../src/evaluation/evaluated-note.ts';
import { renderNote } from '../../src/page/render-note.ts';
import { listFamilies } from '../../src/page/variants/families.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';
import { OPTIONS } from './fixtures/build-note.ts';
import { readText } from './read-html.ts';

const folder = join(temporaryFolder(), 'p');

const GIVEN = `arrangement: { value: common-earth, source: survey }
line_lead: { value: 1 m, source: survey }
earth_lead: { value: 5 m, source: survey }
residual_voltage: { value: 33 kV, source: test report }
steepness: 10 kA/us`;

const SECOND = `
\`\`\`yaml calc
id: second
calculation: arrester-connection
title: Trial with another lead
given:
  arrangement: !ref trial.arrangement
  line_lead: { value: 1 m, source: sketch }
  earth_lead: { value: 0.7 m, source: survey }
  residual_voltage: { value: 33 kV, source: test report }
  steepness: !ref trial.steepness
\`\`\`
`;

/** The part of the page that sets out a calculation. */
function partOf(html: string, id: string): string {
  const sections = html.split(/<section class="calculation"[^>]*>/).slice(1);
  return sections.find((section) => section.includes(`id="calc-${id}"`))!.split('</section>')[0]!;
}

const rowsOf = (part: string): string[] =>
  [
    ...(/<table class="givens"[^>]*>.*?<\/table>/s.exec(part)?.[0] ?? '').matchAll(/<tr[^>]*><td.*?<\/tr>/gs),
  ].map(([row]) => readText(row));
const pairsOf = (part: string): string[] =>
  [...part.matchAll(/<span class="pair(?: words)?">(.*?)<\/span>(?=; |\.(?: |<\/p>))/gs)].map(([, pair]) =>
    readText(pair!),
  );

async function render(path: string): Promise<{ note: EvaluatedNote; html: string }[]> {
  const [loaded] = await loadAndEvaluate([path], { threads: 1 });
  expect(loaded!.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  return loaded!.notes.map((note) => {
    const options = { ...OPTIONS, images: loaded!.imagesOf(note) };
    return { note, html: renderNote(note, loaded!.project!, options).html };
  });
}

let part: string;

beforeAll(async () => {
  mkdirSync(folder);
  writeProject(folder, { '001.md': noteWith(GIVEN) + SECOND });
  const [rendered] = await render(folder);
  part = partOf(rendered!.html, 'second');
});

test('a repeated calculation sets out what is another value or has another source', () => {
  const rows = rowsOf(part);
  expect(rows).toHaveLength(2);
  expect(rows[0]).toMatch(/1.m length of the lead from.*line.*sketch/);
  expect(rows[1]).toMatch(/0\.7.m.*(?:earth|electrode).*survey/);
});

test('what is taken over, stands there alike or is a default alike is named with its value', () => {
  const pairs = pairsOf(part);
  expect(pairs.some((pair) => /joined with the tank/.test(pair))).toBe(true);
  expect(pairs.some((pair) => /33.kV/.test(pair))).toBe(true);
  expect(pairs.some((pair) => /10.kA.*s/.test(pair))).toBe(true);
  expect(readText(part)).toContain('As in calculation 1: ');
});

test('no given of the examples is lost: each stands in the table or in that sentence', async () => {
  let unchanged = 0;
  const count = (html: string, { id, evaluated }: EvaluatedBlock): void => {
    const section = partOf(html, id);
    const tables = [...section.matchAll(/the table “[^”]+”/g)].length;
    const pairs = pairsOf(section).length + tables;
    const set = [...section.matchAll(/<table class="given-table"[^>]*>\s*<caption>(?!.*further columns)/g)]
      .length;
    expect(rowsOf(section).length + set + pairs, id).toBe(evaluated.givens.length);
    unchanged += pairs;
  };
  for (const project of ['hollow-wharf/004-main-board.md', 'tarn-gate', 'corran-fold']) {
    const path = resolve(import.meta.dirname, '../../projects', project);
    for (const { note, html } of await render(path)) {
      const families = listFamilies(note.blocks);
      // Those of a base with its variants stand in columns: `test/page/variants.test.ts`.
      for (const block of note.blocks) if (!families.has(block.id)) count(html, block);
    }
  }
  expect(unchanged).toBeGreaterThan(20);
});

test('a formula over values of another calculation is set with their symbols, and says where they come from', async () => {
  const other = join(temporaryFolder(), 'computed');
  mkdirSync(other);
  const third = SECOND.replace('id: second', 'id: third').replace(
    'earth_lead: { value: 0.7 m, source: survey }',
    'earth_lead: !formula "2 * {trial.earth_lead} + 0.4 m"',
  );
  writeProject(other, { '001.md': noteWith(GIVEN) + third });
  const [rendered] = await render(other);
  const row = rowsOf(partOf(rendered!.html, 'third')).find((one) => one.includes('computed:'))!;
  // 2 times 5 m and 0.4 m.
  expect(row).toContain('10.4');
  expect(row).not.toMatch(/[{}*]|trial|earth_lead/);
  expect(row).toMatch(/computed: .*2.*\+.*0\.4.*calculation 1/);
});
