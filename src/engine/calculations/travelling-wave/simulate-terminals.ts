import type { Sentence } from '../../../words/sentence.ts';
import type { Observation } from '../../transient/network.ts';
import { type Simulation, simulate } from '../../transient/simulate.ts';
import { type ManagedSimulation, simulateToTolerance } from '../../transient/simulate-to-tolerance.ts';
import type { SolverProblem } from '../../transient/solver-problem.ts';
import { saySolverProblems } from './say-solver-problem.ts';
import { type TerminalSurge, terminalNetwork } from './terminal-network.ts';
import { type CoursePoint, thinCourse } from './thin-course.ts';

/** What a run of such a surge gave, in SI units. */
export interface TerminalCourse {
  readonly peakTerminalVoltage: number;
  readonly peakTime: number;
  readonly peakArresterCurrent: number;
  readonly peakTankVoltage: number;
  readonly arresterCharge: number;
  readonly arresterEnergy: number;
  readonly step: number;
  readonly imbalance: number;
  /** Voltage across the protected insulation from time zero to well after its peak. */
  readonly terminalVoltage: readonly CoursePoint[];
}

export type TerminalOutcome =
  | { readonly ok: true; readonly course: TerminalCourse }
  | { readonly ok: false; readonly reason: Sentence };

/** Peaks are looked for over so many fronts, travel times and swings of the loop; a run over the whole surge confirms them. */
const FRONTS = 3;
const SWINGS = 20;

/** Without travel times the first step divides the front and the run into so many. */
const STEPS_OF_FRONT = 10;
const LEAST_STEPS = 200;

/** By this share the run over the whole surge, with its longer step, may show higher peaks than the first run. */
const CONFIRMED_WITHIN = 0.02;

/**
 * Simulates the surge. Its peaks come from a run over the time in which they occur, with the step that they ask for;
 * charge and energy from a run until the surge has passed, with the step with which the first run began. Where that
 * shows a higher peak later on, all comes from the whole surge.
 */
export function simulateTerminals(surge: TerminalSurge): TerminalOutcome {
  const { network, terminal, tank, head, base } = terminalNetwork(surge);
  const observe: Observation[] = [
    { kind: 'voltage', node: terminal, reference: tank },
    { kind: 'voltage', node: head, reference: base },
    { kind: 'current', element: 'arrester' },
    { kind: 'voltage', node: tank },
  ];
  const { tolerance } = surge;
  const whole = 2 * surge.halfValueTime - surge.frontTime + SWINGS * delayOf(surge);
  const duration = Math.min(whole, FRONTS * surge.frontTime + SWINGS * swingOf(surge));
  const first = firstStep(surge, duration);
  const peaks = simulateToTolerance(network, { duration, observe, tolerance, ...first });
  if (!peaks.ok) return refusal(peaks.problems);
  const passed = simulate(network, { duration: whole, step: peaks.result.firstStep, observe });
  if (!passed.ok) return refusal(passed.problems);
  if (confirms(passed.result, peaks.result)) {
    return { ok: true, course: courseOf(peaks.result, passed.result, duration) };
  }
  const settled = simulateToTolerance(network, { duration: whole, observe, tolerance, ...first });
  return settled.ok
    ? { ok: true, course: courseOf(settled.result, settled.result, duration) }
    : refusal(settled.problems);
}

export type PeakOutcome =
  | { readonly ok: true; readonly peak: number }
  | { readonly ok: false; readonly reason: Sentence };

/**
 * The peak across the protected insulation alone, for many surges: from a run over the front and the swings after it.
 * Later the wave only falls, and line, leads and capacitance have come to rest.
 */
export function peakAtTerminals(surge: TerminalSurge): PeakOutcome {
  const { network, terminal, tank } = terminalNetwork(surge);
  const observe: Observation[] = [{ kind: 'voltage', node: terminal, reference: tank }];
  const duration = surge.frontTime + SWINGS * swingOf(surge);
  const { tolerance } = surge;
  const first = firstStep(surge, duration);
  const run = simulateToTolerance(network, { duration, observe, tolerance, ...first });
  return run.ok ? { ok: true, peak: Math.abs(run.result.records[0]!.peak) } : refusal(run.problems);
}

/** Without a travel time to divide, the front is divided, so that its end is a sample; else the solver chooses. */
function firstStep(surge: TerminalSurge, duration: number): { readonly firstStep?: number } {
  if (surge.distance > 0) return {};
  const longest = Math.min(duration / LEAST_STEPS, surge.frontTime / STEPS_OF_FRONT);
  return { firstStep: surge.frontTime / Math.ceil(surge.frontTime / longest) };
}

function refusal(problems: readonly SolverProblem[]): { readonly ok: false; readonly reason: Sentence } {
  return { ok: false, reason: saySolverProblems(problems) };
}

function delayOf({ distance, velocity }: TerminalSurge): number {
  return distance / velocity;
}

/** A time in which line, leads and capacitance swing: travel time, that of the loop, and its time constants. */
function swingOf(surge: TerminalSurge): number {
  const { leadInductance, lineLead, arresterHeight, earthLead, tailLength, capacitance, lineImpedance } =
    surge;
  const inductance = leadInductance * (lineLead + arresterHeight + earthLead + tailLength);
  const loop = Math.sqrt(inductance * capacitance);
  return delayOf(surge) + loop + inductance / lineImpedance + lineImpedance * capacitance;
}

function confirms(whole: Simulation, peaks: Simulation): boolean {
  return whole.records.every(
    ({ peak }, i) => Math.abs(peak) <= (1 + CONFIRMED_WITHIN) * Math.abs(peaks.records[i]!.peak),
  );
}

function courseOf(run: ManagedSimulation, whole: Simulation, shown: number): TerminalCourse {
  const [terminal, , current, tank] = run.records;
  return {
    peakTerminalVoltage: Math.abs(terminal!.peak),
    peakTime: terminal!.peakTime,
    peakArresterCurrent: Math.abs(current!.peak),
    peakTankVoltage: Math.abs(tank!.peak),
    arresterCharge: chargeOf(whole.records[2]!.values, whole.step),
    arresterEnergy: whole.energies.get('arrester')!.dissipated,
    step: run.step,
    imbalance: Math.max(run.imbalance, whole.imbalance),
    terminalVoltage: thinCourse(run.times, terminal!.values, Math.max(shown, 1.5 * terminal!.peakTime)),
  };
}

/** What passed through the arrester, whichever way. */
function chargeOf(current: Float64Array, step: number): number {
  let charge = 0;
  for (let sample = 1; sample < current.length; sample++) {
    charge += 0.5 * step * (Math.abs(current[sample - 1]!) + Math.abs(current[sample]!));
  }
  return charge;
}
