import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { SurgeElement } from '../../src/engine/transient/element.ts';
import { simulate } from '../../src/engine/transient/simulate.ts';
import type { ComparedNetwork } from '../../src/verification/compared-network.ts';
import { comparedNetworks } from '../../src/verification/surge-networks.ts';
import { strokeCase } from '../support/stroke-case.ts';
import { reportRow } from './bench-row.ts';
import { isNgspiceInstalled, prepareNative } from './native-ngspice.ts';
import { chainOfLines, ladder, runCompared } from './transient-runs.ts';

/** Measures the surge solver as the program runs it; with the folder of the modules that spread pieces over threads, built as the program is, as argument. */

/** Each side is measured so often, in turns; the least of each counts, which is that least disturbed. */
const ROUNDS = 7;

/** Steps of one measurement of this solver: some hundredths of a second. */
const STEPS_MEASURED = 80_000;

/** Milliseconds of processor time that a run takes in this process: what else the machine does is not counted. */
function processorTime(run: () => void): number {
  const before = process.cpuUsage();
  run();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e3;
}

function least(repetitions: number, run: () => number): number {
  return Math.min(...Array.from({ length: repetitions }, run));
}

/** The least of whole runs less the least of brief ones; the least of the differences would be that of the most disturbed brief run. */
function leastDifference(rounds: readonly { whole: number; brief: number }[]): number {
  return Math.min(...rounds.map(({ whole }) => whole)) - Math.min(...rounds.map(({ brief }) => brief));
}

const eachStep = (microseconds: number): string => `${microseconds.toFixed(3)} us a step`;

/** The geometric mean of ratios, and the least. */
function summary(ratios: readonly number[]): string {
  const mean = Math.exp(ratios.reduce((sum, ratio) => sum + Math.log(ratio), 0) / ratios.length);
  return `${mean.toFixed(1)}, least ${Math.min(...ratios).toFixed(1)}`;
}

function compareWithSimulator(folder: string): void {
  // All of them once before, as in a program that has computed other networks already.
  for (const network of comparedNetworks) for (let run = 0; run < 40; run++) runCompared(network);
  const ratios = comparedNetworks.flatMap((network) => compareNetwork(network, folder));
  if (ratios.length === 0) return;
  reportRow({
    what: 'surge solver: all networks',
    measured: 'aim: each at least 10',
    against: 'geometric mean of the ratios, least',
    ratio: summary(ratios),
  });
}

/** The ratio, where there is something to compare with. Of both sides a run of one step is taken off: what a run takes before it steps. */
function compareNetwork(network: ComparedNetwork, folder: string): number[] {
  const steps = Math.round(network.duration / network.step);
  const repeated = Math.ceil(STEPS_MEASURED / steps);
  const brief = { ...network, duration: network.step };
  const runOwn = (one: ComparedNetwork): number =>
    processorTime(() => {
      for (let run = 0; run < repeated; run++) runCompared(one);
    }) / repeated;
  const native = isNgspiceInstalled() ? prepareNative(network, folder) : undefined;
  const own: { whole: number; brief: number }[] = [];
  const other: { whole: number; brief: number }[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    own.push({ whole: runOwn(network), brief: runOwn(brief) });
    if (native) other.push(native.measure());
  }
  const ownStep = (1e3 * leastDifference(own)) / (steps - 1);
  const what = `surge solver: ${network.name}`;
  if (!native) {
    reportRow({ what, measured: eachStep(ownStep), against: 'ngspice: not installed' });
    return [];
  }
  const nativeStep = (1e3 * leastDifference(other)) / native.points;
  const ratio = nativeStep / ownStep;
  reportRow({
    what,
    measured: eachStep(ownStep),
    against: `native ngspice ${nativeStep.toFixed(2)} us a step`,
    ratio: ratio.toFixed(1),
  });
  return [ratio];
}

