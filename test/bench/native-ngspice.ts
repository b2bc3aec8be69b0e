import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ComparedNetwork } from '../../src/verification/compared-network.ts';

/** So many processes are counted together: the shell tells times in whole milliseconds. */
const PROCESSES = 10;

/**
 * A network for the simulator as installed. It keeps in memory what is compared, as the solver does, and writes nothing. Several runs in
 * one process would be quicker to measure, but version 39 crashes in some of them.
 */
export interface NativeNetwork {
  /** Instants that a run computes. */
  readonly points: number;
  /** Milliseconds of processor time of one run from the start of the process to its end; and of a run of one step, which starts, reads and sets up alike. */
  measure(): { readonly whole: number; readonly brief: number };
}

export function isNgspiceInstalled(): boolean {
  return spawnSync('ngspice', ['--version']).status === 0;
}

/** @throws {Error} where the simulator does not run it */
export function prepareNative(network: ComparedNetwork, folder: string): NativeNetwork {
  const write = (name: string, duration: number): string => {
    const file = join(folder, `${name}.cir`);
    writeFileSync(file, deckOf({ ...network, duration }));
    return file;
  };
  const [whole, brief] = [write('whole', network.duration), write('brief', network.step)];
  return {
    points: pointsOf(whole) - pointsOf(brief),
    measure: () => ({ whole: processorTime(whole), brief: processorTime(brief) }),
  };
}

function deckOf({ name, netlist, duration, step, compared }: ComparedNetwork): string {
  const initial = netlist.some((entry) => entry.includes(' ic=')) ? ' uic' : '';
  const vectors = compared.flatMap(({ plus, minus }) => (minus === undefined ? [plus] : [plus, minus]));
  return [
    name,
    ...netlist,
    '.options reltol=1e-5',
    `.save ${[...new Set(vectors)].join(' ')}`,
    `.tran ${step} ${duration} 0 ${step}${initial}`,
    '.control',
    'run',
    '.endc',
    '.end',
    '',
  ].join('\n');
}

function pointsOf(file: string): number {
  const { stdout } = spawnSync('ngspice', ['-b', file], { encoding: 'utf8' });
  const points = Number(/No\. of Data Rows : (\d+)/.exec(stdout)?.[1]);
  if (!(points > 0)) throw new Error(`${file}: ${stdout}`);
  return points;
}

/** Milliseconds of processor time of a process from start to end. */
function processorTime(file: string): number {
  const script =
    'TIMEFORMAT="%3U %3S"; time for run in $(seq "$1"); do ngspice -b "$2" > /dev/null 2>&1; done';
  const { stderr } = spawnSync('bash', ['-c', script, 'bash', String(PROCESSES), file], { encoding: 'utf8' });
  const [user, system] = stderr.trim().split(' ').map(Number);
  return (1e3 * (user! + system!)) / PROCESSES;
}
