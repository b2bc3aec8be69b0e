import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { ColumnDefinition, Evidence, QuantityGiven, RowsGiven } from '../../definition/definition.ts';

const periods = recall('iec-62305-3-2010', 'E.7.1, Table E.2, longest periods between inspections');
const continuity = recall(
  'iec-62305-3-2010',
  'E.4.3.1, overall resistance of reinforcement and natural parts',
);
const installations = recall('iec-60364-6-2016', '6.5.2, frequency of periodic verification');

const measured = (
  symbol: string,
  meaning: string,
  unit: string,
  usual: { readonly from: string; readonly to: string; readonly because: string },
): ColumnDefinition => ({
  type: 'quantity',
  symbol,
  meaning,
  unit,
  permitted: { above: `0 ${unit}` },
  usual,
});
const table = (meaning: string, columns: RowsGiven['columns']): RowsGiven => ({
  type: 'rows',
  least: 0,
  meaning,
  columns,
});
const ofEarths = {
  from: '0.01 ohm',
  to: '5000 ohm',
  because: 'earth electrodes have some hundredths of an ohm to some kilohms',
};
const ofBonds = {
  from: '0.0005 ohm',
  to: '10 ohm',
  because: 'connections have milliohms, bad ones some ohms',
};
const ofGaps = { from: '1 cm', to: '50 m', because: 'separations are centimetres to metres' };
const year = (symbol: string, meaning: string): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: '1',
  whole: true,
  permitted: { from: '1950', to: '2200' },
});
const month = (symbol: string, meaning: string): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: '1',
  whole: true,
  permitted: { from: '1', to: '12' },
});
const UNCERTAIN = '(1 + uncertainty)';

