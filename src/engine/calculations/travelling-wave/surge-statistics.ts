import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { ResultStep, SolutionOutcome, SolverValues } from '../../definition/definition.ts';
import type { Spread } from '../../definition/piece-task.ts';
import { binomialUpperBound } from '../../physics/binomial-bound.ts';
import { arrangementSketch } from '../arrester/sketch-arrangement.ts';
import { drawStrokeVoltages } from './draw-stroke-voltages.ts';
import { loopAndLoad } from './loop-and-load.ts';
import { readStrokeCase } from './read-stroke-case.ts';
import { faultOfCharacteristic } from './read-terminal-surge.ts';
import { simulateStrokes } from './simulate-strokes.ts';
import { surgeStatisticsEvidence } from './surge-statistics-evidence.ts';
import { surgeStatisticsGivens } from './surge-statistics-givens.ts';

const branches = recall('cigre-tb-63-1991', 'two branches of the distribution of peak currents');
const single = derivation('the distribution given');
const simulated = derivation('simulation in time of every stroke of the sample');
const counted = derivation('share of a sample of equally probable strokes');
const peak = { measure: 'peak' } as const;

const needs = [
  'counted_length',
  'load_impedance',
  'impulse_withstand',
  'low_median',
  'low_deviation',
  'high_median',
  'high_deviation',
  'median_steepness',
  'steepness_deviation',
  'correlation',
  'strokes',
  'seed',
  'tail_time',
  'tolerance',
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
  'line_flashover',
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

/** A value of the one sample. */
function fromSample(method?: string): Pick<ResultStep, 'resultOf' | 'basis' | 'method'> {
  return { resultOf: 'sample', basis: simulated, ...(method === undefined ? {} : { method }) };
}

function simulate(values: SolverValues, spread: Spread): SolutionOutcome {
  const fault = faultOfCharacteristic(values);
  if (fault !== undefined) return { refused: fault };
  const outcome = simulateStrokes(readStrokeCase(values), spread);
  if (!outcome.ok) return { refused: outcome.reason };
  const voltages = outcome.strokes.map(({ voltage }) => voltage);
  const highest = outcome.strokes.reduce((most, { current }) => Math.max(most, current), 0);
  const withstand = values.number('impulse_withstand');
  const cut = values.optionalNumber('line_flashover') ?? Number.POSITIVE_INFINITY;
  return {
    results: {
      strokes_over: voltages.filter((voltage) => voltage > withstand).length,
      median_terminal_voltage: medianOf(voltages),
      highest_terminal_voltage: voltages.reduce((most, voltage) => Math.max(most, voltage), 0),
      highest_driven_current: Math.min(highest, (2 * cut) / values.number('line_impedance')),
    },
    drawn: voltages,
  };
}

function branchStep(symbol: string, meaning: string, unit: string, ofBranch: string, ofSingle: string) {
  return {
    symbol,
    meaning,
    unit,
    ...(unit === 'kA' ? { voltage: peak } : {}),
    basis: branches,
    variants: [
      { when: 'currents is two-branch', formula: ofBranch },
      { formula: ofSingle, basis: single },
    ],
  };
}

/** How often strokes to the line exceed the withstand of what an arrester protects. */
export const surgeStatistics = defineCalculation({
  name: 'surge-statistics',
  title: 'Strokes that exceed the withstand behind an arrester',
  purpose:
    'Simulates a sample of strokes to the line with the published distributions of current and steepness, finds the ' +
    'share of them at which the voltage across the protected insulation exceeds its withstand, and with the rate of ' +
    'strokes the mean time between failures.',
  answers: [
    'How many years pass between failures of the transformer by lightning?',
    'Which share of all strokes exceeds the withstand behind the arrester?',
  ],
  example: `
    id: tx1-mean-time
    title: Transformer TX1, mean time between failures by lightning
    given:
      arrangement: common-earth
      line_lead: { value: 0.8 m, source: "measured on site, sketch SK-01" }
      earth_lead: { value: 0.4 m, source: "measured on site, sketch SK-01" }
      residual_voltage: { value: 80 kV, source: "data sheet of the arrester, 8/20" }
      residual_current: { value: 10 kA, source: "data sheet of the arrester, 8/20" }
      exponent: { value: 30, source: "fitted to the table of the data sheet" }
      line_impedance: { value: 400 ohm, source: "single overhead conductor" }
      impulse_withstand: { value: 125 kV, source: "rating plate of the transformer" }
      line_flashover: { value: 300 kV, source: "data sheet of the line insulators" }
      stroke_rate: { value: 0.2 1/year, source: "flash density times the line within the limit distance" }
      required_mean_time: { value: 50 year, source: "agreed with the utility" }
  `,
  givens: surgeStatisticsGivens,
  alternatives: [{ oneOf: ['residual_voltage', 'points'] }],
  solutions: { sample: { needs, mayUse, solve: simulate, pointsOfRanges: 8 } },
  steps: {
    low_median: branchStep('I_{50,1}', 'median of the branch up to 20 kA', 'kA', '61 kA', 'median_current'),
    low_deviation: branchStep('\\beta_1', 'deviation of that branch', '1', '1.33', 'current_deviation'),
    high_median: branchStep(
      'I_{50,2}',
      'median of the branch above 20 kA',
      'kA',
      '33.3 kA',
      'median_current',
    ),
    high_deviation: branchStep('\\beta_2', 'deviation of that branch', '1', '0.605', 'current_deviation'),
    ...loopAndLoad,
    strokes_over: {
      symbol: 'k',
      meaning: 'strokes of the sample that exceed the withstand',
      unit: '1',
      ...fromSample(
        'every stroke simulated, its step halved until the peak changes by no more than the tolerance, its energy balance within 1 %; one current from each of n strata of equal share, steepness by a low-discrepancy sequence',
      ),
      digits: 1,
    },
    median_terminal_voltage: {
      symbol: 'U_{50}',
      meaning: 'voltage across the protected insulation that half of the strokes exceed',
      unit: 'kV',
      voltage: peak,
      ...fromSample(),
    },
    highest_terminal_voltage: {
      symbol: 'U_\\mathrm{max}',
      meaning: 'highest voltage across the protected insulation in the sample',
      unit: 'kV',
      voltage: peak,
      ...fromSample(),
    },
    highest_driven_current: {
      symbol: 'I_\\mathrm{max}',
      meaning: 'highest current that a stroke of the sample can drive through the arrester',
      unit: 'kA',
      voltage: peak,
      when: 'given points.current',
      ...fromSample(
        'that of the highest stroke, or at the flashover of the line, with the arrester as a short circuit',
      ),
    },
    share_over: {
      symbol: 'p',
      meaning: 'share of strokes that exceed the withstand',
      unit: '%',
      basis: counted,
      formula: 'strokes_over / strokes',
    },
    share_bound: {
      symbol: 'p_\\gamma',
      meaning: 'upper confidence bound of that share for this size of sample',
      unit: '%',
      basis: derivation('binomial distribution, bound of Clopper and Pearson'),
      needs: ['strokes_over', 'strokes', 'confidence'],
      method:
        'share at which as few or fewer would be found with probability 1 − γ, were the strokes drawn independently',
      solve: (values) =>
        binomialUpperBound(
          values.number('strokes_over'),
          values.number('strokes'),
          values.number('confidence'),
        ),
      rounded: 'up',
    },
    mean_time: {
      symbol: 'T_\\mathrm{m}',
      meaning: 'mean time between failures',
      unit: 'year',
      digits: 2,
      basis: counted,
      optional: true,
      words: [{ when: 'strokes_over = 0', says: 'no stroke of the sample exceeds the withstand' }],
      formula: '1 / (stroke_rate * share_over)',
    },
    mean_time_bound: {
      symbol: 'T_{\\mathrm{m},\\gamma}',
      meaning: 'lower bound of the mean time between failures',
      unit: 'year',
      digits: 2,
      basis: counted,
      optional: true,
      formula: '1 / (stroke_rate * share_bound)',
      rounded: 'down',
    },
  },
  checks: {
    failure_interval: {
      criterion: 'Lower bound of the mean time between failures against the required time',
      when: 'given required_mean_time',
      value: 'mean_time_bound',
      relation: '>=',
      limit: 'required_mean_time',
      force: 'requirement',
      basis: commonPractice('the required time is set by the owner or the utility'),
      remedies: [
        {
          when: 'strokes_over = 0 or given mean_time and mean_time >= required_mean_time',
          text: 'Take a larger sample: it narrows the bound, which alone does not reach the required time.',
        },
        {
          when: 'arrangement is separate-earths',
          text: 'Bond the base of the arrester to the tank by the shortest possible lead, in addition to the existing connection to the electrode, which stays; the utility’s rules decide on the separation of the low-voltage neutral and on transferred potential.',
        },
        {
          when: 'not arrangement is across-terminals',
          text: 'Mount the arrester at the terminals, so that the line passes its head first and its base is bonded to the tank.',
        },
        'Never cut or remove a protective or earthing conductor to shorten the loop.',
      ],
    },
  },
  validity: {
    'joint-on-earth-lead': {
      requires: 'not (given bond_position and given earth_lead) or bond_position <= earth_lead',
      otherwise: 'error',
      text: 'the joint is on the earth lead, so bond_position cannot exceed earth_lead',
    },
  },
  cautions: {
    'first-strokes': {
      text: 'Only negative first strokes to a phase conductor are counted, with the distributions measured at towers; induced voltages, subsequent strokes, positive flashes and the effect of the height of the line on its strokes are not. The wave rises linearly at its greatest steepness.',
      basis: commonPractice(),
    },
    'no-flashover': {
      when: 'not given line_flashover',
      text: 'No flashover voltage of the line is given: waves arrive uncut, however high. Most lines flash over on the way; where strokes then arrive as waves of that voltage, their steepness governs.',
    },
    'model-limits': {
      text: 'Line without losses, leads as lumped inductances, electrode as a constant resistance, static characteristic: at fronts of about 1 µs the voltage of the arrester is some 10 % higher, which is not included. Failure of the arrester itself is not counted.',
      basis: commonPractice(),
    },
    'first-point': {
      when: 'given points.current and min(points.current) > 1 A',
      text: 'The first point of the table is above 1 A. Below it the arrester is taken as a resistance and conducts too early: give a point at 1 A or less.',
    },
    'beyond-characteristic': {
      when: 'given points.current and highest_driven_current > max(points.current)',
      text: 'Strokes of the sample can drive up to {highest_driven_current} through the arrester, beyond the last point of its table, which was extrapolated by its last power law: give a higher point.',
    },
    'none-over': {
      when: 'strokes_over = 0',
      text: 'No stroke of the sample exceeds the withstand. This does not prove that none does: at a confidence of {confidence}, up to {share_bound} of the strokes may.',
    },
    'sample-not-independent': {
      when: 'strokes_over > 0',
      text: 'The bound takes the strokes as drawn independently. A stratified sample is spread more evenly, so the share is usually more certain than the bound indicates.',
    },
  },
  figure: {
    caption: 'Voltage across the protected insulation against the share of strokes that exceed it',
    draw: drawStrokeVoltages,
  },
  sketch: arrangementSketch,
  evidence: surgeStatisticsEvidence,
});

function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = (sorted.length - 1) / 2;
  return (sorted[Math.floor(middle)]! + sorted[Math.ceil(middle)]!) / 2;
}
