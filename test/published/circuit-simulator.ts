import { Simulation } from 'eecircuit-engine';

/** Waveforms of one run of the general-purpose circuit simulator ngspice (WebAssembly build). */
export interface SimulatorResult {
  readonly times: readonly number[];
  readonly vectors: ReadonlyMap<string, readonly number[]>;
}

let started: Promise<Simulation> | undefined;

/** Runs a netlist. The simulator is started once for each test file. */
export async function runCircuitSimulator(netlist: readonly string[]): Promise<SimulatorResult> {
  started ??= start();
  const simulator = await started;
  simulator.setNetList([...netlist, '.end'].join('\n'));
  const result = await simulator.runSim();
  const errors = simulator.getError().filter((line) => /error/i.test(line));
  if (errors.length > 0) throw new Error(`${netlist[0]}: ${errors.join('; ')}`);
  if (result.dataType !== 'real') throw new Error(`${netlist[0]}: complex result`);
  const vectors = new Map(result.data.map(({ name, values }) => [name, values]));
  return { times: vectors.get('time') ?? [], vectors };
}

async function start(): Promise<Simulation> {
  const simulator = new Simulation();
  await simulator.start();
  return simulator;
}
