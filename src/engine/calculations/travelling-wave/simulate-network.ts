import type { Observation } from '../../transient/network.ts';
import { type ManagedSimulation, simulateToTolerance } from '../../transient/simulate-to-tolerance.ts';
import { type ElementRow, elementOfRow, faultsOfRow, nameRows } from './read-network-elements.ts';
import { remember } from './remember.ts';
import { type CoursePoint, thinCourse } from './thin-course.ts';
import { wordSolverProblem } from './word-solver-problem.ts';

/** A circuit to simulate, in SI units. */
export interface NetworkCase {
  readonly rows: readonly ElementRow[];
  readonly observe: readonly string[];
  readonly duration: number;
  readonly firstStep: number | undefined;
  /** Largest change of a peak when the step is halved, as a share. */
  readonly tolerance: number;
}

export interface NodeCourse {
  readonly node: string;
  /** Furthest from zero, with its sign. */
  readonly peak: number;
  readonly peakTime: number;
  readonly points: readonly CoursePoint[];
}

export interface NetworkCourse {
  readonly nodes: readonly NodeCourse[];
  readonly arresters: readonly { readonly current: number; readonly energy: number }[];
  readonly step: number;
  readonly peakChange: number;
  readonly imbalance: number;
}

export type NetworkOutcome =
  | { readonly ok: true; readonly course: NetworkCourse }
  | { readonly ok: false; readonly reason: string };

/** Simulates a circuit; the peaks of its arresters' currents settle with those that are observed. */
export const simulateNetwork = remember((asked: NetworkCase): NetworkOutcome => {
  const { rows, duration, tolerance, firstStep } = asked;
  const faults = rows.flatMap(faultsOfRow);
  if (faults.length > 0) return { ok: false, reason: faults.join('; ') };
  const arresters = rows.filter(({ type }) => type === 'arrester').map(({ name }) => name);
  const observe: Observation[] = [
    ...asked.observe.map((node) => ({ kind: 'voltage' as const, node })),
    ...arresters.map((element) => ({ kind: 'current' as const, element })),
  ];
  const run = simulateToTolerance(
    { elements: rows.map(elementOfRow) },
    { duration, observe, tolerance, ...(firstStep === undefined ? {} : { firstStep }) },
  );
  if (!run.ok) {
    const words = run.problems.map((fault) => wordSolverProblem(fault, (name) => nameRows(rows, name)));
    return { ok: false, reason: [...new Set(words)].join('; ') };
  }
  return { ok: true, course: courseOf(run.result, asked.observe, arresters) };
});

function courseOf(
  run: ManagedSimulation,
  observe: readonly string[],
  arresters: readonly string[],
): NetworkCourse {
  const { records, times } = run;
  return {
    nodes: observe.map((node, i) => {
      const { peak, peakTime, values } = records[i]!;
      return { node, peak, peakTime, points: thinCourse(times, values, times.at(-1)!) };
    }),
    arresters: arresters.map((name, i) => ({
      current: records[observe.length + i]!.peak,
      energy: run.energies.get(name)!.dissipated,
    })),
    step: run.step,
    peakChange: run.largestChange,
    imbalance: run.imbalance,
  };
}