/** Values measured at an inspection against the required ones, and when the next inspection is due. */
export const inspectionRecord = defineCalculation({
  name: 'inspection-record',
  title: 'Inspection: measured values against required ones, next inspection',
  purpose:
    'Compares the earth resistances, continuity and separations measured at an inspection of a lightning protection ' +
    'system or an electrical installation with the required values, with the uncertainty of the instrument, and finds ' +
    'from the last inspection when the next one is due.',
  answers: [
    'Do the values measured at the inspection meet the requirements, and when is the next inspection due?',
  ],
  example: `
    id: inspection-workshop
    title: Inspection of the lightning protection system
    given:
      object: lps-iii-iv
      critical: no
      uncertainty: { value: 5 %, source: "calibration certificate" }
      earth_resistances:
        - { measured: 4.1 ohm, required: 10 ohm }
        - { measured: 8.2 ohm, required: 10 ohm }
      connections:
        - { measured: 0.03 ohm }
        - { measured: 0.12 ohm }
      separations:
        - { measured: 0.56 m, required: 0.5 m }
      last_year: 2030
      last_month: 9
      judged_year: 2031
      judged_month: 4
  `,
  givens: {
    object: {
      type: 'choice',
      symbol: '\\text{object}',
      meaning: 'what is inspected',
      options: {
        'lps-i-ii': 'lightning protection system of class I or II',
        'lps-iii-iv': 'lightning protection system of class III or IV',
        'electrical-installation': 'electrical installation of low voltage',
        dwelling: 'electrical installation of a dwelling',
      },
    },
    inspection: {
      type: 'choice',
      symbol: '\\text{inspection}',
      meaning: 'kind of inspection',
      options: { visual: 'visual', complete: 'complete, with measurements' },
      default: { value: 'complete', basis: commonPractice('with measurements') },
    },
    critical: {
      type: 'choice',
      symbol: '\\text{critical}',
      meaning: 'critical situation: sensitive systems, many people, danger of explosion',
      options: { no: 'no', yes: 'yes' },
      default: { value: 'yes', basis: commonPractice('the safe side, where it is not stated') },
    },
    agreed_interval: {
      type: 'quantity',
      symbol: 'T_\\mathrm{a}',
      meaning: 'longest interval by the authority, the insurer or the manual of the structure',
      unit: 'year',
      permitted: { above: '0 year' },
      usual: { from: '0.05 year', to: '12 year', because: 'intervals of weeks to ten years are specified' },
    },
    uncertainty: {
      type: 'quantity',
      symbol: 'u',
      meaning: 'uncertainty of the instrument in use, as a share of the reading',
      unit: '%',
      permitted: { from: '0 %', to: '50 %' },
      default: { value: '0 %', basis: commonPractice('the readings are taken as they are') },
    },
    last_year: year('Y_\\mathrm{l}', 'year of the last inspection'),
    last_month: month('M_\\mathrm{l}', 'month of the last inspection'),
    judged_year: year('Y_\\mathrm{j}', 'year in which the due date is judged'),
    judged_month: month('M_\\mathrm{j}', 'month in which the due date is judged'),
    earth_resistances: table('measured earth resistances, one row each', {
      measured: measured('R_i', 'measured earth resistance', 'ohm', ofEarths),
      required: measured('R_{\\mathrm{req},i}', 'largest value that the design permits', 'ohm', ofEarths),
    }),
    connections: table('measured resistances of connections and natural conductors', {
      measured: measured('r_i', 'measured resistance of the connection', 'ohm', ofBonds),
      required: {
        ...(measured('r_{\\mathrm{req},i}', 'largest permitted value', 'ohm', ofBonds) as QuantityGiven),
        default: { value: '0.2 ohm', basis: continuity },
      },
    }),
    separations: table('measured distances to the lightning protection system', {
      measured: measured('s_i', 'measured distance', 'm', ofGaps),
      required: measured('s_{\\mathrm{req},i}', 'separation distance that the design requires', 'm', ofGaps),
    }),
  },
  steps: {
    standard_interval: {
      symbol: 'T_\\mathrm{s}',
      meaning: 'longest interval by the standard',
      unit: 'year',
      basis: periods,
      variants: [
        {
          when: 'object is electrical-installation',
          formula: '4 year',
          basis: installations,
          note: 'example of the standard; national rules take precedence',
        },
        {
          when: 'object is dwelling',
          formula: '10 year',
          basis: installations,
          note: 'example of the standard; national rules take precedence',
        },
        { when: 'critical is yes', formula: '1 year', note: 'critical situation' },
        { when: 'object is lps-i-ii and inspection is visual', formula: '1 year' },
        { when: 'object is lps-i-ii', formula: '2 year' },
        { when: 'inspection is visual', formula: '2 year' },
        { formula: '4 year' },
      ],
    },
    interval: {
      symbol: 'T',
      meaning: 'applicable interval, in whole months',
      unit: '1',
      digits: 3,
      basis: derivation('the shorter of both, down to whole months'),
      variants: [
        {
          when: 'given agreed_interval',
          formula: 'floor(12 * min(standard_interval, agreed_interval) / 1 year)',
        },
        { formula: 'floor(12 * standard_interval / 1 year)' },
      ],
    },
    due: {
      symbol: 'm_\\mathrm{d}',
      meaning: 'month in which the next inspection is due, counted from the year 0',
      unit: '1',
      digits: 5,
      optional: true,
      basis: derivation('months since the last inspection'),
      formula: '12 * last_year + last_month - 1 + interval',
    },
    due_year: {
      symbol: 'Y_\\mathrm{d}',
      meaning: 'year in which the next inspection is due',
      unit: '1',
      digits: 4,
      optional: true,
      basis: derivation('twelve months make a year'),
      formula: 'floor(due / 12)',
    },
    due_month: {
      symbol: 'M_\\mathrm{d}',
      meaning: 'month in which it is due',
      unit: '1',
      digits: 2,
      optional: true,
      basis: derivation('twelve months make a year'),
      formula: 'due - 12 * due_year + 1',
    },
    judged: {
      symbol: 'm_\\mathrm{j}',
      meaning: 'month in which the due date is judged, counted in the same way',
      unit: '1',
      digits: 5,
      optional: true,
      basis: derivation('months since the year 0'),
      formula: '12 * judged_year + judged_month - 1',
    },
    earth_ratio: {
      symbol: '\\epsilon_i',
      meaning: 'earth resistance with its uncertainty over the required one',
      unit: '1',
      over: 'earth_resistances',
      basis: derivation('a quotient'),
      formula: `earth_resistances.measured * ${UNCERTAIN} / earth_resistances.required`,
    },
    connection_ratio: {
      symbol: '\\kappa_i',
      meaning: 'resistance of the connection with its uncertainty over the permitted one',
      unit: '1',
      over: 'connections',
      basis: derivation('a quotient'),
      formula: `connections.measured * ${UNCERTAIN} / connections.required`,
    },
    separation_ratio: {
      symbol: '\\delta_i',
      meaning: 'measured distance less its uncertainty over the required one',
      unit: '1',
      over: 'separations',
      basis: derivation('a quotient'),
      formula: 'separations.measured * (1 - uncertainty) / separations.required',
    },
    worst_earth: {
      symbol: '\\epsilon',
      meaning: 'least favourable earth resistance',
      unit: '1',
      rounded: 'up',
      when: 'count(earth_resistances.measured) > 0',
      basis: derivation('the largest of all'),
      formula: 'max(earth_ratio)',
    },
    worst_connection: {
      symbol: '\\kappa',
      meaning: 'least favourable connection',
      unit: '1',
      rounded: 'up',
      when: 'count(connections.measured) > 0',
      basis: derivation('the largest of all'),
      formula: 'max(connection_ratio)',
    },
    worst_separation: {
      symbol: '\\delta',
      meaning: 'least favourable distance',
      unit: '1',
      rounded: 'down',
      when: 'count(separations.measured) > 0',
      basis: derivation('the smallest of all'),
      formula: 'min(separation_ratio)',
    },
  },
  checks: {
    earth_resistances: {
      criterion: 'Largest ratio of a measured earth resistance to the permitted one',
      value: 'worst_earth',
      relation: '<=',
      limit: '1',
      when: 'count(earth_resistances.measured) > 0',
      force: 'requirement',
      basis: commonPractice('the values of the design must be met'),
      remedies: [
        'Repeat the measurement in another direction and with the probes farther away.',
        'Drive further electrodes and connect them to the existing ones.',
        'If the measured value is confirmed, judge the design again with it.',
      ],
    },
    connections: {
      criterion: 'Largest ratio of the resistance of a connection to the permitted one',
      value: 'worst_connection',
      relation: '<=',
      limit: '1',
      when: 'count(connections.measured) > 0',
      force: 'requirement',
      basis: continuity,
      remedies: [
        'Clean and tighten the connection, or renew it with a temporary bridge across it.',
        'Lay a conductor in parallel where reinforcement or cladding does not conduct through.',
      ],
    },
    separations: {
      criterion: 'Smallest ratio of a measured separation to the required one',
      value: 'worst_separation',
      relation: '>=',
      limit: '1',
      when: 'count(separations.measured) > 0',
      force: 'requirement',
      basis: commonPractice('the values of the design must be met'),
      remedies: [
        'Move the installation that is too near, or re-route the conductor of the lightning protection system.',
        'Bond the installation, where the design permits it, with SPDs on its lines.',
      ],
    },
    in_time: {
      criterion: 'Month of judgement against the month in which the next inspection is due',
      value: 'judged',
      relation: '<=',
      limit: 'due',
      when: 'given judged_year or given judged_month',
      force: [
        {
          when: 'object is electrical-installation or object is dwelling',
          force: 'recommendation',
          basis: installations,
        },
        { force: 'recommendation' },
      ],
      basis: periods,
      remedies: ['Inspect now, and enter the result in the records of the structure.'],
    },
  },
  validity: {
    'something-recorded': {
      requires:
        'count(earth_resistances.measured) + count(connections.measured) + count(separations.measured) > 0 or given last_year',
      otherwise: 'error',
      text: 'nothing is recorded: write what was measured, or when the last inspection was',
      basis: periods,
    },
    'visual-measures-nothing': {
      requires:
        'not inspection is visual or count(earth_resistances.measured) + count(connections.measured) + count(separations.measured) = 0',
      otherwise: 'caution',
      text: 'a visual inspection measures nothing: with measured values the inspection is a complete one, with its own interval',
      basis: periods,
    },
    'judged-after-last': {
      requires:
        'not given judged_year or not given last_year or not given judged_month or not given last_month or 12 * judged_year + judged_month >= 12 * last_year + last_month',
      otherwise: 'error',
      given: 'judged_year',
      text: 'the month in which the due date is judged is before the last inspection',
      instead: 'the month of the last inspection, or a later one',
      basis: derivation('time runs forwards'),
    },
    'open-connection': {
      requires: 'count(earth_resistances.measured) = 0 or max(earth_resistances.measured) <= 1000 ohm',
      otherwise: 'caution',
      text: 'an earth resistance of more than 1 kΩ usually indicates an open connection or a probe in dry soil, not an electrode',
      basis: commonPractice(),
    },
  },
  cautions: {
    'also-after-events': {
      text: 'Apart from the interval an inspection is due after every change or repair of the structure and after a known stroke to it.',
      basis: recall('iec-62305-3-2010', '7.2 and E.7.2.2'),
    },
    'country-intervals': {
      text: 'Authorities, insurers and the rules for explosive atmospheres may specify shorter intervals, which take precedence.',
      basis: commonPractice(),
    },
    'uncertainty-unsaid': {
      when: 'uncertainty = 0 %',
      text: 'The uncertainty of the instrument is not counted: the verdict on readings near their limit is uncertain.',
      basis: commonPractice(),
    },
    'season-of-measurement': {
      when: 'count(earth_resistances.measured) > 0',
      text: 'Earth resistances change with season and moisture, and a reading with all electrodes connected says nothing about a single one.',
      basis: commonPractice(),
    },
  },
  evidence: evidenceOfInspections(),
});

