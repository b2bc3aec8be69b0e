import { spawn } from 'node:child_process';
import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import { watchEvaluation } from '../../src/cli/watch-evaluation.ts';
import { ARRESTER, calcBlock } from '../review/evaluate-text.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, noteWith, writeProject } from '../support/write-project.ts';

const MAIN = resolve(import.meta.dirname, '../../dist/cli/main.js');
const root = temporaryFolder();
/** 33 kV + (1 m + earth lead) * 10 kV/m. */
const NOTE = noteWith(
  'arrangement: common-earth\nline_lead: 1 m\nearth_lead: 3 m\nresidual_voltage: 33 kV\nresidual_waveform: 1/20\nsteepness: 10 kA/us\nimpulse_withstand: 75 kV',
);

test('each save is evaluated, a fault and a note that comes back too; Ctrl-C ends it quietly', async () => {
  const folder = join(root, 'live');
  const note = join(folder, '001.md');
  writeProject(folder, { '001.md': NOTE });
  const child = spawn(process.execPath, [MAIN, 'evaluate', note, '--watch'], {
    env: { ...process.env, CI: '1' },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (chunk: Buffer) => {
      said += chunk.toString();
    });
  const ended = new Promise<number | null>((done) => child.on('close', done));
  const evaluated = async (what: RegExp): Promise<void> => {
    await expect.poll(() => what.test(said) && /waits for the next change/.test(said)).toBe(true);
    said = '';
  };
  // 75/73 = 1.027
  await evaluated(/withstand_margin {2}1\.027 .*does not comply/);
  // As editors save: another file takes the place. 33 kV + 2.5 m * 10 kV/m = 58 kV, 75/58 = 1.29.
  writeFileSync(`${note}.new`, NOTE.replace('earth_lead: 3 m', 'earth_lead: 1.5 m'));
  renameSync(`${note}.new`, note);
  await evaluated(/withstand_margin {2}1\.29 .*complies/);
  writeFileSync(note, NOTE.replace('earth_lead: 3 m', 'earth_lead: 3 kV'));
  await evaluated(/001\.md:\d+:\d+: error: .*earth_lead/);
  renameSync(note, `${note}.old`);
  await evaluated(/001\.md/);
  writeFileSync(note, NOTE);
  await evaluated(/withstand_margin {2}1\.027 .*does not comply/);
  child.kill('SIGINT');
  expect(await ended).toBe(0);
  // A machine under load may tell of one save twice, and so evaluate it twice.
  expect(said).not.toMatch(/error|SIGINT|\n {4}at /);
});

test('one edit works one calculation', async () => {
  const folder = join(root, 'long');
  const note = join(folder, '001.md');
  const blocks = Array.from({ length: 60 }, (_, i) =>
    calcBlock(`lead-${i}`, 'arrester-connection', { ...ARRESTER, line_lead: `${1 + i / 100} m` }),
  );
  writeProject(folder, { '001.md': `${FRONT_MATTER}${blocks.join('\n')}` });
  const runs: number[] = [];
  let stop = (): void => {};
  const stopped = new Promise<void>((done) => {
    stop = done;
  });
  const quiet = {
    out: () => {},
    lines: () => {},
    wipe: () => {},
    columns: undefined,
    err: () => {},
    progress: () => {},
    diagnostics: () => {},
  };
  const watching = watchEvaluation([folder], quiet, stopped, async (memory) => {
    await loadAndEvaluate([folder], { memory });
    runs.push(memory.takeCounts().get('run') ?? 0);
  });
  await expect.poll(() => runs.length).toBeGreaterThan(0);
  // Another file takes the place: of one that is written in its place half might be read.
  writeFileSync(`${note}.new`, readFileSync(note, 'utf8').replace('line_lead: 1.33 m', 'line_lead: 2.33 m'));
  renameSync(`${note}.new`, note);
  await expect.poll(() => runs.reduce((sum, run) => sum + run, 0)).toBeGreaterThan(60);
  stop();
  await watching;
  // A machine under load may tell late that the folder is watched, or twice of one save: then there is nothing to work.
  expect(runs.filter((run) => run > 0)).toEqual([60, 1]);
});

test('--watch goes with neither --json nor --require', async () => {
  for (const more of [['--json'], ['--require', 'complies']]) {
    const { status, err } = await runInProcess(['evaluate', root, '--watch', ...more]);
    expect([status, err]).toEqual([2, '--watch goes with neither --json nor --require\n']);
  }
});
