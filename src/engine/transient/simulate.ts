import { type Assembly, assemble } from './assemble.ts';
import { ValuesTooFarApart } from './block.ts';
import { checkNetwork } from './check-network.ts';
import type { PartEnergy, Step, SurgeElement } from './element.ts';
import { type EnergyBalance, energyBalance, ImbalanceRecord } from './energy-balance.ts';
import { energyOf } from './kind-groups.ts';
import type { Observation, SurgeNetwork } from './network.ts';
import { failed, type Outcome } from './outcome.ts';
import { Probes } from './probes.ts';
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
  return problems.length > 0 ? failed(...problems) : runChecked(network, options);
}

/** The same of a network that was found without fault, with a step that is known to do. */
export function runChecked(network: SurgeNetwork, options: SimulationOptions): Outcome<Simulation> {
  const assembly = assembleOrRefuse(network, options);
  if ('code' in assembly) return failed(assembly);
  const run = new Run(assembly, options);
  const problem = run.toTheEnd();
  return problem === null ? { ok: true, result: run.result() } : failed(problem);
}

function assembleOrRefuse(
  { elements }: SurgeNetwork,
  { duration, step }: SimulationOptions,
): Assembly | SolverProblem {
  try {
    return assemble(elements, step, Math.round(duration / step));
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
  /** All values of the first observation, then all of the next. */
  private readonly courses: Float64Array;
  private readonly probes: Probes;
  private readonly extremes: Extremes;
  private readonly storedAtStart: number;
  private readonly step: RunningStep;
  private readonly gridStep: number;
  private balance: EnergyBalance;
  private readonly imbalance = new ImbalanceRecord();

  constructor(assembly: Assembly, options: SimulationOptions) {
    this.assembly = assembly;
    this.options = options;
    this.gridStep = options.step;
    this.steps = Math.round(options.duration / options.step);
    this.courses = new Float64Array(options.observe.length * (this.steps + 1));
    this.probes = new Probes(assembly, options.observe);
    this.extremes = new Extremes(assembly);
    this.storedAtStart = energyBalance(assembly, 0).stored;
    this.balance = energyBalance(assembly, this.storedAtStart);
    const weight = options.step / 2;
    this.step = { end: 0, beginWeight: weight, endWeight: weight, sample: 0, share: 1, damped: false };
  }

  toTheEnd(): SolverProblem | null {
    const interval = Math.max(1, Math.ceil(this.steps / balancePoints));
    let nextBalance = interval;
    for (let sample = 1; sample <= this.steps; sample++) {
      const problem = this.advance(sample);
      if (problem !== null) return problem;
      this.probes.record(this.courses, sample, this.steps + 1);
      this.extremes.note();
      if (sample < nextBalance && sample < this.steps) continue;
      this.drawBalance();
      nextBalance += interval;
    }
    return this.energyProblem();
  }

  result(): Simulation {
    const { options, steps, courses, balance } = this;
    const length = steps + 1;
    let times: Float64Array | undefined;
    return {
      step: options.step,
      // Of most runs nobody asks for them.
      get times() {
        times ??= instantsOf(steps, options.step);
        return times;
      },
      records: options.observe.map((observation, index) =>
        recordedCourse(observation, options.step, courses.subarray(index * length, (index + 1) * length)),
      ),
      energies: energiesOf(this.assembly),
      balance,
      imbalance: this.imbalance.relative(),
      beyondCharacteristic: this.extremes.beyond(),
    };
  }

  private advance(sample: number): NotConverged | null {
    const { blocks, calendar } = this.assembly;
    if (!calendar.has(sample)) return this.advanceBlocks(0, blocks.length, sample, false);
    // A discontinuity concerns one block or some of them.
    for (let index = 0; index < blocks.length; index++) {
      const problem = this.advanceBlocks(index, index + 1, sample, this.breaks(index, sample));
      if (problem !== null) return problem;
    }
    return null;
  }

  private breaks(index: number, sample: number): boolean {
    const { blocks, stepper } = this.assembly;
    const { block, startsCharged } = blocks[index]!;
    return (sample === 1 && startsCharged) || block.driveBreaks(sample) || stepper.partsBreak(sample, index);
  }

  /** Moves blocks through a grid step, in two half steps where that begins with a discontinuity. */
  private advanceBlocks(first: number, end: number, sample: number, damped: boolean): NotConverged | null {
    const { step, gridStep } = this;
    const { stepper } = this.assembly;
    step.sample = sample;
    step.damped = damped;
    step.beginWeight = damped ? 0 : gridStep / 2;
    if (damped) {
      step.share = 0.5;
      step.end = (sample - 0.5) * gridStep;
      const problem = stepper.advance(step, first, end);
      if (problem !== null) return problem;
    }
    step.share = 1;
    step.end = sample * gridStep;
    return stepper.advance(step, first, end);
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
  private readonly watched: readonly SurgeElement[];
  private readonly probes: Probes;
  private readonly currents: Float64Array;
  private readonly peaks: Float64Array;

  constructor(assembly: Assembly) {
    this.watched = assembly.elements.filter(
      ({ highestCurrent }) => highestCurrent !== undefined && Number.isFinite(highestCurrent),
    );
    this.probes = new Probes(
      assembly,
      this.watched.map(({ name }) => ({ kind: 'current', element: name })),
    );
    this.currents = new Float64Array(this.watched.length);
    this.peaks = new Float64Array(this.watched.length);
  }

  note(): void {
    const { probes, currents, peaks } = this;
    if (peaks.length === 0) return;
    probes.record(currents, 0, 1);
    for (let index = 0; index < peaks.length; index++) {
      const size = Math.abs(currents[index]!);
      if (size > peaks[index]!) peaks[index] = size;
    }
  }

  beyond(): CurrentBeyond[] {
    return this.watched
      .map(({ name, highestCurrent }, index) => ({
        element: name,
        highestCurrent: highestCurrent!,
        current: this.peaks[index]!,
      }))
      .filter(({ current, highestCurrent }) => current > highestCurrent);
  }
}

function recordedCourse(observation: Observation, step: number, values: Float64Array): RecordedCourse {
  let crest = 0;
  let highest = 0;
  for (let sample = 1; sample < values.length; sample++) {
    const size = Math.abs(values[sample]!);
    if (size > highest) {
      highest = size;
      crest = sample;
    }
  }
  return { observation, values, peak: values[crest]!, peakTime: crest * step };
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
      const { supplied, dissipated, stored } = energyOf(part);
      sum.supplied += supplied;
      sum.dissipated += dissipated;
      sum.stored += stored;
    }
    energies.set(name, sum);
  }
  return energies;
}
