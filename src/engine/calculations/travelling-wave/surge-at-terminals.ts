import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { ResultStep, SolutionOutcome, SolverResult, SolverValues } from '../../definition/definition.ts';
import { refusal } from '../../definition/refusal.ts';
import { solveOnLoadLine } from '../../physics/arrester-on-load-line.ts';
import { arrangementRemedies, jointOnEarthLead, leadsOfArrester } from '../arrester/arrester-arrangement.ts';
import { arrangementSketch } from '../arrester/sketch-arrangement.ts';
import { drawTerminalVoltages } from './draw-terminal-voltages.ts';
import { loopAndLoad } from './loop-and-load.ts';
import { faultOfCharacteristic, formulaCharacteristic, readTerminalSurge } from './read-terminal-surge.ts';
import { simulateTerminals } from './simulate-terminals.ts';
import { surgeAtTerminalsEvidence } from './surge-at-terminals-evidence.ts';
import { surgeAtTerminalsGivens } from './surge-at-terminals-givens.ts';

const wave = recall('iec-60099-5-2018', 'voltage at a distance from the arrester, travelling wave');
const withstand = recall('iec-60071-2-1996', '4.3.4, safety factor for internal insulation');
const network = derivation('simulation in time');
const source = derivation('wave as twice its voltage behind Z');
const peak = { measure: 'peak' } as const;

const needs = [
  'closed_arrester_voltage',
  'surge_peak',
  'front_time',
  'half_value_time',
  'tolerance',
  'counted_length',
  'arrangement',
  'arrester_height',
  'tail_length',
  'lead_inductance',
  'line_impedance',
  'distance',
  'connection',
  'velocity',
];

const mayUse = [
  'line_lead',
  'earth_lead',
  'bond_position',
  'earth_resistance',
  'connection_impedance',
  'transformer_capacitance',
  'residual_voltage',
  'residual_current',
  'exponent',
  'points.voltage',
  'points.current',
];

/** The rise of the tank where nothing lies between it and remote earth that is known. */
const NO_RISE = { words: 'not calculated without earth_resistance' } as const;

const SHORT_TAIL = refusal(
  'short-tail',
  'the surge falls to half its value after its front, so half_value_time must be longer than the front',
);

/** A value of the one simulation. */
function simulated(method?: string): Pick<ResultStep, 'resultOf' | 'basis' | 'method'> {
  return { resultOf: 'simulation', basis: network, ...(method === undefined ? {} : { method }) };
}

function simulate(values: SolverValues): SolutionOutcome {
  if (values.number('half_value_time') <= values.number('front_time')) return { refused: SHORT_TAIL };
  const outcome = simulateTerminals(readTerminalSurge(values));
  if (!outcome.ok) return { refused: outcome.reason };
  const { course } = outcome;
  return {
    results: {
      peak_terminal_voltage: course.peakTerminalVoltage,
      peak_time: course.peakTime,
      peak_arrester_current: course.peakArresterCurrent,
      arrester_charge: course.arresterCharge,
      arrester_energy: course.arresterEnergy,
      tank_rise:
        course.peakTankVoltage === 0 && !values.has('earth_resistance') ? NO_RISE : course.peakTankVoltage,
      time_step: course.step,
      energy_imbalance: course.imbalance,
    },
    drawn: course,
  };
}

