import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, loadavg, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { bench, describe } from 'vitest';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import { withDefaults } from '../../src/engine/definition/apply-defaults.ts';
import { compute } from '../../src/engine/definition/compute.ts';
import { formulaValues } from '../../src/engine/definition/inputs.ts';
import { readInputs } from '../../src/evaluation/inputs/read-inputs.ts';
import { evaluateFormula } from '../../src/formula/evaluate-formula.ts';
import { openProject, type ProjectSession } from '../../src/session/project-session.ts';
import { parseMarkdown } from '../../src/source/parse-markdown.ts';
import { noteOfBlocks, PROJECT, SEED, scheduleOfRows, TABLE_PATH } from './evaluation-trials.ts';

/**
 * Blocks and rows. Run with `npx vitest bench test/bench/evaluate.bench.ts --run`, for the whole program after `npm run build`. Reports
 * processor time, and never fails on a time.
 */

const BLOCKS = 1000;
const ROWS = [1000, 10_000];
const PROGRAM = resolve(import.meta.dirname, '../../dist/cli/main.js');

const say = (text: string): void => console.log(text);
const milliseconds = (time: number): string => `${time.toFixed(0).padStart(6)} ms`;

function processorTime(run: () => void): number {
  const begin = process.cpuUsage();
  run();
  const { user, system } = process.cpuUsage(begin);
  return (user + system) / 1e3;
}

/** The least processor time of each of several works, which take turns: so each meets the same machine. */
function leastInTurns(works: readonly (() => void)[], turns: number): number[] {
  const least = works.map(() => Number.POSITIVE_INFINITY);
  for (let turn = 0; turn < turns; turn++) {
    for (const [i, work] of works.entries()) least[i] = Math.min(least[i]!, processorTime(work));
  }
  return least;
}

function open(note: string, table?: string): ProjectSession {
  const tables: [string, string][] = table === undefined ? [] : [[TABLE_PATH, table]];
  return openProject([['project.yaml', PROJECT], ['1.md', note], ...tables]);
}

/** The formulas of a note with nothing around: every step and both sides of every check, over values that were read before. */
function formulasOf(note: string): () => void {
  const { notes, diagnostics } = open(note).state();
  const errors = diagnostics.filter(({ severity }) => severity === 'error');
  if (errors.length > 0 || notes.length === 0) throw new Error(`${errors.length} errors in the trial note`);
  const prepared = notes[0]!.source.blocks.map((block) => {
    const calculation = CALCULATIONS.get(block.kind === 'calc' ? block.calculation : '')!;
    const { inputs } = readInputs(calculation, block.given, () => ({ ok: false }));
    return { calculation, values: formulaValues(calculation, withDefaults(calculation, inputs)) };
  });
  return () => {
    for (const { calculation, values } of prepared) {
      const state = compute(calculation, values);
      for (const { candidates } of calculation.checks) {
        for (const { value, limit } of candidates) {
          evaluateFormula(value, state.values);
          evaluateFormula(limit, state.values);
        }
      }
    }
  };
}

function compareBlocks(): void {
  const note = noteOfBlocks(BLOCKS);
  const formulas = formulasOf(note);
  const [markdown, bare, whole] = leastInTurns(
    [() => void parseMarkdown(note), formulas, () => void open(note).state()],
    4,
  ) as [number, number, number];
  say(`${BLOCKS} blocks (seed ${SEED}, ${(note.length / 1e6).toFixed(1)} MB):`);
  say(`  markdown parsed  ${milliseconds(markdown)}`);
  say(`  formulas alone   ${milliseconds(bare)}`);
  say(`  evaluated        ${milliseconds(whole)}  ratio ${(whole / (markdown + bare)).toFixed(1)}`);
}

function measureRows(rows: number): void {
  const { note, table } = scheduleOfRows(rows);
  const [time] = leastInTurns([() => void open(note, table).state()], rows > 5000 ? 2 : 4) as [number];
  say(
    `${String(rows).padStart(6)} rows: ${milliseconds(time)}, ${((1e3 * time) / rows).toFixed(0)} us a row`,
  );
}

/** Tells at its end what the process used: kilobytes and microseconds. */
const TELL = `data:text/javascript,process.on('exit',()=>{const u=process.resourceUsage();process.stderr.write('\\n'+u.maxRSS+' '+(u.userCPUTime+u.systemCPUTime))})`;

/** The whole program, for the memory. */
function measureProgram(folder: string, rows: number): void {
  const { note, table } = scheduleOfRows(rows);
  for (const [path, text] of [
    ['project.yaml', PROJECT],
    ['1.md', note],
    [TABLE_PATH, table],
  ] as const)
    writeFileSync(join(folder, path), text);
  for (const options of [[], ['--json']]) {
    const args = ['--import', TELL, PROGRAM, 'evaluate', ...options, folder];
    const { stderr, status } = spawnSync(process.execPath, args, { encoding: 'utf8', maxBuffer: 2 ** 30 });
    const [memory, time] = stderr.trim().split('\n').at(-1)!.split(' ').map(Number);
    const told =
      status === 0 ? `${milliseconds(time! / 1e3)}, at most ${(memory! / 1e3).toFixed(0)} MB` : 'failed';
    say(`  surgenote evaluate ${options.join(' ')} of ${rows} rows: ${told}`);
  }
}

function report(): void {
  say(
    `Load of the machine: ${loadavg()[0]!.toFixed(1)} on ${availableParallelism()} processors, node ${process.version}.`,
  );
  compareBlocks();
  for (const rows of ROWS) measureRows(rows);
  const folder = mkdtempSync(join(tmpdir(), 'surgenote-bench-'));
  try {
    measureProgram(folder, ROWS.at(-1)!);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

describe('evaluation', () => {
  bench('report', report, { iterations: 1, time: 0, warmupIterations: 0, warmupTime: 0 });
});
