import { type Assembly, assemble } from './assemble.ts';
import { ValuesTooFarApart } from './block.ts';
import { checkNetwork } from './check-network.ts';
import type { PartEnergy, Step, SurgeElement } from './element.ts';
import { type EnergyBalance, energyBalance, ImbalanceRecord } from './energy-balance.ts';
import type { Observation, SurgeNetwork } from './network.ts';
import { failed, type Outcome } from './outcome.ts';
import { createProbe, type Probe } from './probe.ts';
import type { NotConverged, SolverProblem } from './solver-problem.ts';

export interface SimulationOptions {
  /** Seconds. */
  readonly duration: number;
  /** Seconds; at most the shortest line's delay. */
  readonly step: number;
  readonly observe: readonly Observation[];
  /** Largest imbalance of energy as a share of the energy turned over; 1 % where absent. */
  readonly energyLimit?: number;
}

export interface Simulation {
  readonly step: number;
  /** Seconds, from zero on. */
  readonly times: Float64Array;
  /** One for each observation, in their order. */
  readonly records: readonly RecordedCourse[];
  readonly energies: ReadonlyMap<string, PartEnergy>;
  readonly balance: EnergyBalance;
  /** The largest imbalance met on the way, as a share of the energy turned over. */
  readonly imbalance: number;
  readonly beyondCharacteristic: readonly CurrentBeyond[];
}

/** One observed value at every instant. The first sample, at time zero, is zero: the state before the first step. */
export interface RecordedCourse {
  readonly observation: Observation;
  readonly values: Float64Array;
  /** The value furthest from zero, with its sign, and its instant. */
  readonly peak: number;
  readonly peakTime: number;
}

/** An arrester carried more than the last current of its characteristic: its voltage there is an extrapolation. */
export interface CurrentBeyond {
  readonly element: string;
  readonly current: number;
  readonly highestCurrent: number;
}

const usualEnergyLimit = 0.01;

/** More steps than this are refused: the memory for the records would not be there. */
const stepLimit = 5_000_000;

/** So many observed values are kept at most: 160 MB. A line keeps four values and more for each step of its delay. */
const valueLimit = 20_000_000;

/** A step of an element takes some 200 ns: what is more than some minutes is refused before it is begun. */
const workLimit = 1_000_000_000;

/** The balance of energy is drawn up at this many instants of a run. */
const balancePoints = 8;

/** Runs a network with a fixed step. Reports every fault of network and options at once, or the one of the run. */
export function simulate(network: SurgeNetwork, options: SimulationOptions): Outcome<Simulation> {
  const problems = [...checkNetwork(network, options.observe), ...stepProblems(network, options)];
  if (problems.length > 0) return failed(...problems);
  const assembly = assembleOrRefuse(network, options.step);
  if ('code' in assembly) return failed(assembly);
  const run = new Run(assembly, options);
  const problem = run.toTheEnd();
  return problem === null ? { ok: true, result: run.result() } : failed(problem);
}

function assembleOrRefuse({ elements }: SurgeNetwork, step: number): Assembly | SolverProblem {
  try {
    return assemble(elements, step);
  } catch (error) {
    if (!(error instanceof ValuesTooFarApart)) throw error;
    return { code: 'values-too-far-apart', elements: error.elements };
  }
}

/** What makes a step or duration impossible for a network. */
export function stepProblems(
  { elements }: SurgeNetwork,
  { duration, step, observe }: Pick<SimulationOptions, 'duration' | 'step' | 'observe'>,
): SolverProblem[] {
  if (!(step > 0 && duration >= step && Number.isFinite(duration)))
    return [{ code: 'invalid-duration', duration, step }];
  const steps = Math.round(duration / step);
  if (steps > stepLimit) return [{ code: 'too-many-steps', steps, limit: stepLimit, step }];
  if (steps * observe.length > valueLimit) {
    return [{ code: 'too-many-values', steps, observed: observe.length, limit: valueLimit, step }];
  }
  if (steps * elements.length > workLimit) {
    return [{ code: 'too-much-work', steps, elements: elements.length, limit: workLimit, step }];
  }
  const tooLong = lineTooLong(elements, step);
  if (tooLong) return [tooLong];
  return elements
    .filter(({ delay }) => delay !== undefined && delay < step * (1 - 1e-9))
    .map(({ name, delay }) => ({ code: 'step-longer-than-delay', element: name, delay: delay!, step }));
}