function compareSizes(): void {
  const kinds: readonly (readonly [string, (nodes: number) => SurgeElement[]])[] = [
    ['chain of lines', chainOfLines],
    ['ladder of inductances and capacitances', ladder],
  ];
  for (const [name, build] of kinds) {
    for (const nodes of [10, 100, 1000])
      reportRow({ what: `${name}, ${nodes} nodes`, ...costOfSize(build, nodes) });
  }
}

function costOfSize(
  build: (nodes: number) => SurgeElement[],
  nodes: number,
): { measured: string; against: string } {
  const steps = Math.max(2000, Math.round(1_000_000 / nodes));
  const step = 10e-9;
  const elements = build(nodes);
  const run = (count: number): number =>
    processorTime(() => {
      const observe = [{ kind: 'voltage' as const, node: 'n1' }];
      const duration = count * step;
      const outcome = simulate(
        { elements },
        { duration, step, observe, energyLimit: Number.POSITIVE_INFINITY },
      );
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    });
  for (let warm = 0; warm < 3; warm++) run(steps);
  const start = least(ROUNDS, () => run(1));
  const time = least(ROUNDS, () => run(steps)) - start;
  return {
    measured: `${((1e6 * time) / steps / nodes).toFixed(0)} ns a step and node`,
    against: `start ${start.toFixed(2)} ms`,
  };
}

/** A pole with long leads and two earths, and as many strokes as a note has that does not say how many. */
const strokes = strokeCase(
  { arrangement: 'separate-earths', earthLead: 8, earthResistance: 10 },
  { size: 400 },
);

/** What `spreadOverThreads` of the program as built does, with threads of its own for each `instance`. */
type StrokeRun = (threads: number, instance: number) => Promise<{ clock: number; processor: number }>;

async function strokeRun(built: string, size: number): Promise<StrokeRun> {
  const load = <Module>(file: string, query = ''): Promise<Module> =>
    import(pathToFileURL(join(built, file)).href + query);
  const { strokeVoltage } =
    await load<typeof import('../../src/engine/calculations/travelling-wave/simulate-strokes.ts')>(
      'simulate-strokes.js',
    );
  return async (threads, instance) => {
    const { spreadOverThreads } = await load<typeof import('../../src/threads/spread-over-threads.ts')>(
      'spread-over-threads.js',
      `?${instance}`,
    );
    const begin = performance.now();
    const processor = processorTime(() =>
      spreadOverThreads({ threads })(strokeVoltage, { ...strokes, size }, size),
    );
    return { clock: performance.now() - begin, processor };
  };
}

/** A sample on one thread and on two: with the start of the other thread, and once that has been kept from a sample before. */
async function compareThreads(built: string, size: number, rounds: number): Promise<void> {
  const run = await strokeRun(built, size);
  await run(1, size);
  const seen: { clock: number; processor: number }[][] = [[], [], []];
  for (let round = 0; round < rounds; round++) {
    seen[0]!.push(await run(1, size + round));
    seen[1]!.push(await run(2, size + round));
    seen[2]!.push(await run(2, size + round));
  }
  const [one, started, kept] = seen.map((runs) => ({
    clock: Math.min(...runs.map(({ clock }) => clock)),
    processor: Math.min(...runs.map(({ processor }) => processor)),
  }));
  const tell = ({ clock, processor }: { clock: number; processor: number }): string =>
    `${((1e3 * size) / clock).toFixed(0)} a second, processors ${(processor / 1e3).toFixed(2)} s`;
  for (const [what, two] of [
    ['with the start of the other', started!],
    ['the other kept', kept!],
  ] as const) {
    reportRow({
      what: `${size} strokes of a sample on two threads, ${what} (aim 1.7)`,
      measured: tell(two),
      against: `one thread ${tell(one!)}`,
      ratio: (one!.clock / two.clock).toFixed(2),
    });
  }
}

const folder = mkdtempSync(join(tmpdir(), 'surge-bench-'));
try {
  compareWithSimulator(folder);
  compareSizes();
  const built = process.argv[2]!;
  await compareThreads(built, strokes.size, ROUNDS);
  await compareThreads(built, 10 * strokes.size, 2);
} finally {
  rmSync(folder, { recursive: true });
}
