import { expect, test } from 'vitest';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, numbered, PROJECT, writeProject } from '../support/write-project.ts';

const folder = temporaryFolder();

/** The rule of 0.5 m for all leads together (recall of IEC 60364-5-53): 0.2 m are common, so that 0.3 m are left for lead a. */
const NOTE = `${FRONT_MATTER}
\`\`\`yaml schedule
id: boards
calculation: spd-effective-protection-level
title: SPDs of the boards
rows: data/boards.csv
row_id: board
case: { column: state }
columns: { lead_a: { column: lead a, unit: m } }
given: { spd_type: limiting, protection_level: 1.2 kV, wiring: branch, lead_b: 0.1 m, lead_c: 0.1 m, steepness: 1 kA/us, impulse_withstand: 6 kV, circuit_length: 5 m }
action: { what: "Shorten lead a to {{ sample.limiting.lead_a }}", where: every board, owner: site, due: 2031-09-30 }
\`\`\`

\`\`\`yaml calc
id: sample
calculation: spd-effective-protection-level
case: auxiliary
given: { spd_type: limiting, protection_level: 1.2 kV, wiring: branch, lead_a: 0.5 m, lead_b: 0.1 m, lead_c: 0.1 m, steepness: 1 kA/us, impulse_withstand: 6 kV, circuit_length: 5 m }
\`\`\`
`;
const ROWS = `board,lead a,state
DB-1,0.10,as-found
DB-2,0.42,as-found
DB-3,1.40,as-found
DB-4,0.45,proposed
DB-5,2.00,alternative
`;

async function evaluate(...args: string[]): Promise<string> {
  writeProject(folder, { 'project.yaml': PROJECT, '1.md': NOTE, 'data/boards.csv': ROWS });
  return (await runInProcess(['evaluate', '1.md', ...args], { cwd: folder })).out.replace(
    /[\u00a0\u202f]/g,
    ' ',
  );
}

test('rows are told by schedule and case, the worst verdict first, with the author’s action', async () => {
  const lines = (await evaluate()).split('\n');
  const from = lines.indexOf('  to do, the worst verdict first:');
  expect(lines.slice(from + 1, from + 4)).toEqual([
    '    1. boards, as-found: 2 of 3 rows (DB-3, DB-2); Shorten lead a to 0.300 m; site; due 2031-09-30',
    '    2. boards, proposed: 1 of 1 rows (DB-4); Shorten lead a to 0.300 m; site; due 2031-09-30',
    '  not signed off',
  ]);
});

test('where everything is met, the order is that of the note', async () => {
  const met = (id: string) =>
    [
      '```yaml calc',
      `id: ${id}`,
      'calculation: spd-effective-protection-level',
      'given: { spd_type: limiting, protection_level: 1.2 kV, wiring: branch, lead_a: 0.1 m, lead_b: 0.1 m, lead_c: 0.1 m, steepness: 1 kA/us, impulse_withstand: 6 kV, circuit_length: 5 m }',
      'action: { what: Fit it }',
      '```',
      '',
    ].join('\n');
  writeProject(folder, {
    'project.yaml': PROJECT,
    '2.md': numbered('2.md', `${FRONT_MATTER}\n${met('east')}\n${met('west')}`),
  });
  const { out } = await runInProcess(['evaluate', '2.md'], { cwd: folder });
  expect(out).toMatch(/ {2}to do, in the order of the note:\n {4}1\. east: Fit it\n {4}2\. west: Fit it\n/);
});

test('the report for machines names the rows', async () => {
  const report = JSON.parse(await evaluate('--json')) as { notes: { actions: { rows: string[] }[] }[] };
  expect(report.notes[0]!.actions).toMatchObject([
    { block: 'boards', case: 'as-found', rows: ['DB-3', 'DB-2'], by: 'author', where: 'every board' },
    { block: 'boards', case: 'proposed', rows: ['DB-4'] },
  ]);
});
