import type { Simulation } from 'eecircuit-engine';

/** Waveforms of one run of the general-purpose circuit simulator ngspice (WebAssembly build). */
export interface SimulatorResult {
  readonly times: readonly number[];
  readonly vectors: ReadonlyMap<string, readonly number[]>;
}

let started: Promise<Simulation | undefined> | undefined;

/** Whether the simulator is installed: it is no part of the program, which computes nothing with it. */
export async function hasCircuitSimulator(): Promise<boolean> {
  return (await startOnce()) !== undefined;
}

/** Runs a netlist. The simulator is started once. */
export async function runCircuitSimulator(netlist: readonly string[]): Promise<SimulatorResult> {
  const simulator = await startOnce();
  if (!simulator) throw new Error('the circuit simulator is not installed');
  simulator.setNetList([...netlist, '.end'].join('\n'));
  const result = await simulator.runSim();
  const errors = simulator.getError().filter((line) => /error/i.test(line));
  if (errors.length > 0) throw new Error(`${netlist[0]}: ${errors.join('; ')}`);
  if (result.dataType !== 'real') throw new Error(`${netlist[0]}: complex result`);
  const vectors = new Map(result.data.map(({ name, values }) => [name, values]));
  return { times: vectors.get('time') ?? [], vectors };
}

function startOnce(): Promise<Simulation | undefined> {
  started ??= start();
  return started;
}

async function start(): Promise<Simulation | undefined> {
  const engine = await import('eecircuit-engine').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ERR_MODULE_NOT_FOUND') return undefined;
    throw error;
  });
  if (!engine) return undefined;
  const simulator = new engine.Simulation();
  await simulator.start();
  return simulator;
}
