import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { readCsv } from '../../src/source/csv/read-csv.ts';
import { replaceAttachment } from '../support/replace-attachment.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { writeProject } from '../support/write-project.ts';

const root = temporaryFolder();
let made = 0;
let folder: string;

const NOTE = `---
number: "1"
title: Boards
revision: A
status: for-review
date: 2030-01-01
---

# Boards

\`\`\`yaml schedule
id: boards
calculation: spd-effective-protection-level
title: SPDs of the boards
rows: data/boards.csv
row_id: board
columns:
  lead_a: { column: a, unit: m }
  protection_level: { column: Up, unit: kV }
given:
  spd_type: limiting
  lead_b: 0.1 m
  lead_c: 0.05 m
  impulse_withstand: 2.5 kV
  circuit_length: 4 m
in_full: 1
\`\`\`
`;

// An office program of a country with decimal commas: byte order mark, semicolons, CRLF.
const ROWS = '\uFEFFboard;a;Up\r\nDB-1;0,15;1,5\r\nDB-2;0,25;1,3\r\n"=DB-3";0,65;1,5\r\n';
const RESULTS = '1-boards.boards.results.csv';

beforeEach(() => {
  folder = join(root, `p${++made}`);
  writeProject(folder, { '1-boards.md': NOTE, 'data/boards.csv': ROWS });
});

const file = (name: string) => join(folder, name);
const compile = (...options: string[]) => runInProcess(['compile', folder, '--html', '--no-pdf', ...options]);

function readResults(): Record<string, string>[] {
  const text = readFileSync(file(RESULTS), 'utf8');
  const { header, rows } = readCsv(RESULTS, text, new Collector())!;
  return rows.map(({ cells }) => Object.fromEntries(cells.map((cell, i) => [header[i]!.text, cell.text])));
}

test('compile writes the results of all rows as the office program that wrote the rows reads them', async () => {
  expect((await compile()).status).toBe(0);
  const rows = readResults();
  // By hand: 1 kV/m; leads of a + 0.1 m + 0.05 m. DB-1: 0.3 m, 1.5 kV + 0.3 kV = 1.8 kV against 0.8 * 2.5 kV = 2 kV, a tenth of it left.
  expect(rows[0]).toMatchObject({
    board: 'DB-1',
    'lead a [m]': '0,15',
    'lead length [m]': '0,3',
    'effective protection level [kV]': '1,8',
    verdict: 'complies',
    'margin [%]': '10',
    'equipment protection: limit [kV]': '2',
  });
  // 1.3 kV + 0.4 kV leaves 15 %, 0.4 m of 0.5 m leaves 20 %.
  expect(rows[1]).toMatchObject({
    verdict: 'complies',
    'margin [%]': '15',
    'governing check': 'equipment protection',
  });
  // 0.8 m exceed 0.5 m by 60 %; what an office program would compute is a text.
  expect(rows[2]).toMatchObject({
    board: "'=DB-3",
    verdict: 'does not comply',
    'margin [%]': '-60',
    'governing check': 'lead length rule',
  });
  expect(readFileSync(file(RESULTS), 'utf8').startsWith('\uFEFFline;board;')).toBe(true);
});

test('--locked holds the file against the rows, and against whoever edits it', async () => {
  await compile();
  const results = readFileSync(file(RESULTS), 'utf8');
  expect((await compile('--locked')).status).toBe(0);
  writeFileSync(file(RESULTS), results.replace('-60', '60'));
  const edited = await compile('--locked');
  expect(edited.status).toBe(1);
  expect(edited.err).toContain(`${RESULTS}:4:`);
  await compile();
  expect(readFileSync(file(RESULTS), 'utf8')).toBe(results);
  writeFileSync(file('data/boards.csv'), ROWS.replace('0,25', '0,35'));
  expect((await compile('--locked')).err).toContain('3;DB-2;0,35;1,3;0,5;');
});

test('each formula by which a row is worked stands in the method, and as many lines as are asked for', async () => {
  const columns = '  protection_level: { column: Up, unit: kV }\n  drop_basis: way\n';
  const note = NOTE.replace('  protection_level: { column: Up, unit: kV }\n', columns).replace(
    'in_full: 1',
    'in_full: 0\nin_table: 2',
  );
  const rows = ROWS.replace(/Up\r/, 'Up;way\r')
    .replace('1,5\r', '1,5;steepness\r')
    .replace('1,3\r', '1,3;one-kv-per-metre\r');
  writeProject(folder, {
    '1-boards.md': note,
    'data/boards.csv': rows.replace('0,65;1,5\r', '0,65;1,5;one-kv-per-metre\r'),
  });
  expect((await compile()).err).not.toContain('error');
  const html = readFileSync(file('1-boards.html'), 'utf8');
  expect(html.match(/Voltage drop along the leads/g)).toHaveLength(2);
  expect(html).toContain('convention for an SPD at the line entrance');
  expect(html).toContain('Where a value has several formulas');
  expect(html).toContain('2 of 3 rows, the worst verdict first');
});

test('characters that no font has are told at their cell', async () => {
  writeFileSync(file('data/boards.csv'), ROWS.replace('DB-2', 'DB-盤'));
  const { status, err } = await runInProcess(['evaluate', folder]);
  expect(status).toBe(1);
  expect(err).toContain("data/boards.csv:3:4: error: the fonts of the printed note have no character '盤'");
});

test('the PDF carries rows and results; verify recomputes them and finds a number that was changed', async () => {
  expect((await runInProcess(['compile', folder])).status).toBe(0);
  const pdf = file('1-boards.pdf');
  expect(existsSync(pdf)).toBe(true);
  const sound = await runInProcess(['verify', '--no-print', pdf]);
  expect(sound.out).toContain(`results, ${RESULTS}: proven`);
  const forged = file('forged.pdf');
  await replaceAttachment(pdf, forged, RESULTS, (text) => text.replace('-60', '60'));
  const found = await runInProcess(['verify', '--no-print', forged]);
  expect(found.status).not.toBe(0);
  expect(found.out).toContain(`results, ${RESULTS}: contradicted`);
});
