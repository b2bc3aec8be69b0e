import { describe, expect, it } from 'vitest';
import { simulate } from '../../src/engine/transient/simulate.ts';
import { runCircuitSimulator } from './circuit-simulator.ts';
import type { ComparedNetwork } from './compared-network.ts';
import { comparedNetworks } from './surge-networks.ts';

/** Of the peak: how far peaks and single points may lie apart. */
const peakTolerance = 0.005;
const pointTolerance = 0.005;

/**
 * Independent solution: the general-purpose circuit simulator ngspice with its own line (T), lumped and behavioural (B)
 * elements, from a netlist written by hand.
 */
describe('networks solved by ngspice, too', () => {
  it.each(comparedNetworks)('$name', async (network) => {
    const { duration, step, compared } = network;
    const observe = compared.map(({ observation }) => observation);
    const outcome = simulate(network, { duration, step, observe });
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    const { times, vectors } = await runCircuitSimulator(netlistOf(network));
    expect(times.length).toBeGreaterThan(duration / step / 2);
    for (const [index, { plus, minus }] of compared.entries()) {
      const theirs = instants(times, network).map(
        (sample) => vectors.get(plus)![sample]! - (minus === undefined ? 0 : vectors.get(minus)![sample]!),
      );
      const peak = Math.max(...theirs.map(Math.abs));
      const record = outcome.result.records[index]!;
      expect(peak, `${plus} moves`).toBeGreaterThan(0);
      expect(Math.abs(Math.abs(record.peak) - peak) / peak, `peak of ${plus}`).toBeLessThan(peakTolerance);
      const ours = instants(times, network).map((sample) => valueAt(record.values, step, times[sample]!));
      const apart = Math.max(...theirs.map((value, sample) => Math.abs(value - ours[sample]!))) / peak;
      expect(apart, `points of ${plus}`).toBeLessThan(pointTolerance);
    }
  });
});

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
