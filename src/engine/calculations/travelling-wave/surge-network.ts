import { displaySi } from '../../../quantity/display.ts';
import { unit } from '../../../quantity/unit.ts';
import { commonPractice, derivation } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { ResultStep, SolutionOutcome, SolverValues } from '../../definition/definition.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { drawChart } from '../../figures/chart.ts';
import { point } from '../../figures/geometry.ts';
import { literalText } from '../../figures/marked-text.ts';
import { readCircuitRows } from './read-network-elements.ts';
import { type NetworkCourse, simulateNetwork } from './simulate-network.ts';
import {
  surgeNetworkCharacteristics,
  surgeNetworkElements,
  surgeNetworkWaveforms,
} from './surge-network-elements.ts';
import { surgeNetworkEvidence } from './surge-network-evidence.ts';

const network = derivation('nodal analysis of the circuit in small steps of time');

/** What the arresters of a circuit without any have instead of a list. */
const NO_ARRESTER = { words: 'no arrester in the circuit' } as const;

const NO_TABLE = { words: 'no arrester with a table' } as const;

/** A value of the one simulation. */
function simulated(method?: string): Pick<ResultStep, 'resultOf' | 'basis' | 'method'> {
  return { resultOf: 'simulation', basis: network, ...(method === undefined ? {} : { method }) };
}

function simulate(values: SolverValues): SolutionOutcome {
  const outcome = simulateNetwork({
    circuit: readCircuitRows(values),
    observe: values.choices('observe'),
    duration: values.number('duration'),
    instants: values.has('instants') ? values.list('instants') : [],
    firstStep: values.optionalNumber('step'),
    tolerance: values.number('tolerance'),
  });
  if (!outcome.ok) return { refused: outcome.refusals };
  const { nodes, arresters, tableUse, step, peakChange, imbalance } = outcome.course;
  const ofArresters = (list: readonly number[]) => (list.length > 0 ? list : NO_ARRESTER);
  return {
    results: {
      peak_voltages: nodes.map(({ peak }) => peak),
      at_times: nodes.map(({ peakTime }) => peakTime),
      at_instants: nodes.flatMap(({ atInstants }) => atInstants),
      arrester_currents: ofArresters(arresters.map(({ current }) => current)),
      arrester_energies: ofArresters(arresters.map(({ energy }) => energy)),
      table_use: tableUse ?? NO_TABLE,
      time_step: step,
      peak_change: peakChange,
      energy_imbalance: imbalance,
    },
    drawn: outcome.course,
  };
}

