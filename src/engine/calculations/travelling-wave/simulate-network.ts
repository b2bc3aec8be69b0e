import type { Refusal } from '../../definition/definition.ts';
import { refusal } from '../../definition/refusal.ts';
import { checkNetwork } from '../../transient/check-network.ts';
import type { Observation } from '../../transient/network.ts';
import { type ManagedSimulation, simulateToTolerance } from '../../transient/simulate-to-tolerance.ts';
import type { SolverProblem } from '../../transient/solver-problem.ts';
import { buildNetworkElement } from './build-network-element.ts';
import { judgeNetworkRows } from './judge-network-rows.ts';
import { placeSolverProblem } from './place-solver-problem.ts';
import type { CircuitRows, ElementRow } from './read-network-elements.ts';
import { type CoursePoint, thinCourse } from './thin-course.ts';

/** A circuit to simulate, in SI units. */
export interface NetworkCase {
  readonly circuit: CircuitRows;
  readonly observe: readonly string[];
  readonly duration: number;
  /** Instants (s) at which the voltages are asked for besides. */
  readonly instants: readonly number[];
  readonly firstStep: number | undefined;
  /** Largest change of a peak when the step is halved, as a share. */
  readonly tolerance: number;
}

export interface NodeCourse {
  readonly node: string;
  /** Furthest from zero, with its sign. */
  readonly peak: number;
  readonly peakTime: number;
  /** The voltages at the instants that are asked for. */
  readonly atInstants: readonly number[];
  readonly points: readonly CoursePoint[];
}

export interface NetworkCourse {
  readonly nodes: readonly NodeCourse[];
  readonly arresters: readonly { readonly current: number; readonly energy: number }[];
  /** Largest current of an arrester as a share of the last one in its table; undefined where none has a table. */
  readonly tableUse: number | undefined;
  readonly step: number;
  readonly peakChange: number;
  readonly imbalance: number;
}

export type NetworkOutcome =
  | { readonly ok: true; readonly course: NetworkCourse }
  | { readonly ok: false; readonly refusals: readonly Refusal[] };

/** Simulates a circuit; the peaks of its arresters' currents settle with those that are observed. */
export function simulateNetwork(asked: NetworkCase): NetworkOutcome {
  const { circuit, duration, tolerance, firstStep } = asked;
  const rows = circuit.elements;
  const written = { rows, observe: asked.observe, hasStep: firstStep !== undefined };
  const place = (problems: readonly SolverProblem[]): readonly Refusal[] =>
    withoutRepetition(problems.flatMap((fault) => placeSolverProblem(fault, written)));
  const voltages = asked.observe.map((node) => ({ kind: 'voltage' as const, node }));
  const faults = [...judgeNetworkRows(circuit), ...faultsOfInstants(asked)];
  if (faults.length > 0)
    return { ok: false, refusals: [...faults, ...place(faultsOfCircuit(rows, voltages))] };

  const elements = rows.map((row) => buildNetworkElement(row, circuit));
  const arresters = rows.filter(isArrester).map(({ name }) => name);
  const observe: Observation[] = [
    ...voltages,
    ...arresters.map((element) => ({ kind: 'current' as const, element })),
  ];
  const run = simulateToTolerance(
    { elements },
    { duration, observe, tolerance, ...(firstStep === undefined ? {} : { firstStep }) },
  );
  if (!run.ok) return { ok: false, refusals: place(run.problems) };
  const limits = new Map(elements.map(({ name, highestCurrent }) => [name, highestCurrent]));
  return { ok: true, course: courseOf(run.result, asked, arresters, limits) };
}

/** What is wrong with the nodes of a circuit whose values are at fault: it can be judged without them. */
function faultsOfCircuit(rows: readonly ElementRow[], observe: readonly Observation[]): SolverProblem[] {
  const bare = { elements: rows, characteristics: [], waveforms: [] };
  const elements = rows.map((row) => buildNetworkElement(withoutCourse(row), bare));
  return checkNetwork({ elements }, observe).filter(({ code }) => code !== 'invalid-value');
}

/** A source by its kind alone; one of no clear kind as the end of a line, at which nothing can be missing. */
function withoutCourse(row: ElementRow): ElementRow {
  if (row.type !== 'source') return row;
  const { peak_voltage, peak_current, surge_impedance } = row.values;
  const isClear = (peak_voltage === undefined) !== (peak_current === undefined);
  const kind = peak_voltage === undefined ? { peak_current: 1 } : { peak_voltage: 1 };
  const values = isClear
    ? { ...kind, ...(surge_impedance ? { surge_impedance } : {}) }
    : { surge_impedance: 1 };
  return { ...row, words: {}, values };
}

function isArrester({ type }: ElementRow): boolean {
  return type === 'arrester' || type === 'frequency-dependent-arrester';
}

function withoutRepetition(refusals: readonly Refusal[]): Refusal[] {
  const said = new Map(refusals.map((refusal) => [JSON.stringify(refusal), refusal]));
  return [...said.values()];
}

function faultsOfInstants({ instants, duration }: NetworkCase): Refusal[] {
  return instants.flatMap((instant, item) =>
    instant <= duration
      ? []
      : [
          {
            given: 'instants',
            item,
            text: refusal('late-instant', 'the instant lies after the end of the duration'),
          },
        ],
  );
}

/** The value at an instant, on the straight line between the steps around it. */
function valueAt(times: Float64Array, values: Float64Array, instant: number): number {
  const step = times[1]! - times[0]!;
  const before = Math.min(Math.floor(instant / step), values.length - 2);
  const part = (instant - times[before]!) / step;
  return values[before]! + part * (values[before + 1]! - values[before]!);
}

function courseOf(
  run: ManagedSimulation,
  { observe, instants }: NetworkCase,
  arresters: readonly string[],
  limits: ReadonlyMap<string, number | undefined>,
): NetworkCourse {
  const { records, times } = run;
  const currents = arresters.map((_, i) => records[observe.length + i]!.peak);
  const uses = arresters.flatMap((name, i) => {
    const highest = limits.get(name) ?? Number.POSITIVE_INFINITY;
    return Number.isFinite(highest) ? [Math.abs(currents[i]!) / highest] : [];
  });
  return {
    nodes: observe.map((node, i) => {
      const { peak, peakTime, values } = records[i]!;
      const atInstants = instants.map((instant) => valueAt(times, values, instant));
      return { node, peak, peakTime, atInstants, points: thinCourse(times, values, times.at(-1)!) };
    }),
    arresters: arresters.map((name, i) => ({
      current: currents[i]!,
      energy: run.energies.get(name)!.dissipated,
    })),
    tableUse: uses.length === 0 ? undefined : Math.max(...uses),
    step: run.step,
    peakChange: run.largestChange,
    imbalance: run.imbalance,
  };
}
