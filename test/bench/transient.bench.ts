import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { rolldown } from 'rolldown';
import { bench, describe } from 'vitest';
import type { SurgeElement } from '../../src/engine/transient/element.ts';
import { simulate } from '../../src/engine/transient/simulate.ts';
import { runCircuitSimulator } from '../../src/verification/circuit-simulator.ts';
import type { ComparedNetwork } from '../../src/verification/compared-network.ts';
import { comparedNetworks } from '../../src/verification/surge-networks.ts';
import { chainOfLines, ladder, runCompared, runStrokes } from './transient-runs.ts';

/** Run with `npx vitest bench test/bench/transient.bench.ts --run`. Reports, and never fails on a time. */

const say = (text: string): void => console.log(text);
const milliseconds = (time: number): string => `${time.toFixed(2).padStart(9)} ms`;

/** Milliseconds of processor time that this process has used: what else the machine does is not counted. */
function processorTime(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e3;
}

/** The least processor time of several runs, in milliseconds: the run least disturbed. */
function shortest(repetitions: number, run: () => void): number {
  let least = Number.POSITIVE_INFINITY;
  for (let index = 0; index < repetitions; index++) {
    const begin = processorTime();
    run();
    least = Math.min(least, processorTime() - begin);
  }
  return least;
}

async function shortestOf(repetitions: number, run: () => Promise<unknown>): Promise<number> {
  let least = Number.POSITIVE_INFINITY;
  for (let index = 0; index < repetitions; index++) {
    const begin = processorTime();
    await run();
    least = Math.min(least, processorTime() - begin);
  }
  return least;
}

/** The same of a process from start to end, as the shell counts it. */
function shortestProcess(repetitions: number, command: string, args: readonly string[]): number {
  let least = Number.POSITIVE_INFINITY;
  const script = 'TIMEFORMAT="%3U %3S"; time "$@" > /dev/null 2>&1';
  for (let index = 0; index < repetitions; index++) {
    const { stderr } = spawnSync('bash', ['-c', script, 'bash', command, ...args], { encoding: 'utf8' });
    const [user, system] = stderr.trim().split(' ').map(Number);
    least = Math.min(least, 1e3 * (user! + system!));
  }
  return least;
}

const netlistOf = ({ name, netlist, duration, step }: ComparedNetwork): string[] => {
  const initial = netlist.some((entry) => entry.includes(' ic=')) ? ' uic' : '';
  return [name, ...netlist, '.options reltol=1e-5', `.tran ${step} ${duration} 0 ${step}${initial}`];
};

const ngspiceIsInstalled = spawnSync('ngspice', ['--version']).status === 0;

/** A circuit of one resistor: what starting and ending the simulator takes. */
const NOTHING = ['nothing', 'v1 a 0 1', 'r1 a 0 1', '.tran 1n 2n', '.end', ''].join('\n');

/** Points of a raw file of ngspice, from its header. */
function pointsOf(raw: string): number {
  return Number(/No\. Points:\s*(\d+)/.exec(readFileSync(raw).subarray(0, 2000).toString('latin1'))?.[1]);
}

const mean = (values: readonly number[]): string =>
  values.length === 0
    ? '-'
    : Math.exp(values.reduce((sum, value) => sum + Math.log(value), 0) / values.length).toFixed(1);

interface Ratios {
  readonly wasm: number[];
  readonly native: number[];
  readonly whole: number[];
}

async function compareProcesses(bundle: string, folder: string): Promise<void> {
  say('\nThe same networks: this solver against ngspice, least processor time of several runs.');
  say(`Load of the machine: ${loadavg()[0]!.toFixed(1)} on ${availableParallelism()} processors.`);
  say('WASM: ngspice compiled to WebAssembly, in this process; native: its process less the start of one');
  if (!ngspiceIsInstalled) say('ngspice as a process: not installed');
  const starts = { own: 0, native: 0 };
  starts.own = shortestProcess(3, process.execPath, [bundle, 'nothing']);
  if (ngspiceIsInstalled) {
    const file = join(folder, 'nothing.cir');
    writeFileSync(file, NOTHING);
    starts.native = shortestProcess(5, 'ngspice', ['-b', '-r', join(folder, 'nothing.raw'), file]);
  }
  say(`start of a process: this solver ${milliseconds(starts.own)}, ngspice ${milliseconds(starts.native)}`);
  const single: Ratios = { wasm: [], native: [], whole: [] };
  const others: Ratios = { wasm: [], native: [], whole: [] };
  for (const [index, network] of comparedNetworks.entries()) {
    const arresters = network.elements.filter(({ kind }) => kind.endsWith('arrester')).length;
    const ratios = arresters === 1 ? single : others;
    await compareOne(network, index, { bundle, folder, start: starts.native }, ratios);
  }
  for (const [name, { wasm, native, whole }] of [
    ['networks with a single arrester', single],
    ['the others', others],
  ] as const) {
    say(
      `${name}, geometric mean (least) of the ratios: WASM ${mean(wasm)} (${Math.min(...wasm).toFixed(1)}), ` +
        `native ${mean(native)} (${Math.min(...native).toFixed(1)}), whole processes ${mean(whole)}`,
    );
  }
}

