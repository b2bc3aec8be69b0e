import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { rolldown } from 'rolldown';
import { bench, describe } from 'vitest';
import type { SurgeElement } from '../../src/engine/transient/element.ts';
import { simulate } from '../../src/engine/transient/simulate.ts';
import { runCircuitSimulator } from '../published/circuit-simulator.ts';
import type { ComparedNetwork } from '../published/compared-network.ts';
import { comparedNetworks } from '../published/surge-networks.ts';
import { chainOfLines, ladder, runCompared, runStrokes } from './transient-runs.ts';

/** Run with `npx vitest bench test/bench/transient.bench.ts --run`. Reports, and never fails on a time. */

const say = (text: string): void => console.log(text);
const milliseconds = (time: number): string => `${time.toFixed(2).padStart(9)} ms`;

/** The shortest of several runs, in milliseconds: the one least disturbed by the rest of the machine. */
function shortest(repetitions: number, run: () => void): number {
  let least = Number.POSITIVE_INFINITY;
  for (let index = 0; index < repetitions; index++) {
    const begin = performance.now();
    run();
    least = Math.min(least, performance.now() - begin);
  }
  return least;
}

async function shortestOf(repetitions: number, run: () => Promise<unknown>): Promise<number> {
  let least = Number.POSITIVE_INFINITY;
  for (let index = 0; index < repetitions; index++) {
    const begin = performance.now();
    await run();
    least = Math.min(least, performance.now() - begin);
  }
  return least;
}

const netlistOf = ({ name, netlist, duration, step }: ComparedNetwork): string[] => {
  const initial = netlist.some((entry) => entry.includes(' ic=')) ? ' uic' : '';
  return [name, ...netlist, '.options reltol=1e-5', `.tran ${step} ${duration} 0 ${step}${initial}`];
};

const ngspiceIsInstalled = spawnSync('ngspice', ['--version']).status === 0;

async function compareProcesses(bundle: string, folder: string): Promise<void> {
  say('\nThe same networks: this solver against ngspice, shortest of 5 runs (whole processes of 3).');
  say('in-process: per run and per time step; WASM: ngspice compiled to WebAssembly; process: start to end');
  if (!ngspiceIsInstalled) say('ngspice as a process: not installed');
  const ratios: { inside: number[]; process: number[] } = { inside: [], process: [] };
  for (const [index, network] of comparedNetworks.entries()) {
    const steps = Math.round(network.duration / network.step);
    for (let warm = 0; warm < 5; warm++) runCompared(network);
    const own = shortest(5, () => runCompared(network));
    let samples = 0;
    const theirs = await shortestOf(5, async () => {
      samples = (await runCircuitSimulator(netlistOf(network))).times.length;
    });
    ratios.inside.push(theirs / own);
    const perStep = `${((1e3 * own) / steps).toFixed(2)} us a step, WASM ${((1e3 * theirs) / samples).toFixed(2)} us a step`;
    const ownProcess = shortest(3, () => spawnSync(process.execPath, [bundle, String(index)]));
    say(`${network.name}`);
    say(
      `  in-process${milliseconds(own)}  WASM${milliseconds(theirs)}  ratio ${(theirs / own).toFixed(1)}   (${perStep})`,
    );
    if (!ngspiceIsInstalled) {
      say(`  process   ${milliseconds(ownProcess)}`);
      continue;
    }
    const file = join(folder, `${index}.cir`);
    const raw = join(folder, `${index}.raw`);
    writeFileSync(file, [...netlistOf(network), '.end', ''].join('\n'));
    const native = shortest(3, () => spawnSync('ngspice', ['-b', '-r', raw, file]));
    ratios.process.push(native / ownProcess);
    say(
      `  process   ${milliseconds(ownProcess)}  ngspice${milliseconds(native)}  ratio ${(native / ownProcess).toFixed(2)}`,
    );
    say(`  ngspice process against this solver in-process: ratio ${(native / own).toFixed(1)}`);
  }
  const mean = (values: readonly number[]): string =>
    values.length === 0
      ? '-'
      : Math.exp(values.reduce((sum, value) => sum + Math.log(value), 0) / values.length).toFixed(1);
  say(
    `geometric mean of the ratios: in-process against WASM ${mean(ratios.inside)}, whole processes ${mean(ratios.process)}`,
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
  say('\nStrokes on a pole with one arrester, 1600 steps each.');
  runStrokes(0, 20);
  const count = 300;
  const one = (1e3 * count) / shortest(2, () => runStrokes(0, count));
  const two = (1e3 * count) / (await onThreads(bundle, 2, count));
  say(
    `one thread ${one.toFixed(0)} a second, two threads ${two.toFixed(0)} a second, ratio ${(two / one).toFixed(2)}`,
  );
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
