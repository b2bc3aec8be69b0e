import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';

const folder = temporaryFolder();
/** The example without the notes that take longest. */
const EXAMPLE = join(folder, 'hollow-wharf');
cpSync(resolve(import.meta.dirname, '../../projects/hollow-wharf'), EXAMPLE, {
  recursive: true,
  filter: (path) => !/\.(?:pdf|html)$|00[56]-/.test(path),
});

interface Quantity {
  readonly value: number | string | null;
  readonly unit?: string;
  readonly text: string;
  readonly source?: string | null;
}
interface Block {
  readonly id: string;
  readonly given: Record<string, Quantity>;
  readonly results: Record<string, Quantity>;
  readonly checks: Record<
    string,
    { verdict: string; force: string; value: number | null; limit: number | null }
  >;
}
interface Report {
  readonly notes: readonly { path: string; blocks: readonly Block[] }[];
  readonly diagnostics: readonly {
    file: string;
    line: number;
    column: number;
    severity: string;
    code: string;
    message: string;
  }[];
}

async function report(path: string): Promise<Report> {
  const { out } = await runInProcess(['evaluate', '--json', path]);
  return JSON.parse(out) as Report;
}

test('one object with the values of every block, at full precision in their units', async () => {
  const { notes, diagnostics } = await report(EXAMPLE);
  expect(diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
  const block = notes.flatMap((n) => n.blocks).find((b) => b.id === 'intake-as-found')!;
  expect(block.given.line_lead).toMatchObject({
    value: 0.6,
    unit: 'm',
    text: '0.6 m',
    source: 'site survey, sheet 2',
  });
  expect(block.given.arrangement).toMatchObject({ value: 'common-earth', text: 'common-earth' });
  // By hand: 0.6 m + 0.25 m + 14 m = 14.85 m; 33 kV + 14.85 m * 10 kV/m = 181.5 kV; 75 kV/181.5 kV = 0.41322.
  expect(block.results.counted_length!.value).toBeCloseTo(14.85, 12);
  expect(block.results.terminal_voltage).toMatchObject({ unit: 'kV', text: '181.5 kV' });
  expect(block.results.terminal_voltage!.value).toBeCloseTo(181.5, 9);
  expect(block.checks.withstand_margin).toMatchObject({
    verdict: 'does not comply',
    force: 'requirement',
    limit: 1.15,
  });
  // The check is judged at the long end of the earth lead, 14.2 m, with the residual voltage raised by a tenth for the steep front:
  // 36.3 kV + (0.6 m + 0.25 m + 14.2 m) * 10 kV/m = 186.8 kV.
  expect(block.checks.withstand_margin!.value).toBeCloseTo(75 / 186.8, 12);
});

test('words stand where there is no number, never NaN', async () => {
  writeProject(folder, {
    '001.md': noteWith(
      'material: aluminium\nsection: 4 mm^2\nlpl: I\npermitted_rise: 100 K',
      'conductor-heating',
    ),
  });
  const { notes } = await report(folder);
  expect(notes[0]!.blocks[0]!.results.temperature_rise).toMatchObject({ value: null, text: 'melts' });
  expect(notes[0]!.blocks[0]!.checks.permitted_rise!.verdict).not.toBe('complies');
});

test('exactly one object also on errors, with place and code', async () => {
  writeProject(folder, { '001.md': noteWith('arrangement: common-earth\nline_lead: 1.8 kV') });
  const { status, out } = await runInProcess(['evaluate', '--json', folder]);
  expect(status).toBe(1);
  const { notes, diagnostics } = JSON.parse(out) as Report;
  expect(notes).toEqual([]);
  expect(diagnostics).toContainEqual(
    expect.objectContaining({
      file: '001.md',
      line: 16,
      column: 14,
      severity: 'error',
      code: 'wrong-dimension',
      message: "'line_lead' is a length; '1.8 kV' is a voltage",
    }),
  );
});

test('changing one lead length changes exactly what depends on it', async () => {
  const copy = join(folder, 'copy');
  cpSync(EXAMPLE, copy, { recursive: true });
  const before = await report(copy);
  const file = join(copy, '003-intake-arresters.md');
  const text = readFileSync(file, 'utf8');
  const changed = text.replace('bond_position: { value: 0.5 m', 'bond_position: { value: 0.55 m');
  expect(changed).not.toBe(text);
  writeFileSync(file, changed);
  const after = await report(copy);
  expect(differences(before, after)).toEqual([
    'intake-distance.given.protection_level',
    'intake-distance.results.protective_distance',
    'intake-distance.results.protective_ratio',
    'intake-distance.results.terminal_voltage',
    // Its check is judged at the long end of its range, which has not moved.
    'intake-proposed.given.bond_position',
    'intake-proposed.results.counted_length',
    'intake-proposed.results.lead_drop',
    'intake-proposed.results.protective_ratio',
    'intake-proposed.results.steep_front_ratio',
    'intake-proposed.results.steep_front_voltage',
    'intake-proposed.results.terminal_voltage',
    'intake-proposed.results.uncounted_length',
    // The simulation refers to the same bond: every voltage and current of it moves, its step and surge do not.
    'intake-simulated.checks.withstand_margin',
    'intake-simulated.given.bond_position',
    'intake-simulated.results.arrester_charge',
    'intake-simulated.results.arrester_energy',
    'intake-simulated.results.closed_level',
    'intake-simulated.results.closed_terminal_voltage',
    'intake-simulated.results.counted_length',
    'intake-simulated.results.energy_imbalance',
    'intake-simulated.results.lead_drop',
    'intake-simulated.results.peak_arrester_current',
    'intake-simulated.results.peak_terminal_voltage',
    'intake-simulated.results.peak_time',
    'intake-simulated.results.protective_ratio',
    'intake-simulated.results.tank_rise',
  ]);
});

test('--require complies ends with 1 where a requirement is not met of what the note stands for', async () => {
  const folder = temporaryFolder();
  cpSync(EXAMPLE, folder, { recursive: true });
  const require = () =>
    runInProcess(['evaluate', '--require', 'complies', join(folder, '004-main-board.md')]);
  expect((await runInProcess(['evaluate', folder])).status).toBe(0);
  // What was found does not comply, and the note proposes what does.
  expect((await require()).status).toBe(0);
  const note = join(folder, '004-main-board.md');
  writeFileSync(note, readFileSync(note, 'utf8').replace('case: as-found\n', ''));
  expect((await require()).status).toBe(1);
});

function differences(a: Report, b: Report): string[] {
  const blocks = (report: Report) =>
    new Map(report.notes.flatMap((n) => n.blocks).map((block) => [block.id, block]));
  const [before, after] = [blocks(a), blocks(b)];
  return [...before]
    .flatMap(([id, block]) =>
      (['given', 'results', 'checks'] as const).flatMap((part) =>
        Object.keys(block[part])
          .filter((name) => JSON.stringify(block[part][name]) !== JSON.stringify(after.get(id)![part][name]))
          .map((name) => `${id}.${part}.${name}`),
      ),
    )
    .sort();
}