/** The voltage at the terminals: arrester, leads, line and transformer simulated in time. */
export const surgeAtTerminals = defineCalculation({
  name: 'surge-at-terminals',
  title: 'Surge at the terminals behind an arrester',
  purpose:
    'Simulates a surge that arrives on a line, the arrester with its leads and earth path, the distance to the ' +
    'transformer and its capacitance, and finds the voltage across the protected insulation in time. The closed ' +
    'formula, which adds peaks that do not coincide, is given for comparison.',
  answers: [
    'Which voltage does a simulation of the surge give at the terminals, with the leads and the cable to the transformer?',
    'How does a travelling wave behave behind the arrester?',
  ],
  example: `
    id: tx1-simulated
    title: Transformer TX1, surge from the overhead line
    given:
      arrangement: common-earth
      line_lead: { value: 1.8 m, source: "measured on site, sketch SK-01" }
      earth_lead: { value: 7.5 m, source: "measured on site, sketch SK-01" }
      residual_voltage: { value: 33 kV, source: "routine test report, 8/20" }
      residual_current: { value: 10 kA, source: "routine test report, 8/20" }
      exponent: { value: 30, source: "fitted to the table of the data sheet" }
      surge_peak: { value: 500 kV, source: "assumed; to be confirmed" }
      surge_steepness: { value: 1000 kV/us, source: "assumed; to be confirmed" }
      line_impedance: { value: 400 ohm, source: "single overhead conductor" }
      distance: { value: 15 m, source: "cable schedule" }
      connection: cable
      velocity: 150 m/us
      connection_impedance: { value: 40 ohm, source: "data sheet of the cable" }
      transformer_capacitance: { value: 1 nF, source: "test report of the transformer" }
      impulse_withstand: { value: 75 kV, source: "rating plate of the transformer" }
  `,
  givens: surgeAtTerminalsGivens,
  alternatives: [
    { oneOf: ['residual_voltage', 'points'] },
    { oneOf: ['surge_peak', 'stroke_current'] },
    { oneOf: ['surge_steepness', 'front_time'] },
  ],
  solutions: { simulation: { needs, mayUse, solve: simulate, pointsOfRanges: 48 } },
  steps: {
    surge_peak: {
      symbol: 'U_0',
      meaning: 'peak of the wave that travels towards the arrester',
      unit: 'kV',
      voltage: peak,
      basis: derivation('half of a stroke current each way'),
      formula: 'stroke_current / 2 * line_impedance',
    },
    surge_steepness: {
      symbol: 'S_0',
      meaning: 'steepness of the wave',
      unit: 'kV/us',
      basis: commonPractice('straight front'),
      formula: 'surge_peak / front_time',
    },
    front_time: {
      symbol: 'T_0',
      meaning: 'front time of the wave',
      unit: 'us',
      basis: commonPractice('straight front'),
      formula: 'surge_peak / surge_steepness',
    },
    ...loopAndLoad,
    closed_arrester_voltage: {
      symbol: 'U_\\mathrm{A}',
      meaning: 'voltage of the arrester on the load line',
      unit: 'kV',
      voltage: peak,
      basis: source,
      needs: ['surge_peak', 'load_impedance'],
      mayUse: ['residual_voltage', 'residual_current', 'exponent', 'points.voltage', 'points.current'],
      method: 'intersection of the characteristic with the load line of the wave',
      solve: solveArrester,
    },
    closed_arrester_current: {
      symbol: 'I_\\mathrm{A}',
      meaning: 'arrester current, closed formula',
      unit: 'kA',
      voltage: peak,
      basis: source,
      formula: '(2 * surge_peak - closed_arrester_voltage) / load_impedance',
    },
    current_steepness: {
      symbol: '\\frac{\\mathrm{d}i}{\\mathrm{d}t}',
      meaning: 'rate of rise of the arrester current, closed formula',
      unit: 'kA/us',
      basis: source,
      formula: '2 * surge_steepness / load_impedance',
    },
    lead_drop: {
      symbol: '\\Delta U',
      meaning: 'inductive drop along the counted length, closed formula',
      unit: 'kV',
      voltage: peak,
      basis: leadsOfArrester,
      formula: 'lead_inductance * counted_length * current_steepness',
    },
    earth_drop: {
      symbol: 'U_\\mathrm{E}',
      meaning: "drop across the arrester's electrode, closed formula",
      unit: 'kV',
      voltage: peak,
      basis: leadsOfArrester,
      when: 'arrangement is separate-earths',
      formula: 'closed_arrester_current * earth_resistance',
    },
    closed_level: {
      symbol: 'U_\\mathrm{pl}',
      meaning: 'protection level with leads, closed formula',
      unit: 'kV',
      voltage: peak,
      basis: leadsOfArrester,
      variants: [
        {
          when: 'arrangement is separate-earths',
          formula: 'closed_arrester_voltage + lead_drop + earth_drop',
        },
        { formula: 'closed_arrester_voltage + lead_drop' },
      ],
    },
    closed_terminal_voltage: {
      symbol: 'U_\\mathrm{T,f}',
      meaning: 'terminal voltage, closed formula',
      unit: 'kV',
      voltage: peak,
      basis: wave,
      variants: [
        { when: 'arrangement is across-terminals or distance = 0 m', formula: 'closed_level' },
        { formula: 'min(closed_level + 2 * surge_steepness * distance / velocity, 2 * closed_level)' },
      ],
    },
    peak_terminal_voltage: {
      symbol: 'U_\\mathrm{T}',
      meaning: 'peak voltage across the protected insulation',
      unit: 'kV',
      voltage: peak,
      ...simulated('nodal analysis of line, leads, arrester and transformer in small steps of time'),
    },
    peak_time: {
      symbol: 't_\\mathrm{T}',
      meaning: 'instant of that peak after the arrival of the surge at the tap',
      unit: 'us',
      ...simulated(),
    },
    peak_arrester_current: {
      symbol: 'I_\\mathrm{A,s}',
      meaning: 'peak of the arrester current',
      unit: 'kA',
      voltage: peak,
      ...simulated(),
    },
    arrester_charge: {
      symbol: 'Q_\\mathrm{A}',
      meaning: 'charge through the arrester over the whole surge',
      unit: 'C',
      ...simulated(
        'current integrated in a run over the whole surge, with the step from travel times and front',
      ),
    },
    arrester_energy: {
      symbol: 'W_\\mathrm{A}',
      meaning: 'energy that the arrester absorbs over the whole surge',
      unit: 'kJ',
      ...simulated('power integrated in that run'),
    },
    tank_rise: {
      symbol: 'U_\\mathrm{tank}',
      says: [NO_RISE.words],
      meaning: 'peak voltage of the tank over the earth path beyond the joint, as far as it is given',
      unit: 'kV',
      voltage: peak,
      when: 'not arrangement is separate-earths',
      ...simulated(),
    },
    time_step: {
      symbol: '\\Delta t',
      meaning: 'time step of the simulation',
      unit: 'ns',
      bookkeeping: true,
      ...simulated('halved until no peak changes by more than the tolerance'),
    },
    energy_imbalance: {
      symbol: '\\varepsilon_\\mathrm{W}',
      meaning: 'largest imbalance of energy in the simulation',
      unit: '%',
      bookkeeping: true,
      ...simulated(
        'energy supplied against energy lost and stored, as a share of that turned over; over 1 % is refused',
      ),
    },
    protective_ratio: {
      symbol: 'K',
      meaning: 'protective ratio, withstand to terminal voltage',
      unit: '1',
      basis: recall('iec-60071-2-1996', '4.3, safety factor'),
      optional: true,
      formula: 'impulse_withstand / peak_terminal_voltage',
    },
  },
  checks: {
    withstand_margin: {
      criterion: 'Protective ratio of withstand to simulated terminal voltage',
      value: 'protective_ratio',
      relation: '>=',
      limit: 'safety_factor',
      force: 'requirement',
      basis: withstand,
      remedies: [
        ...arrangementRemedies,
        {
          when: 'closed_arrester_voltage > impulse_withstand / safety_factor',
          text: 'The arrester alone leaves more than the insulation permits: an arrester with a lower residual voltage (at a continuous voltage that the network permits) is needed.',
        },
      ],
    },
  },
  validity: {
    'joint-on-earth-lead': jointOnEarthLead,
  },
  cautions: {
    'closed-formula': {
      text: 'Closed formula {closed_terminal_voltage}, simulation {peak_terminal_voltage}. The formula adds peaks that do not coincide, keeps the arrester at one voltage, and neglects the capacitance of the transformer and the waves between it and the arrester.',
    },
    'formula-below': {
      when: 'closed_terminal_voltage < peak_terminal_voltage',
      text: 'Here the closed formula is below the simulation: at a distance or with leads, the capacitance or the open end oscillates above the level, and the sum of the peaks is no upper bound.',
    },
    'model-limits': {
      text: 'Line without losses, leads as lumped inductances, electrode as a constant resistance, static characteristic: at fronts of about 1 µs the voltage of the arrester is some 10 % higher, which is not included. A surge above the insulation of the line flashes over on its way.',
      basis: commonPractice(),
    },
    'open-end': {
      when: 'not given transformer_capacitance',
      text: 'No capacitance is given: the terminals are taken as an open end. A capacitance flattens the front, but can oscillate with the leads.',
    },
    'distance-not-counted': {
      when: 'arrangement is across-terminals and distance > 0 m',
      text: 'The arrester is across the terminals: the distance that is given does not count.',
    },
    'earth-rise': {
      when: 'not arrangement is separate-earths and tank_rise > 0 V',
      text: 'The whole equipment rises by {tank_rise} over the earth path beyond the joint, as far as it is given. That stresses the low-voltage side, its neutral and auxiliary circuits, which this calculation does not cover.',
      basis: leadsOfArrester,
    },
    'earth-resistance-missing': {
      when: 'not arrangement is separate-earths and not given earth_resistance',
      text: 'No earth resistance is given: the drop across the earth electrode, mostly the larger part of the rise of the whole equipment against remote earth, is not calculated. It stresses the low-voltage side, its neutral and auxiliary circuits.',
      basis: leadsOfArrester,
    },
    'first-point': {
      when: 'given points.current and min(points.current) > 1 A',
      text: 'The first point of the table is above 1 A. Below it the arrester is taken as a resistance and conducts too early: give a point at 1 A or less.',
    },
    'beyond-characteristic': {
      when: 'given points.current and peak_arrester_current > max(points.current)',
      text: 'The arrester current of {peak_arrester_current} is beyond the last point of the table, which was extrapolated by its last power law: give a higher point.',
    },
  },
  figure: {
    caption: 'Voltage across the protected insulation against time, with its peak',
    draw: drawTerminalVoltages,
  },
  sketch: arrangementSketch,
  evidence: surgeAtTerminalsEvidence,
});

function solveArrester(values: SolverValues): SolverResult {
  const fault = faultOfCharacteristic(values);
  if (fault !== undefined) return { refused: fault };
  const voltage = solveOnLoadLine(
    formulaCharacteristic(values),
    2 * values.number('surge_peak'),
    values.number('load_impedance'),
  );
  if (voltage !== undefined) return voltage;
  return {
    refused: refusal(
      'beyond-table',
      'the load line of the wave meets the characteristic before the first or beyond the last point of its table, which is not extrapolated: give further points',
    ),
  };
}
