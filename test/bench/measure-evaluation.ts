import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseDocument } from 'yaml';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import { withDefaults } from '../../src/engine/definition/apply-defaults.ts';
import { compute } from '../../src/engine/definition/compute.ts';
import { formulaValues } from '../../src/engine/definition/inputs.ts';
import { readInputs } from '../../src/evaluation/inputs/read-inputs.ts';
import { evaluateFormula } from '../../src/formula/evaluate-formula.ts';
import { openProject, type ProjectSession } from '../../src/session/project-session.ts';
import { parseMarkdown } from '../../src/source/parse-markdown.ts';
import { reportRow } from './bench-row.ts';
import { noteOfBlocks, PROJECT, SEED, scheduleOfRows, TABLE_PATH } from './evaluation-trials.ts';

/** Blocks and rows, as a process of its own: `node FILE PROGRAM`, with the built program, whose memory is measured. */
const BLOCKS = 1000;
const ROWS = [1000, 10_000];
const PROGRAM = process.argv[2]!;

const milliseconds = (time: number): string => `${time.toFixed(0)} ms`;

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

/** The YAML of the blocks of a note, without which nothing is known of them, by its library. */
function yamlOf(note: string): () => void {
  const texts = Array.from(note.matchAll(/^```yaml calc\n([\s\S]*?)\n```$/gm), ([, text]) => text!);
  if (texts.length !== BLOCKS) throw new Error(`${texts.length} blocks in the trial note`);
  return () => {
    for (const text of texts) parseDocument(text);
  };
}

function compareBlocks(): void {
  const note = noteOfBlocks(BLOCKS);
  const [markdown, bare, yaml, whole] = leastInTurns(
    [() => void parseMarkdown(note), formulasOf(note), yamlOf(note), () => void open(note).state()],
    4,
  ) as [number, number, number, number];
  const alone = `markdown parsed ${milliseconds(markdown)}, formulas alone ${milliseconds(bare)}`;
  reportRow({
    what: `evaluation: ${BLOCKS} blocks (seed ${SEED}), processor time`,
    measured: `${milliseconds(whole)}, aim twice`,
    against: alone,
    ratio: (whole / (markdown + bare)).toFixed(1),
  });
  reportRow({
    what: 'evaluation: the same blocks, against their YAML too',
    measured: milliseconds(whole),
    against: `${alone}, YAML parsed ${milliseconds(yaml)}`,
    ratio: (whole / (markdown + bare + yaml)).toFixed(1),
  });
}

function measureRows(rows: number): void {
  const { note, table } = scheduleOfRows(rows);
  const [time] = leastInTurns([() => void open(note, table).state()], 2) as [number];
  reportRow({
    what: `evaluation: schedule of ${rows} rows, processor time`,
    measured: `${milliseconds(time)}, ${((1e3 * time) / rows).toFixed(0)} us a row`,
  });
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
    reportRow({
      what: `evaluation: \`surgenote ${['evaluate', ...options].join(' ')}\` of ${rows} rows, processor time`,
      measured:
        status === 0 ? `${milliseconds(time! / 1e3)}, at most ${(memory! / 1e3).toFixed(0)} MB` : 'failed',
    });
  }
}

function report(): void {
  compareBlocks();
  for (const rows of ROWS) measureRows(rows);
  const folder = mkdtempSync(join(tmpdir(), 'surgenote-bench-'));
  try {
    measureProgram(folder, ROWS.at(-1)!);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

report();