/** The waves under way are kept step by step; of the line that asks for most it is told where all ask for too much. */
function lineTooLong(elements: readonly SurgeElement[], step: number): SolverProblem | undefined {
  const lines = elements.flatMap(({ name, delay }) =>
    delay === undefined ? [] : [{ element: name, delay }],
  );
  const steps = lines.reduce((sum, { delay }) => sum + delay / step, 0);
  if (steps <= valueLimit / 4) return undefined;
  const longest = lines.reduce((one, other) => (other.delay > one.delay ? other : one));
  return { code: 'line-too-long', ...longest, step, steps: longest.delay / step, limit: valueLimit / 4 };
}

/** The step in the form that parts read; rewritten for every step instead of made anew. */
interface RunningStep extends Step {
  end: number;
  beginWeight: number;
  endWeight: number;
  sample: number;
  share: number;
  damped: boolean;
}

class Run {
  private readonly assembly: Assembly;
  private readonly options: SimulationOptions;
  private readonly steps: number;
  private readonly times: Float64Array;
  private readonly values: readonly Float64Array[];
  private readonly probes: readonly Probe[];
  private readonly extremes: Extremes;
  private readonly storedAtStart: number;
  private readonly step: RunningStep;
  private balance: EnergyBalance;
  private readonly imbalance = new ImbalanceRecord();

  constructor(assembly: Assembly, options: SimulationOptions) {
    this.assembly = assembly;
    this.options = options;
    this.steps = Math.round(options.duration / options.step);
    this.times = instantsOf(this.steps, options.step);
    this.values = options.observe.map(() => new Float64Array(this.steps + 1));
    this.probes = options.observe.map((observation) => createProbe(assembly, observation));
    this.extremes = new Extremes(assembly);
    this.storedAtStart = energyBalance(assembly, 0).stored;
    this.balance = energyBalance(assembly, this.storedAtStart);
    const weight = options.step / 2;
    this.step = { end: 0, beginWeight: weight, endWeight: weight, sample: 0, share: 1, damped: false };
  }

  toTheEnd(): SolverProblem | null {
    const interval = Math.max(1, Math.ceil(this.steps / balancePoints));
    for (let sample = 1; sample <= this.steps; sample++) {
      const problem = this.advance(sample);
      if (problem !== null) return problem;
      for (let index = 0; index < this.probes.length; index++)
        this.probes[index]!.record(this.values[index]!, sample);
      this.extremes.note();
      if (sample % interval === 0 || sample === this.steps) this.drawBalance();
    }
    return this.energyProblem();
  }

  result(): Simulation {
    const { options, times, values, balance } = this;
    return {
      step: options.step,
      times,
      records: options.observe.map((observation, index) =>
        recordedCourse(observation, times, values[index]!),
      ),
      energies: energiesOf(this.assembly),
      balance,
      imbalance: this.imbalance.relative(),
      beyondCharacteristic: this.extremes.beyond(),
    };
  }

  private advance(sample: number): NotConverged | null {
    return this.breaks(sample) ? this.advanceEach(sample) : this.advanceAll(sample);
  }

  /** Whether the step that ends at the sample begins with a discontinuity for any block. */
  private breaks(sample: number): boolean {
    const { blocks, drives, groups } = this.assembly;
    for (let index = 0; index < drives.length; index++) if (drives[index]!.breaks(sample)) return true;
    // Blocks that start charged begin with one.
    return groups.breaks(sample) || (sample === 1 && blocks.some((block) => block.breaks(sample)));
  }

