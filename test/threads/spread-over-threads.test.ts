import { spawnSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import type { StrokeCase } from '../../src/engine/calculations/travelling-wave/simulate-strokes.ts';
import type { PieceTask } from '../../src/engine/definition/piece-task.ts';
import { FAILED, sharePieces, workPieces } from '../../src/threads/shared-pieces.ts';
import { spread } from '../support/at-length.ts';
import { compileModule } from '../support/compile-module.ts';
import { strokeCase } from '../support/stroke-case.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';

const root = temporaryFolder();

/** Threads run compiled code. */
const COMPILED = join(root, 'compiled');
mkdirSync(COMPILED);
await compileModule(
  COMPILED,
  'cli/load-and-evaluate.ts',
  'evaluation/machine-report.ts',
  'threads/spread-over-threads.ts',
  'threads/work-pieces.ts',
);
const built = <Module>(file: string): Promise<Module> => import(pathToFileURL(join(COMPILED, file)).href);

const { spreadOverThreads } = await built<typeof import('../../src/threads/spread-over-threads.ts')>(
  'threads/spread-over-threads.js',
);

/** Nobody wakes who waits for it. */
const NEVER = new Int32Array(new SharedArrayBuffer(4));

// Enough pieces for four threads.
const asked = strokeCase({}, { size: 160, flashover: Number.POSITIVE_INFINITY });

test('a sample gives the same bytes on one, two and four threads, and others did take part', async () => {
  const { strokeVoltage } = await built<
    typeof import('../../src/engine/calculations/travelling-wave/simulate-strokes.ts')
  >('engine/calculations/travelling-wave/simulate-strokes.js');
  const runs = spread([1, 2, 4], 2).map((threads) => {
    let here = 0;
    const counted: PieceTask<StrokeCase> = {
      name: strokeVoltage.name,
      work: (input, index) => {
        // As long as all pieces were taken here, the next one waits, each longer than the last: the other threads come up meanwhile.
        if (threads > 1 && index === here) Atomics.wait(NEVER, 0, 0, 1.06 ** index);
        here++;
        return strokeVoltage.work(input, index);
      },
    };
    const voltages = spreadOverThreads({ threads })(counted, asked, asked.size);
    return { here, bytes: Buffer.from(voltages.buffer).toString('hex') };
  });
  expect(runs[0]!.here).toBe(asked.size);
  for (const { here } of runs.slice(1)) expect(here).toBeLessThan(asked.size);
  expect(new Set(runs.map(({ bytes }) => bytes)).size).toBe(1);
  expect(runs[0]!.bytes).not.toMatch(/^(?:00)*$/);
});

const SAMPLE = `arrangement: separate-earths
line_lead: 1 m
earth_lead: 8 m
earth_resistance: 10 ohm
residual_voltage: 33 kV
residual_current: 10 kA
exponent: 30
line_impedance: 400 ohm
line_flashover: 300 kV
impulse_withstand: 95 kV
strokes: 160
stroke_rate: 0.05 1/year`;

/** In a process of its own, as the built program runs. */
const SCRIPT = `
import { loadAndEvaluate } from './cli/load-and-evaluate.js';
import { machineReport } from './evaluation/machine-report.js';
const [folder, threads] = process.argv.slice(1);
const seen = [];
const progress = (done) => seen.push(done);
const [loaded] = await loadAndEvaluate([folder], { threads: Number(threads), progress });
const report = JSON.stringify(machineReport(loaded.notes, loaded.diagnostics));
console.log(JSON.stringify({ report, seen }));
`;

test('a note with a sample gives the same report on one thread and on four, with progress', () => {
  writeProject(`${root}/p`, { 'note.md': noteWith(SAMPLE, 'surge-statistics') });
  const runs = ['1', '4'].map((threads) => {
    const args = ['--input-type=module', '-e', SCRIPT, `${root}/p`, threads];
    const { stdout, stderr } = spawnSync(process.execPath, args, { cwd: COMPILED, encoding: 'utf8' });
    expect(stderr).toBe('');
    return JSON.parse(stdout) as { report: string; seen: number[] };
  });
  for (const { report, seen } of runs) {
    expect(seen.at(-1)).toBe(160);
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    expect(JSON.parse(report).notes[0].blocks[0].results.strokes_over.value).toBeGreaterThan(0);
  }
  for (const { report } of runs) expect(report).toBe(runs[0]!.report);
});

test('what another thread failed at is worked here, and fails here where it must', () => {
  const shared = sharePieces(3);
  const work = (index: number): number => {
    if (index === 1) throw new Error('piece');
    return index;
  };
  expect(() => workPieces(shared, work)).toThrow('piece');
  expect(shared.states[1]).toBe(FAILED);
  const faulty: PieceTask<number> = { name: 'no such task', work: (input, index) => input * index };
  // A thread that does not know the task takes no piece.
  expect([...spreadOverThreads({ threads: 2 })(faulty, 2, 80)]).toEqual(
    [...Array(80).keys()].map((i) => 2 * i),
  );
});