function evidenceOfInspections(): Evidence[] {
  const intervals = [
    ['lps-i-ii', 'visual', 'no', '12'],
    ['lps-i-ii', 'complete', 'no', '24'],
    ['lps-iii-iv', 'visual', 'no', '24'],
    ['lps-iii-iv', 'complete', 'no', '48'],
    ['lps-iii-iv', 'complete', 'yes', '12'],
  ] as const;
  return [
    {
      kind: 'independent',
      about:
        'three earths, two bonds and a separation with an instrument of 5 %; next inspection after 18 months',
      source:
        'by hand: 9.2 · 1.05/10 = 0.966; 0.19 · 1.05/0.2 = 0.9975; 0.52 · 0.95/0.5 = 0.988; 9/2030 and 18 months: 3/2032',
      given: {
        object: 'lps-i-ii',
        critical: 'no',
        uncertainty: '5 %',
        agreed_interval: '1.5 year',
        earth_resistances: [
          { measured: '4.1 ohm', required: '10 ohm' },
          { measured: '9.2 ohm', required: '10 ohm' },
          { measured: '7.7 ohm', required: '10 ohm' },
        ],
        connections: [{ measured: '0.03 ohm' }, { measured: '0.19 ohm' }],
        separations: [{ measured: '0.52 m', required: '0.5 m' }],
        last_year: '2030',
        last_month: '9',
        judged_year: '2032',
        judged_month: '4',
      },
      expect: {
        worst_earth: { value: '0.966', tolerance: '0' },
        worst_connection: { value: '0.9975', tolerance: '0' },
        separations: { verdict: 'does-not-comply' },
        due_year: { value: '2032', tolerance: '0' },
        due_month: { value: '3', tolerance: '0' },
        in_time: { verdict: 'not-met' },
      },
    },
    ...intervals.map(
      ([object, inspection, critical, months]): Evidence => ({
        kind: 'memory',
        about: `${object}, ${inspection}, critical: ${critical}: ${months} months`,
        source: 'IEC 62305-3:2010, Table E.2, values from memory',
        given: { object, inspection, critical, last_year: '2031', last_month: '12' },
        expect: { interval: { value: months, tolerance: '0' } },
      }),
    ),
  ];
}