  /** All blocks together, their parts by kinds. */
  private advanceAll(sample: number): NotConverged | null {
    const { blocks, groups } = this.assembly;
    const { step } = this;
    const gridStep = this.options.step;
    step.sample = sample;
    step.damped = false;
    step.beginWeight = gridStep / 2;
    step.share = 1;
    step.end = sample * gridStep;
    for (let index = 0; index < blocks.length; index++) blocks[index]!.impose(step.end);
    groups.begin(step);
    for (let index = 0; index < blocks.length; index++) {
      const problem = blocks[index]!.solve(step);
      if (problem !== null) return problem;
    }
    groups.finish(step);
    for (let index = 0; index < blocks.length; index++) blocks[index]!.countDrivenEnergy(step);
    return null;
  }

  /** Block by block, each with two half steps where it has a discontinuity. */
  private advanceEach(sample: number): NotConverged | null {
    const { blocks } = this.assembly;
    for (let index = 0; index < blocks.length; index++) {
      const block = blocks[index]!;
      const { step } = this;
      const gridStep = this.options.step;
      step.sample = sample;
      step.damped = block.breaks(sample);
      step.beginWeight = step.damped ? 0 : gridStep / 2;
      if (step.damped) {
        step.share = 0.5;
        step.end = (sample - 0.5) * gridStep;
        const problem = block.advance(step);
        if (problem !== null) return problem;
      }
      step.share = 1;
      step.end = sample * gridStep;
      const problem = block.advance(step);
      if (problem !== null) return problem;
    }
    return null;
  }

  private drawBalance(): void {
    this.balance = energyBalance(this.assembly, this.storedAtStart);
    this.imbalance.note(this.balance);
  }

  private energyProblem(): SolverProblem | null {
    const limit = this.options.energyLimit ?? usualEnergyLimit;
    const relative = this.imbalance.relative();
    // Written so that a balance that is not a number fails, too.
    if (relative <= limit) return null;
    const { supplied, dissipated, stored } = this.balance;
    const { step } = this.options;
    return { code: 'energy-imbalance', supplied, accounted: dissipated + stored, relative, limit, step };
  }
}

/** The highest currents of the elements whose characteristic ends somewhere. */
class Extremes {
  private readonly watched: {
    readonly element: string;
    readonly highestCurrent: number;
    readonly probe: Probe;
  }[];
  private readonly currents: Float64Array;
  private readonly peaks: Float64Array;

  constructor(assembly: Assembly) {
    this.watched = assembly.elements
      .filter(({ highestCurrent }) => highestCurrent !== undefined && Number.isFinite(highestCurrent))
      .map(({ name, highestCurrent }) => ({
        element: name,
        highestCurrent: highestCurrent!,
        probe: createProbe(assembly, { kind: 'current', element: name }),
      }));
    this.currents = new Float64Array(this.watched.length);
    this.peaks = new Float64Array(this.watched.length);
  }

  note(): void {
    for (let index = 0; index < this.watched.length; index++) {
      this.watched[index]!.probe.record(this.currents, index);
      this.peaks[index] = Math.max(this.peaks[index]!, Math.abs(this.currents[index]!));
    }
  }

  beyond(): CurrentBeyond[] {
    return this.watched
      .map(({ element, highestCurrent }, index) => ({ element, highestCurrent, current: this.peaks[index]! }))
      .filter(({ current, highestCurrent }) => current > highestCurrent);
  }
}

function recordedCourse(observation: Observation, times: Float64Array, values: Float64Array): RecordedCourse {
  let crest = 0;
  for (let sample = 1; sample < values.length; sample++) {
    if (Math.abs(values[sample]!) > Math.abs(values[crest]!)) crest = sample;
  }
  return { observation, values, peak: values[crest]!, peakTime: times[crest]! };
}

function instantsOf(steps: number, step: number): Float64Array {
  const times = new Float64Array(steps + 1);
  for (let sample = 1; sample <= steps; sample++) times[sample] = sample * step;
  return times;
}

function energiesOf({ partsOf }: Assembly): Map<string, PartEnergy> {
  const energies = new Map<string, PartEnergy>();
  for (const [name, parts] of partsOf) {
    const sum = { supplied: 0, dissipated: 0, stored: 0 };
    for (const part of parts) {
      const { supplied, dissipated, stored } = part.energy();
      sum.supplied += supplied;
      sum.dissipated += dissipated;
      sum.stored += stored;
    }
    energies.set(name, sum);
  }
  return energies;
}
