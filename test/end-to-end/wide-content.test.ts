import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { getDocument } from '../../src/pdf/pdfjs.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, writeProject } from '../support/write-project.ts';

const POINT = 25.4 / 72;
/** The right margin of an A4 page, as `page-rules.ts` has it, in millimetres. */
const RIGHT_MARGIN = 18;
const PAGE_WIDTH = 210;

const many = (count: number, item: (i: number) => string, joint: string): string =>
  Array.from({ length: count }, (_, i) => item(i)).join(joint);
const terms = many(140, (i) => `p${i % 12}`, ' + ');

/** Lists and formulas that take more than a line wherever they stand: given, result, formula, check. */
const NOTE = `${FRONT_MATTER}
## Trial

\`\`\`yaml calc
id: lists
calculation: wave-junction
given:
  incident_voltage: 210 kV
  incoming_impedance: 40 ohm
  outgoing_impedances: [${many(95, (i) => `${300 + i} ohm`, ', ')}]
\`\`\`

\`\`\`yaml calc
id: kinds
calculation: spd-mounting-comparison
given:
  protection_level: 1.3 kV
  nominal_current: 20 kA
  exponent: 0.1
  currents: [${many(60, (i) => `${(11.0625 + i / 16).toFixed(4)} kA`, ', ')}]
  rail_lead: 0.4 m
\`\`\`

\`\`\`yaml formula
id: own
given:
${many(12, (i) => `  p${i}: { value: ${i + 1}.25 m, symbol: "\\\\ell_{${i}}", meaning: part ${i}, unit: m }`, '\n')}
steps:
  whole: { symbol: s, meaning: all parts together, unit: m, formula: ${terms}, source: own }
  root: { symbol: r, meaning: root of them, unit: m, formula: "sqrt((${terms}) * p1)", source: own }
  share: { symbol: q, meaning: share of them, unit: "1", formula: "p1 / (${terms})", source: own }
  most: { symbol: m, meaning: largest of them, unit: m, formula: "max(${many(12, (i) => `p${i} + p${(i + 5) % 12}`, ', ')})", source: own }
  cases: { symbol: c, meaning: one of them, unit: m, formula: "${terms} when p1 > p2; p3 otherwise", source: own }
checks:
  short: { criterion: short enough, value: "whole / 2 + sqrt(p1 * (${terms}))", relation: "<=", limit: 1 m, force: requirement, source: own }
\`\`\`
`;

const printed = join(temporaryFolder(), 'wide');

beforeAll(async () => {
  mkdirSync(printed);
  writeProject(printed, { '001.md': NOTE });
  const { status, err } = await runInProcess(['compile', printed]);
  expect(status, err).toBe(0);
});

test('lists, with kinds and results of 60 long values, and formulas of any length keep within the page', async () => {
  const task = getDocument({ data: Uint8Array.from(readFileSync(join(printed, '001.pdf'))), verbosity: 0 });
  const document = await task.promise;
  const outside: string[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const { items } = await (await document.getPage(number)).getTextContent();
    for (const item of items) {
      if (!('str' in item) || item.str.trim() === '') continue;
      const end = POINT * (item.transform[4] + item.width);
      // The word across the page of a draft is drawn, not written; a millimetre is what an accent may overhang.
      if (end > PAGE_WIDTH - RIGHT_MARGIN + 1)
        outside.push(`page ${number}: '${item.str}' ends at ${end.toFixed(0)} mm`);
    }
  }
  await task.destroy();
  expect(outside).toEqual([]);
});

/** How many signs are printed in each size: where a browser scales a document down to what is widest in it, all of it is smaller. */
async function textSizes(path: string): Promise<Map<number, number>> {
  const task = getDocument({ data: Uint8Array.from(readFileSync(path)), verbosity: 0 });
  const document = await task.promise;
  const sizes = new Map<number, number>();
  for (let number = 1; number <= document.numPages; number += 1) {
    for (const item of (await (await document.getPage(number)).getTextContent()).items) {
      if (!('str' in item)) continue;
      const size = Math.round(Math.hypot(item.transform[2], item.transform[3]) * 10) / 10;
      sizes.set(size, (sizes.get(size) ?? 0) + item.str.length);
    }
  }
  await task.destroy();
  return sizes;
}

test('no document is made smaller for what is wide in it', async () => {
  const sizes = await textSizes(join(printed, '001.pdf'));
  // The type of the text and that of the tables, in points, as the style sheets have them.
  expect(sizes.get(9.5)).toBeGreaterThan(100);
  expect(sizes.get(8.4)).toBeGreaterThan(500);
});

test('a word that is wider than its place fails the build, with the note and the heading, and nothing is written', async () => {
  const folder = join(temporaryFolder(), 'word');
  mkdirSync(folder);
  const word = many(9, () => 'Uebergangswiderstandsmessung', '');
  writeProject(folder, {
    '001.md': `${FRONT_MATTER}\n## Readings at the joint\n\n| a | b |\n| --- | --- |\n| ${word} | 1 |\n`,
  });
  const { status, err } = await runInProcess(['compile', folder]);
  expect(status).toBe(1);
  expect(err).toMatch(
    /001\.md: What stands here is wider than its place: “Uebergangswider[^“]*” under “1 Readings at the joint”/,
  );
  expect(existsSync(join(folder, '001.pdf'))).toBe(false);
  expect(existsSync(join(folder, '001.results.yaml'))).toBe(false);
});

test('a formula in the text that cannot be parted is refused where it stands, without a browser too', async () => {
  const folder = join(temporaryFolder(), 'formula');
  mkdirSync(folder);
  const wide = `\\left( ${many(45, (i) => `x_{${i}}`, ' + ')} \\right.`;
  writeProject(folder, { '001.md': `${FRONT_MATTER}\n## Trial\n\n$$\n${wide}\n$$\n` });
  const { status, err } = await runInProcess(['evaluate', folder]);
  expect(status).toBe(1);
  expect(err).toMatch(/001\.md:\d+:\d+: error: the formula .* holds a piece that is wider than the page/);
});
