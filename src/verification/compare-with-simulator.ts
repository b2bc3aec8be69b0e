import { simulate } from '../engine/transient/simulate.ts';
import { runCircuitSimulator } from './circuit-simulator.ts';
import type { ComparedNetwork } from './compared-network.ts';

/** One voltage or current of a network, in the surge solver and in the circuit simulator. */
export interface SimulatedPair {
  readonly network: string;
  /** What is compared, in the simulator's words: 'v(a)'. */
  readonly observed: string;
  /** Magnitudes of the peaks, in V or A. */
  readonly peak: number;
  readonly simulatorPeak: number;
  /** Largest difference at any instant, as a share of the simulator's peak. */
  readonly apart: number;
}

/**
 * Solves a network in both. The simulator is the general-purpose circuit simulator ngspice with its own line (T), lumped and
 * behavioural (B) elements, from a netlist written by hand.
 *
 * @throws where either of them finds no solution, or the simulator gives far fewer instants than were asked for
 */
export async function compareWithSimulator(network: ComparedNetwork): Promise<readonly SimulatedPair[]> {
  const { duration, step, compared, name } = network;
  const observe = compared.map(({ observation }) => observation);
  const outcome = simulate(network, { duration, step, observe });
  if (!outcome.ok) throw new Error(`${name}: ${JSON.stringify(outcome.problems)}`);
  const { times, vectors } = await runCircuitSimulator(netlistOf(network));
  if (times.length <= duration / step / 2)
    throw new Error(`${name}: the simulator gave ${times.length} instants`);
  const samples = instants(times, network);
  return compared.map(({ plus, minus }, index) => {
    const theirs = samples.map(
      (sample) => vectors.get(plus)![sample]! - (minus === undefined ? 0 : vectors.get(minus)![sample]!),
    );
    const simulatorPeak = Math.max(...theirs.map(Math.abs));
    const record = outcome.result.records[index]!;
    const ours = samples.map((sample) => valueAt(record.values, step, times[sample]!));
    return {
      network: name,
      observed: minus === undefined ? plus : `${plus} - ${minus}`,
      peak: Math.abs(record.peak),
      simulatorPeak,
      apart: Math.max(...theirs.map((value, sample) => Math.abs(value - ours[sample]!))) / simulatorPeak,
    };
  });
}

function netlistOf({ name, netlist, duration, step }: ComparedNetwork): string[] {
  const initial = netlist.some((entry) => entry.includes(' ic=')) ? ' uic' : '';
  const options = '.options reltol=1e-5 method=trap';
  return [name, ...netlist, options, `.tran ${step} ${duration + 3 * step} 0 ${step}${initial}`];
}

/**
 * The simulator's samples that are compared. It ends a run with a very short step, in which the voltage of an inductor is
 * noise: it runs a little longer than needed. The first step is left out, as a charged network is at rest before it.
 */
function instants(times: readonly number[], { duration, step }: ComparedNetwork): number[] {
  return [...times.keys()].filter((sample) => times[sample]! >= step && times[sample]! <= duration);
}

function valueAt(values: Float64Array, step: number, time: number): number {
  const position = Math.min(time / step, values.length - 1);
  const before = Math.min(Math.floor(position), values.length - 2);
  return values[before]! + (position - before) * (values[before + 1]! - values[before]!);
}

/** 'S07' */
export function simulationId(index: number): string {
  return `S${String(index + 1).padStart(2, '0')}`;
}