interface ProcessRun {
  readonly bundle: string;
  readonly folder: string;
  /** Milliseconds that ngspice takes for nothing. */
  readonly start: number;
}

async function compareOne(
  network: ComparedNetwork,
  index: number,
  run: ProcessRun,
  ratios: Ratios,
): Promise<void> {
  const { bundle, folder, start } = run;
  const steps = Math.round(network.duration / network.step);
  for (let warm = 0; warm < 40; warm++) runCompared(network);
  const own = shortest(60, () => runCompared(network));
  let samples = 0;
  const wasm = await shortestOf(3, async () => {
    samples = (await runCircuitSimulator(netlistOf(network))).times.length;
  });
  ratios.wasm.push(wasm / own);
  const each = (time: number, count: number): string =>
    `${((1e3 * time) / count).toFixed(2).padStart(6)} us a step`;
  say(network.name);
  say(`  this solver${milliseconds(own)} ${each(own, steps)}`);
  say(`  WASM       ${milliseconds(wasm)} ${each(wasm, samples)}  ratio ${(wasm / own).toFixed(1)}`);
  const ownProcess = shortestProcess(3, process.execPath, [bundle, String(index)]);
  if (!ngspiceIsInstalled) {
    say(`  process    ${milliseconds(ownProcess)}, ngspice not installed`);
    return;
  }
  const file = join(folder, `${index}.cir`);
  const raw = join(folder, `${index}.raw`);
  writeFileSync(file, [...netlistOf(network), '.end', ''].join('\n'));
  const whole = shortestProcess(5, 'ngspice', ['-b', '-r', raw, file]);
  const native = whole - start;
  ratios.native.push(native / own);
  ratios.whole.push(whole / ownProcess);
  say(
    `  native     ${milliseconds(native)} ${each(native, pointsOf(raw))}  ratio ${(native / own).toFixed(1)}`,
  );
  say(
    `  processes  ${milliseconds(ownProcess)}, ngspice ${milliseconds(whole)}  ratio ${(whole / ownProcess).toFixed(2)}`,
  );
}

function compareSizes(): void {
  say('\nCost against size, per time step and node (linear growth: the last column stays).');
  const kinds: readonly (readonly [string, (nodes: number) => SurgeElement[]])[] = [
    ['chain of lines', chainOfLines],
    ['ladder of L and C', ladder],
  ];
  for (const [name, build] of kinds) {
    for (const nodes of [10, 100, 1000]) {
      const steps = Math.max(2000, Math.round(200_000 / nodes));
      const step = 10e-9;
      const elements = build(nodes);
      const options = { duration: steps * step, step, observe: [{ kind: 'voltage' as const, node: 'n1' }] };
      const run = (): void => {
        const outcome = simulate({ elements }, options);
        if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
      };
      const brief = shortest(3, () => simulate({ elements }, { ...options, duration: step }));
      const time = shortest(3, run) - brief;
      const perStep = (1e3 * time) / steps;
      say(
        `${name.padEnd(18)} ${String(nodes).padStart(5)} nodes: ${perStep.toFixed(2).padStart(8)} us a step, ` +
          `${((1e3 * perStep) / nodes).toFixed(1).padStart(6)} ns a step and node, start ${brief.toFixed(1)} ms`,
      );
    }
  }
}

async function countStrokes(bundle: string): Promise<void> {
  say('\nStrokes on a pole with one arrester, 1600 steps each, by the clock.');
  const count = 300;
  const one = (1e3 * count) / (await onThreads(bundle, 1, count));
  const two = (1e3 * count) / (await onThreads(bundle, 2, count));
  say(
    `one thread ${one.toFixed(0)} a second, two threads ${two.toFixed(0)} a second, ratio ${(two / one).toFixed(2)}; ` +
      `load of the machine ${loadavg()[0]!.toFixed(1)}`,
  );
  runStrokes(0, 20);
  const alone = (1e3 * count) / shortest(3, () => runStrokes(0, count));
  say(`in processor time ${alone.toFixed(0)} a second`);
}

async function onThreads(bundle: string, threads: number, count: number): Promise<number> {
  const share = count / threads;
  const workers = Array.from(
    { length: threads },
    (_, index) => new Worker(bundle, { workerData: { first: index * share, count: share } }),
  );
  const answer = (worker: Worker): Promise<unknown> =>
    new Promise((resolve, reject) => worker.once('message', resolve).once('error', reject));
  await Promise.all(workers.map(answer));
  const begin = performance.now();
  const results = workers.map(answer);
  for (const worker of workers) worker.postMessage('go');
  await Promise.all(results);
  const time = performance.now() - begin;
  await Promise.all(workers.map((worker) => worker.terminate()));
  return time;
}

async function report(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'surge-bench-'));
  try {
    const bundle = join(folder, 'transient-process.mjs');
    const build = await rolldown({
      input: join(import.meta.dirname, 'transient-process.ts'),
      platform: 'node',
    });
    await build.write({ file: bundle, format: 'esm' });
    await compareProcesses(bundle, folder);
    compareSizes();
    await countStrokes(bundle);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

describe('surge solver', () => {
  bench('report', report, { iterations: 1, time: 0, warmupIterations: 0, warmupTime: 0 });
});
