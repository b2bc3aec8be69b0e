import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readPageTexts } from '../../src/pdf/read-page-texts.ts';
import { readPdf } from '../../src/pdf/read-pdf.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, noteWith, writeProject } from '../support/write-project.ts';

const GIVEN =
  'arrangement: common-earth\nline_lead: 0.9 m\nearth_lead: 3.7 m\nresidual_voltage: 41 kV\nsteepness: 12 kA/us';
const PLAN =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 200"><rect x="9" y="9" width="280" height="180"/><text x="20" y="30">Feeder bay 6</text></svg>';
/** Points of a millimetre. */
const MM = 72 / 25.4;

function makeProject(name: string, sheets: string, size = 'Letter'): string {
  const folder = join(temporaryFolder(), name);
  mkdirSync(folder);
  const front = `page_size: ${size}\nsheets:\n${sheets}`;
  writeProject(folder, {
    'plan.svg': PLAN,
    '6.md': noteWith(GIVEN).replace(FRONT_MATTER, FRONT_MATTER.replace(/---\s*$/, `${front}---\n`)),
  });
  return folder;
}

test('sheets are A3 pages in landscape behind the end, counted, listed, with running heads', async () => {
  const folder = makeProject(
    'bay',
    '  - { image: plan.svg, caption: Plan of bay 6 }\n  - { figure: trial }\n',
  );
  const { status, err } = await runInProcess(['compile', folder]);
  expect(status, err).toBe(0);
  const bytes = readFileSync(join(folder, '6.pdf'));
  const sizes = (await readPdf(bytes)).pageSizes.map(({ width, height }) => [
    Math.round(width / MM),
    Math.round(height / MM),
  ]);
  const texts = (await readPageTexts(bytes)).map((text) => text.replace(/\s+/g, ' '));
  const count = texts.length;
  expect(sizes.slice(-2)).toEqual([
    [420, 297],
    [420, 297],
  ]);
  // Letter is 8.5 in by 11 in.
  for (const size of sizes.slice(0, -2)) expect(size).toEqual([216, 279]);
  expect(texts[count - 2]).toContain('Sheet 1 Plan of bay 6');
  expect(texts[count - 2]).toContain('1 · Revision A');
  expect(texts[count - 2]).toContain(`Page ${count - 1} of ${count}`);
  expect(texts[count - 1]).toMatch(/Sheet 2 .*End of document 1, revision A/);
  expect(texts.slice(0, -1).join(' ')).not.toContain('End of document');
  expect(texts[0]).toContain(`Number of pages ${count}, annexes included`);
});

test('a sheet has the mark of a draft of its own, for that of the other pages lies where their column is', async () => {
  const folder = makeProject(
    'marked',
    '  - { image: plan.svg, caption: Plan of bay 6 }\n  - { figure: trial }\n',
  );
  const { status, err } = await runInProcess(['compile', folder, '--html', '--no-pdf']);
  expect(status, err).toBe(0);
  const html = readFileSync(join(folder, '6.html'), 'utf8');
  const sheets = html.match(/<section class="sheet"[\s\S]*?<\/section>/g)!;
  expect(sheets.map((sheet) => sheet.match(/<svg class="mark"/g)?.length)).toEqual([1, 1]);
  expect(html.match(/<svg class="mark"/g)).toHaveLength(3);
});

test('what does not fit a sheet fails the build', async () => {
  const folder = makeProject(
    'wide',
    `  - { image: plan.svg, caption: ${'Sammelschiene'.repeat(30)} }\n`,
    'A4',
  );
  const { status, err } = await runInProcess(['compile', folder]);
  expect(status).toBe(1);
  expect(err).toMatch(/6\.md: What stands here is wider than its place: “Sheet 1/);
  expect(existsSync(join(folder, '6.pdf'))).toBe(false);
});

test.each([
  ['nothing', '{ caption: Plan }', 'the sheet shows nothing'],
  ['both', '{ image: plan.svg, figure: trial }', 'a sheet shows an image or a figure, not both'],
  ['a picture without caption', '{ image: plan.svg }', "'caption' is missing"],
  ['a picture that is not there', '{ image: plans.svg, caption: Plan }', 'plans.svg'],
  ['the figure of no calculation', '{ figure: trail }', "the note has no calculation 'trail'"],
  ['another size', '{ image: plan.svg, caption: Plan, size: A2 }', "'size' cannot be 'A2'"],
])('a sheet with %s is an error', async (name, sheet, message) => {
  const { status, err } = await runInProcess(['evaluate', makeProject(name, `  - ${sheet}\n`)]);
  expect(status).toBe(1);
  expect(err).toContain(message);
  expect(err.match(/: error:/g)).toHaveLength(1);
});