/** The engineer's own circuit of lines, leads, capacitances, arresters and sources, simulated in time. */
export const surgeNetwork = defineCalculation({
  name: 'surge-network',
  title: 'Surges in a network',
  purpose:
    'Simulates a circuit of lines, cables, leads, capacitances, arresters, earth electrodes and sources, and finds the ' +
    'voltages of its nodes against remote earth in time. The node called earth is remote earth.',
  answers: [
    'Which voltages does a surge cause at the nodes of a network of lines, cables and arresters?',
    'How do I simulate a circuit of my own?',
  ],
  example: `
    id: riser-and-cable
    title: Surge over the riser pole into the cable
    given:
      elements:
        - { name: surge, type: source, from: pole, to: earth, peak_voltage: 600 kV, surge_impedance: 400 ohm, front_time: 1.2 us, half_value_time: 50 us }
        - { name: SA, type: arrester, from: pole, to: earth, residual_voltage: 80 kV, residual_current: 10 kA, exponent: 25 }
        - { name: cable, type: cable, from: pole, to: transformer, surge_impedance: 40 ohm, length: 60 m, velocity: 150 m/us }
        - { name: winding, type: capacitor, from: transformer, to: earth, capacitance: 1 nF }
      observe: [pole, transformer]
      duration: 10 us
  `,
  givens: {
    elements: surgeNetworkElements,
    characteristics: surgeNetworkCharacteristics,
    waveforms: surgeNetworkWaveforms,
    observe: {
      type: 'names',
      symbol: '\\text{observe}',
      meaning: 'nodes at which the voltage to remote earth is computed',
      least: 1,
    },
    duration: {
      type: 'quantity',
      symbol: 't_\\mathrm{e}',
      meaning: 'time over which the circuit is simulated',
      unit: 'us',
      permitted: { above: '0 us' },
      usual: {
        from: '0.1 us',
        to: '100000 us',
        because: 'surges pass within microseconds to some tens of milliseconds',
      },
    },
    instants: {
      type: 'list',
      symbol: 't_k',
      meaning: 'instants at which the voltages of the observed nodes are given besides their peaks',
      unit: 'us',
      permitted: { from: '0 us' },
      least: 1,
    },
    step: {
      type: 'quantity',
      symbol: '\\Delta t_0',
      meaning: 'time step with which the simulation begins',
      note: 'without it from the shortest travel time and front; it is halved until the peaks settle',
      unit: 'ns',
      permitted: { above: '0 ns' },
    },
    tolerance: {
      type: 'quantity',
      symbol: '\\varepsilon',
      meaning: 'largest change of a peak when the time step is halved',
      unit: '%',
      permitted: { from: '0.01 %', to: '1 %' },
      default: { value: '0.1 %', basis: commonPractice('for three significant digits') },
    },
  },
  solutions: {
    simulation: {
      needs: ['elements', 'observe', 'duration', 'tolerance'],
      mayUse: ['step', 'instants', 'characteristics', 'waveforms'],
      solve: simulate,
    },
  },
  steps: {
    peak_voltages: {
      symbol: 'U_i',
      meaning: 'peak voltages of the observed nodes, in their order',
      unit: 'kV',
      voltage: { measure: 'peak' },
      gives: 'list',
      ...simulated('simulation of the circuit in time'),
    },
    at_times: {
      symbol: 't_i',
      meaning: 'instants of those peaks',
      unit: 'us',
      gives: 'list',
      ...simulated(),
    },
    at_instants: {
      symbol: 'U_i(t_k)',
      meaning: 'voltages at the chosen instants: those of the first observed node, then those of the next',
      unit: 'kV',
      voltage: { measure: 'peak' },
      gives: 'list',
      when: 'given instants',
      ...simulated('linear between the time steps'),
    },
    arrester_currents: {
      symbol: 'I_j',
      says: [NO_ARRESTER.words],
      meaning: 'peak currents of the arresters, in the order of their rows',
      unit: 'kA',
      voltage: { measure: 'peak' },
      gives: 'list',
      ...simulated(),
    },
    arrester_energies: {
      symbol: 'W_j',
      says: [NO_ARRESTER.words],
      meaning: 'energies that the arresters absorb within the duration, in the order of their rows',
      unit: 'kJ',
      gives: 'list',
      ...simulated('power integrated'),
    },
    table_begin: {
      symbol: 'I_\\mathrm{b}',
      meaning: 'highest current at which a table of points begins',
      unit: 'A',
      voltage: { measure: 'peak' },
      basis: network,
      when: 'given characteristics.current',
      needs: ['characteristics', 'elements'],
      mayUse: ['waveforms'],
      method: 'from the tables',
      solve: (values) =>
        Math.max(...readCircuitRows(values).characteristics.map(({ points }) => points[0]!.point[0])),
    },
    table_use: {
      symbol: '\\kappa',
      says: [NO_TABLE.words],
      meaning: 'largest current of an arrester as a share of the last one of its table',
      unit: '1',
      ...simulated(),
    },
    time_step: {
      symbol: '\\Delta t',
      meaning: 'time step of the simulation',
      unit: 'ns',
      bookkeeping: true,
      ...simulated('halved until no peak changes by more than the tolerance'),
    },
    peak_change: {
      symbol: '\\varepsilon_\\mathrm{s}',
      meaning: 'largest change of a peak at the last halving of the step',
      unit: '%',
      bookkeeping: true,
      ...simulated('compared with the previous time step'),
    },
    energy_imbalance: {
      symbol: '\\varepsilon_\\mathrm{W}',
      meaning: 'largest imbalance of energy in the simulation',
      unit: '%',
      bookkeeping: true,
      ...simulated(
        'energy supplied against energy lost and stored, as a share of the energy turned over; more than 1 % is refused',
      ),
    },
  },
  cautions: {
    'model-limits': {
      text: 'Lines are lossless and without corona, which would flatten a front above its inception on the way; leads, whether coupled or not, and capacitances are lumped, and the characteristic of an arrester is static except in the frequency-dependent model, whose constants and characteristics are those of the working group (from memory), with the inductance between its sections adjusted until 10 kA 8/20 leaves the residual voltage. Peaks after the stated duration are not found.',
      basis: commonPractice(),
    },
    'values-at-instants': {
      when: 'given instants',
      text: 'The step was halved until the peaks no longer changed; in a steep part of a course the value at an instant is less accurate than the peaks, and next to a jump it depends on the step.',
    },
    'first-points': {
      when: 'given characteristics.current and table_begin > 1 A',
      text: 'A table of points begins at {table_begin}. Below its first point an arrester is taken as a resistance and conducts too early: give a point at 1 A or less.',
    },
    'beyond-characteristic': {
      when: 'table_use > 1',
      text: 'The current of an arrester reaches {table_use} times the last one of its table. The table was extrapolated by its last power law: give a higher point, or take the result as an estimate.',
    },
  },
  figure: { caption: 'Voltages of the observed nodes against remote earth, with their peaks', draw },
  evidence: surgeNetworkEvidence,
});

function draw(view: FigureView): string | undefined {
  const course = view.drawn('simulation') as NetworkCourse | undefined;
  if (!course) return undefined;
  const { nodes } = course;
  const swingsBelowZero = nodes.some(({ points }) => points.some(({ y }) => y < 0));
  return drawChart({
    title: 'Voltages of the observed nodes against time',
    x: { label: 'Time in µs', from: 0, to: view.number('duration'), unitSize: 1e-6 },
    y: { label: 'Voltage in kV', unitSize: 1000, ...(swingsBelowZero ? {} : { from: 0 }) },
    curves: nodes.map(({ node, points }) => ({ label: literalText(node), points })),
    points: nodes.map(({ node, peak, peakTime }) => ({
      at: point(peakTime, peak),
      label: `${literalText(node)}: ${displaySi(peak, unit('kV')).print}`,
    })),
  });
}
