import { checkNetwork } from './check-network.ts';
import { chooseStep } from './choose-step.ts';
import type { Observation, SurgeNetwork } from './network.ts';
import { failed, type Outcome } from './outcome.ts';
import { runChecked, type Simulation, type SimulationOptions, stepProblems } from './simulate.ts';

export interface ManagedOptions {
  /** Seconds. */
  readonly duration: number;
  readonly observe: readonly Observation[];
  /** Halving the step changes no observed peak by more than this share; 0.1 % where absent. */
  readonly tolerance?: number;
  /** Largest imbalance of energy as a share of the energy turned over; 1 % where absent. */
  readonly energyLimit?: number;
  /** The first step in seconds, instead of the one chosen from delays and fronts. */
  readonly firstStep?: number;
  /** How often the step may be halved; 12 where absent. */
  readonly halvingLimit?: number;
}

export interface ManagedSimulation extends Simulation {
  readonly tolerance: number;
  readonly firstStep: number;
  readonly halvings: number;
  /** The largest change of an observed peak at the last halving, as a share of it. */
  readonly largestChange: number;
}

const usualTolerance = 1e-3;
const usualEnergyLimit = 0.01;
const usualHalvingLimit = 12;

/** A peak below this share of the largest of its kind is compared as if it were that large. */
const smallestPeakShare = 1e-6;

/**
 * Runs a network with ever smaller steps, until halving the step changes no observed peak by more than the tolerance
 * and the balance of energy holds. The result is that of the smallest step.
 */
export function simulateToTolerance(
  network: SurgeNetwork,
  options: ManagedOptions,
): Outcome<ManagedSimulation> {
  const problems = checkNetwork(network, options.observe);
  const { duration, firstStep: asked } = options;
  if (!(duration > 0 && Number.isFinite(duration))) {
    problems.push({ code: 'invalid-duration', duration, step: asked ?? 0 });
  } else if (asked !== undefined)
    problems.push(...stepProblems(network, { duration, step: asked, observe: options.observe }));
  if (problems.length > 0) return failed(...problems);
  const firstStep = options.firstStep ?? chooseStep(network.elements, duration);
  return halveUntilSettled(network, options, firstStep);
}

function halveUntilSettled(
  network: SurgeNetwork,
  options: ManagedOptions,
  firstStep: number,
): Outcome<ManagedSimulation> {
  const tolerance = options.tolerance ?? usualTolerance;
  const energyLimit = options.energyLimit ?? usualEnergyLimit;
  const halvingLimit = options.halvingLimit ?? usualHalvingLimit;
  const fixed = {
    duration: options.duration,
    observe: options.observe,
    energyLimit: Number.POSITIVE_INFINITY,
  };
  let before = runWithStep(network, { ...fixed, step: firstStep });
  let change = Number.POSITIVE_INFINITY;
  for (let halvings = 1; halvings <= halvingLimit; halvings++) {
    if (!before.ok) return before;
    const after = runWithStep(network, { ...fixed, step: firstStep / 2 ** halvings });
    if (!after.ok) return after;
    change = largestChangeOfPeak(before.result, after.result);
    if (change <= tolerance && after.result.imbalance <= energyLimit) {
      const accuracy = { tolerance, firstStep, halvings, largestChange: change };
      return { ok: true, result: { ...after.result, ...accuracy } };
    }
    before = after;
  }
  const last = firstStep / 2 ** halvingLimit;
  return notSettled(
    network,
    { ...fixed, energyLimit, step: last },
    { change, tolerance, halvings: halvingLimit },
  );
}

/** The network itself was checked before the first run. */
function runWithStep(network: SurgeNetwork, options: SimulationOptions): Outcome<Simulation> {
  const problems = stepProblems(network, options);
  return problems.length > 0 ? failed(...problems) : runChecked(network, options);
}

/** Why the smallest step did not do: the balance of energy, if that is broken, or else the peaks. */
function notSettled(
  network: SurgeNetwork,
  options: SimulationOptions,
  { change, tolerance, halvings }: { change: number; tolerance: number; halvings: number },
): Outcome<ManagedSimulation> {
  const last = runWithStep(network, options);
  if (!last.ok) return last;
  return failed({ code: 'step-not-settled', step: options.step, halvings, change, tolerance });
}

function largestChangeOfPeak(coarse: Simulation, fine: Simulation): number {
  const largest = { voltage: 0, current: 0 };
  for (const { observation, peak } of fine.records) {
    largest[observation.kind] = Math.max(largest[observation.kind], Math.abs(peak));
  }
  let change = 0;
  for (const [index, { observation, peak }] of fine.records.entries()) {
    const measure = Math.max(Math.abs(peak), smallestPeakShare * largest[observation.kind]);
    if (measure > 0) change = Math.max(change, Math.abs(peak - coarse.records[index]!.peak) / measure);
  }
  return change;
}
