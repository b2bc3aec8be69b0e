import { commonPractice, recall } from '../../definition/basis.ts';
import type { GivenDefinition, QuantityGiven } from '../../definition/definition.ts';
import { surgeAtTerminalsGivens } from './surge-at-terminals-givens.ts';

const anderson = recall('anderson-eriksson-1980', 'negative first strokes, log-normal parameters');
const cigre = recall('cigre-tb-63-1991', 'negative first strokes, log-normal parameters');

/** What belongs to one surge alone, or to the check of one surge. */
const OF_ONE_SURGE: readonly string[] = [
  'surge_peak',
  'stroke_current',
  'surge_steepness',
  'front_time',
  'half_value_time',
  'safety_factor',
  'tolerance',
];

const path = Object.fromEntries(
  Object.entries(surgeAtTerminalsGivens).filter(([name]) => !OF_ONE_SURGE.includes(name)),
);

const strokes: Readonly<Record<string, GivenDefinition>> = {
  tail_time: {
    ...positive('T_\\mathrm{t}', 'time from the crest of the wave to half its peak', 'us', [
      '5 us',
      '1000 us',
      'first strokes last tens to hundreds of microseconds',
    ]),
    default: { value: '75 us', basis: recall('cigre-tb-63-1991', 'median duration of first strokes') },
  },
  line_flashover: {
    ...positive('U_\\mathrm{f}', "impulse voltage at which the line's insulation flashes over", 'kV', [
      '50 kV',
      '5000 kV',
      'the insulation of lines withstands some hundred to some thousand kilovolts',
    ]),
    note: 'higher waves are cut to it and keep their steepness and tail; without it no wave is cut',
    voltage: { measure: 'peak' },
  },
  currents: {
    type: 'choice',
    symbol: '\\text{currents}',
    meaning: 'distribution of the peak current of first strokes',
    options: {
      'two-branch': 'two log-normal branches that meet at 20 kA',
      single: 'one log-normal distribution with median_current and current_deviation',
    },
    default: { value: 'two-branch', basis: recall('cigre-tb-63-1991', 'distribution of peak currents') },
  },
  median_current: {
    ...positive('I_{50}', 'median of the peak current', 'kA', [
      '5 kA',
      '100 kA',
      'published medians are 10 kA to 45 kA',
    ]),
    voltage: { measure: 'peak' },
    default: { value: '31.1 kA', basis: anderson },
  },
  current_deviation: {
    ...positive('\\beta_I', 'standard deviation of the natural logarithm of the current', '1', [
      '0.1',
      '2',
      'published deviations are 0.4 to 1.4',
    ]),
    default: { value: '0.484', basis: anderson },
  },
  median_steepness: {
    ...positive('S_{50}', 'median of the greatest steepness of the current', 'kA/us', [
      '2 kA/us',
      '200 kA/us',
      'published medians are 5 kA/µs to 40 kA/µs',
    ]),
    default: { value: '24.3 kA/us', basis: anderson },
  },
  steepness_deviation: {
    ...positive('\\beta_S', 'standard deviation of the natural logarithm of the steepness', '1', [
      '0.1',
      '2',
      'published deviations are 0.4 to 1',
    ]),
    default: { value: '0.599', basis: anderson },
  },
  correlation: {
    type: 'quantity',
    symbol: '\\rho',
    meaning: 'correlation of the logarithms of current and steepness',
    unit: '1',
    permitted: { above: '-1', below: '1' },
    default: { value: '0.38', basis: cigre },
  },
};

const sample: Readonly<Record<string, GivenDefinition>> = {
  strokes: {
    type: 'quantity',
    symbol: 'n',
    meaning: 'strokes in the sample',
    unit: '1',
    whole: true,
    permitted: { from: '20', to: '20000' },
    usual: { from: '200', because: 'fewer strokes leave the share uncertain' },
    default: { value: '400', basis: commonPractice('a share of some per cent is found within a few tenths') },
  },
  seed: {
    type: 'quantity',
    symbol: 's',
    meaning: 'seed of the sample: another seed gives another sample, the same one the same',
    unit: '1',
    whole: true,
    permitted: { from: '0', to: '1000000' },
    default: { value: '1', basis: commonPractice('any number') },
  },
  confidence: {
    type: 'quantity',
    symbol: '\\gamma',
    meaning: 'confidence of the upper bound of the share',
    unit: '%',
    permitted: { from: '50 %', to: '99.9 %' },
    default: { value: '95 %', basis: commonPractice() },
  },
  stroke_rate: {
    ...positive(
      'N_\\mathrm{s}',
      'yearly number of strokes to the line near enough to send such waves',
      '1/year',
      [
        '1e-4 1/year',
        '100 1/year',
        'a span near a station is struck once in thousands of years to some times a year',
      ],
    ),
    note: 'without it no mean time between failures is calculated',
  },
  required_mean_time: {
    ...positive('T_\\mathrm{req}', 'required mean time between failures', 'year', [
      '1 year',
      '100000 year',
      'required mean times are some years to thousands of years',
    ]),
  },
  tolerance: {
    type: 'quantity',
    symbol: '\\varepsilon',
    meaning: 'largest change of a peak when the time step is halved',
    unit: '%',
    permitted: { from: '0.01 %', to: '1 %' },
    default: { value: '1 %', basis: commonPractice('errors of single strokes average out over a sample') },
  },
};

export const surgeStatisticsGivens: Readonly<Record<string, GivenDefinition>> = {
  ...path,
  ...strokes,
  ...sample,
};

function positive(
  symbol: string,
  meaning: string,
  unit: string,
  [from, to, because]: readonly [from: string, to: string, because: string],
): QuantityGiven {
  const above = unit === '1' ? '0' : `0 ${unit}`;
  return { type: 'quantity', symbol, meaning, unit, permitted: { above }, usual: { from, to, because } };
}
