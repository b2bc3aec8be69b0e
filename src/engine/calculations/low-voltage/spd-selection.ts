import { cite, commonPractice, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { QuantityGiven } from '../../definition/definition.ts';

const continuous = cite('iec-60364-5-53-2002', 'Table 53C, as quoted in a public installation guide');
const continuous2015 = recall('iec-60364-5-53-2015', '534.4.4.3');
const temporary = recall('iec-61643-11-2011', 'Annex B, temporary overvoltages');
const dutyRule = recall('iec-60364-5-53-2015', '534.4.4.4 and 534.4.4.5');
const shortCircuit = recall('iec-60364-5-53-2015', '534.4.4.6');

const current = (symbol: string, meaning: string, measure: 'peak' | 'rms'): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: 'kA',
  voltage: { measure },
  permitted: { above: '0 kA' },
});

/** The least ratings of an SPD for its place in a low-voltage system. */
export const spdSelection = defineCalculation({
  name: 'spd-selection',
  title: 'Ratings of a surge protective device',
  purpose:
    'Finds the least ratings that a surge protective device (SPD) needs for one mode of protection: continuous ' +
    'operating voltage, withstand of temporary overvoltages, discharge or impulse current, short-circuit and follow ' +
    'current, by the earthing of the system.',
  givens: {
    edition: {
      type: 'choice',
      symbol: '\\text{edition}',
      meaning: 'edition of IEC 60364-5-53',
      options: {
        'iec-60364-5-53-2015': 'Amendment 2 of 2015',
        'iec-60364-5-53-2002': 'edition with Amendment 1 of 2002',
      },
      default: { value: 'iec-60364-5-53-2015', basis: continuous2015 },
    },
    system: {
      type: 'choice',
      symbol: '\\text{system}',
      meaning: 'system earthing',
      options: {
        'TN-C': 'neutral and protective conductor combined',
        'TN-S': 'neutral and protective conductor separate',
        TT: 'earthed source, installation with an earth of its own',
        IT: 'source isolated or earthed through an impedance',
      },
    },
    neutral: {
      type: 'choice',
      symbol: '\\text{neutral}',
      meaning: 'whether the neutral is distributed',
      options: { distributed: 'with neutral', 'not-distributed': 'without neutral (IT)' },
      default: { value: 'distributed', basis: commonPractice() },
    },
    mode: {
      type: 'choice',
      symbol: '\\text{mode}',
      meaning: 'mode of protection: conductors between which the SPD stands',
      options: {
        'L-N': 'line to neutral',
        'L-PE': 'line to protective conductor',
        'N-PE': 'neutral to protective conductor',
        'L-PEN': 'line to combined protective and neutral conductor',
      },
    },
    nominal_voltage: {
      type: 'quantity',
      symbol: 'U_0',
      meaning: 'nominal voltage of the system, line to neutral',
      unit: 'V',
      voltage: { measure: 'rms', between: 'line-neutral' },
      permitted: { above: '0 V', to: '1000 V' },
      typical: [{ value: '230 V', for: 'a system of 230/400 V', basis: commonPractice() }],
    },
    continuous_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{c}',
      meaning: 'maximum continuous operating voltage of the SPD',
      unit: 'V',
      voltage: { measure: 'rms' },
      permitted: { above: '0 V' },
      typical: [
        { value: '260 V', for: 'TT and TN, 230/400 V', basis: continuous },
        { value: '440 V', for: 'IT, 230/400 V', basis: continuous },
      ],
    },
    tov_duration: {
      type: 'choice',
      symbol: '\\text{duration}',
      meaning: 'duration of the temporary overvoltage that is judged',
      options: {
        '5-s': '5 s: fault in the low-voltage installation',
        '120-min': '120 min: loss of neutral',
        '200-ms': '200 ms: earth fault in the high-voltage system',
      },
      default: { value: '5-s', basis: temporary },
    },
    temporary_withstand: {
      type: 'quantity',
      symbol: 'U_\\mathrm{T}',
      meaning: 'temporary overvoltage that the SPD withstands for this duration',
      unit: 'V',
      voltage: { measure: 'rms' },
      permitted: { above: '0 V' },
    },
    duty_kind: {
      type: 'choice',
      symbol: '\\text{duty}',
      meaning: 'current by which the SPD is rated here',
      options: {
        'impulse-current': 'impulse current 10/350, test class I',
        'nominal-current': 'nominal discharge current 8/20, test class II',
      },
    },
    phases: {
      type: 'choice',
      symbol: '\\text{phases}',
      meaning: 'supply, for a device between neutral and protective conductor (connection 3+1 or 1+1)',
      options: { 'three-phase': 'three phases', 'single-phase': 'one phase' },
      default: { value: 'three-phase', basis: commonPractice() },
    },
    duty: current('I_\\mathrm{d}', 'impulse current or nominal discharge current of the SPD', 'peak'),
    expected_current: current(
      'I_\\mathrm{e}',
      'current that was worked out for the place of the SPD, where it was',
      'peak',
    ),
    short_circuit_current: current(
      'I_\\mathrm{p}',
      'prospective short-circuit current at the place of the SPD',
      'rms',
    ),
    short_circuit_rating: current(
      'I_\\mathrm{SCCR}',
      'short-circuit current rating of the SPD with its disconnector',
      'rms',
    ),
    spd_type: {
      type: 'choice',
      symbol: '\\text{type}',
      meaning: 'type of the SPD',
      options: {
        limiting: 'voltage-limiting: no follow current',
        switching: 'voltage-switching (spark gap): it must interrupt its follow current',
      },
      default: { value: 'limiting', basis: commonPractice('varistors') },
    },
    follow_current_rating: current(
      'I_\\mathrm{fi}',
      'follow current that the SPD interrupts by itself',
      'rms',
    ),
  },
  steps: {
    voltage_factor: {
      symbol: 'c',
      meaning: 'factor on the nominal voltage for this system and mode',
      unit: '1',
      digits: 2,
      basis: continuous,
      variants: [
        {
          when: 'system is IT and mode is L-PE and edition is iec-60364-5-53-2015',
          formula: '1.1 * sqrt(3)',
          basis: continuous2015,
          note: 'after a first fault the sound lines stand at the line-to-line voltage',
        },
        {
          when: 'system is IT and mode is L-PE',
          formula: 'sqrt(3)',
          basis: recall('iec-60364-5-53-2002', 'Table 53C'),
          note: 'after a first fault the sound lines stand at the line-to-line voltage',
        },
        { when: 'mode is N-PE', formula: '1' },
        { formula: '1.1' },
      ],
    },
    minimum_continuous_voltage: {
      symbol: 'U_\\mathrm{c,min}',
      meaning: 'least maximum continuous operating voltage',
      unit: 'V',
      rounded: 'up',
      voltage: { measure: 'rms' },
      basis: continuous,
      formula: 'voltage_factor * nominal_voltage',
      acrossKinds: 'the SPD stands between the conductors of its mode',
    },
    reference_voltage: {
      symbol: 'U_\\mathrm{REF}',
      meaning: 'reference voltage for temporary overvoltages',
      unit: 'V',
      voltage: { measure: 'rms' },
      basis: temporary,
      variants: [
        { when: 'nominal_voltage = 230 V', formula: '255 V', note: 'the value for 230/400 V' },
        {
          formula: '1.1 * nominal_voltage',
          acrossKinds: 'it counts for every mode of protection',
        },
      ],
    },
    minimum_temporary_withstand: {
      symbol: 'U_\\mathrm{T,min}',
      meaning: 'temporary overvoltage that the SPD must withstand',
      unit: 'V',
      rounded: 'up',
      voltage: { measure: 'rms' },
      basis: temporary,
      variants: [
        {
          when: 'tov_duration is 200-ms and (system is TT or system is IT) and mode is N-PE',
          formula: '1200 V',
        },
        {
          when: 'tov_duration is 200-ms and (system is TT or system is IT) and mode is L-PE',
          formula: '1200 V + reference_voltage',
        },
        {
          when: 'tov_duration is 5-s and (system is TN-C or system is TN-S or system is TT and mode is L-N) and not mode is N-PE',
          formula: '1.32 * reference_voltage',
        },
        {
          when: 'tov_duration is 5-s and system is TT and mode is L-PE',
          formula: '1.55 * reference_voltage',
        },
        {
          when: 'tov_duration is 120-min and not system is IT and not mode is N-PE',
          formula: 'sqrt(3) * reference_voltage',
        },
      ],
    },
    standard_duty: {
      symbol: 'I_\\mathrm{d,0}',
      meaning: 'least current where none was worked out',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: dutyRule,
      optional: true,
      variants: [
        {
          when: 'duty_kind is impulse-current and mode is N-PE and phases is three-phase',
          formula: '50 kA',
        },
        { when: 'duty_kind is impulse-current and mode is N-PE', formula: '25 kA' },
        { when: 'duty_kind is impulse-current', formula: '12.5 kA' },
        { when: 'mode is N-PE and phases is three-phase', formula: '20 kA' },
        { when: 'mode is N-PE', formula: '10 kA' },
        { formula: '5 kA' },
      ],
    },
    minimum_duty: {
      symbol: 'I_\\mathrm{d,min}',
      meaning: 'least impulse current or nominal discharge current',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: dutyRule,
      optional: true,
      variants: [
        { when: 'given expected_current', formula: 'max(standard_duty, expected_current)' },
        { formula: 'standard_duty' },
      ],
    },
    minimum_short_circuit_rating: {
      symbol: 'I_\\mathrm{SCCR,min}',
      meaning: 'least short-circuit current rating',
      unit: 'kA',
      voltage: { measure: 'rms' },
      basis: shortCircuit,
      optional: true,
      variants: [
        {
          when: 'mode is N-PE and not system is IT',
          formula: '0.1 kA',
          note: 'between neutral and protective conductor of an earthed system 100 A',
        },
        { formula: 'short_circuit_current' },
      ],
    },
    minimum_follow_current_rating: {
      symbol: 'I_\\mathrm{fi,min}',
      meaning: 'follow current that the SPD must interrupt',
      unit: 'kA',
      voltage: { measure: 'rms' },
      basis: recall('iec-60364-5-53-2015', '534.4.4.7'),
      optional: true,
      when: 'spd_type is switching',
      variants: [
        {
          when: 'mode is N-PE and not system is IT',
          formula: '0.1 kA',
          note: 'between neutral and protective conductor of an earthed system 100 A',
        },
        { formula: 'short_circuit_current' },
      ],
    },
  },
  checks: {
    continuous_voltage: {
      criterion: 'Maximum continuous operating voltage',
      value: 'continuous_voltage',
      relation: '>=',
      limit: 'minimum_continuous_voltage',
      force: 'requirement',
      basis: continuous,
      remedies: [
        'Use an SPD with a higher continuous operating voltage; its protection level then rises as well and must be judged again.',
      ],
    },
    temporary_withstand: {
      criterion: 'Withstand of temporary overvoltages',
      value: 'temporary_withstand',
      relation: '>=',
      limit: 'minimum_temporary_withstand',
      when: 'given minimum_temporary_withstand',
      force: 'requirement',
      basis: temporary,
      remedies: [
        'Use an SPD that withstands this temporary overvoltage, or one whose safe failure at it was tested.',
        'For faults in the high-voltage system a spark gap between neutral and protective conductor (connection 3+1) relieves the devices of the lines.',
      ],
    },
    duty: {
      criterion: 'Impulse current or nominal discharge current',
      value: 'duty',
      relation: '>=',
      limit: 'minimum_duty',
      force: 'requirement',
      basis: dutyRule,
      remedies: [
        'Use an SPD of higher impulse or nominal discharge current.',
        'Work out the share of the lightning current in the services: it may ask for less, or for more.',
      ],
    },
    short_circuit_rating: {
      criterion: 'Short-circuit current rating',
      value: 'short_circuit_rating',
      relation: '>=',
      limit: 'minimum_short_circuit_rating',
      force: 'requirement',
      basis: shortCircuit,
      remedies: [
        'Use the SPD with a disconnector or fuse with which it is rated for this short-circuit current.',
      ],
    },
    follow_current_rating: {
      criterion: 'Follow current that the SPD interrupts by itself',
      value: 'follow_current_rating',
      relation: '>=',
      limit: 'minimum_follow_current_rating',
      when: 'spd_type is switching',
      force: 'requirement',
      basis: recall('iec-60364-5-53-2015', '534.4.4.7'),
      remedies: [
        'Use a spark gap with a higher follow current rating, or a voltage-limiting SPD.',
        'Where the fuse is meant to interrupt the follow current, the supply is lost with every response: agree on that.',
      ],
    },
  },
  validity: {
    'tn-c-mode': {
      requires: 'not system is TN-C or mode is L-PEN',
      otherwise: 'error',
      text: 'in a TN-C system an SPD stands between line and PEN: mode L-PEN',
      basis: continuous,
    },
    'pen-in-tn-c': {
      requires: 'system is TN-C or not mode is L-PEN',
      otherwise: 'error',
      text: 'only a TN-C system has a PEN conductor',
      basis: continuous,
    },
    'without-neutral': {
      requires: 'neutral is distributed or system is IT and mode is L-PE',
      otherwise: 'error',
      text: 'without a distributed neutral the only mode here is line to protective conductor of an IT system',
      basis: continuous,
    },
  },
  cautions: {
    'no-temporary-value': {
      when: 'not given minimum_temporary_withstand',
      text: 'For this system, mode and duration no temporary overvoltage is laid down here: it is not judged.',
      basis: temporary,
    },
    'editions-differ': {
      when: 'system is IT and mode is L-PE',
      text: 'The editions differ for line to protective conductor in IT systems: the phase-to-earth voltage in a public quotation of the older table, the line-to-line voltage, and 1.1 times that in 2015. The larger of these applies to the edition chosen.',
      basis: continuous2015,
    },
    'expected-current': {
      when: 'not given expected_current and duty_kind is impulse-current',
      text: 'The least impulse current holds only where the share of the lightning current was not worked out, or is smaller.',
      basis: dutyRule,
    },
    'protection-level': {
      text: 'These ratings say nothing of the voltage that reaches the equipment: judge the effective protection level as well.',
    },
  },
  evidence: [
    {
      kind: 'published',
      about: 'TT, line to neutral: 1.1 U0, 253 V at 230 V; a device of 260 V suffices',
      source: 'IEC 60364-5-53 Table 53C in a public installation guide: 1.1 U0; typical 260 V and more',
      given: {
        system: 'TT',
        mode: 'L-N',
        edition: 'iec-60364-5-53-2002',
        nominal_voltage: '230 V',
        continuous_voltage: '260 V',
        duty_kind: 'nominal-current',
      },
      expect: {
        voltage_factor: { value: '1.1', tolerance: '0' },
        minimum_continuous_voltage: { value: '253 V', tolerance: '0 V' },
        continuous_voltage: { verdict: 'complies' },
      },
    },
    ...(
      [
        ['TN-S', 'L-PE', '1.1'],
        ['TN-S', 'N-PE', '1'],
        ['TN-C', 'L-PEN', '1.1'],
        ['TT', 'L-PE', '1.1'],
        ['TT', 'N-PE', '1'],
        ['IT', 'L-N', '1.1'],
        ['IT', 'N-PE', '1'],
      ] as const
    ).map(([system, mode, factor]) => ({
      kind: 'published' as const,
      about: `${system}, ${mode}: ${factor} U0`,
      source: 'IEC 60364-5-53 Table 53C in a public installation guide',
      given: {
        system,
        mode,
        edition: 'iec-60364-5-53-2002',
        nominal_voltage: '230 V',
        duty_kind: 'nominal-current',
      },
      expect: { voltage_factor: { value: factor, tolerance: '0' } },
    })),
    {
      kind: 'memory',
      about: 'IT, line to protective conductor: 1.1 times the line-to-line voltage in 2015',
      source: 'IEC 60364-5-53:2015, 534.4.4.3, from memory: 1.1 · 400 V = 440 V (with 230 V √3 = 398.4 V)',
      given: { system: 'IT', mode: 'L-PE', nominal_voltage: '230 V', duty_kind: 'nominal-current' },
      expect: {
        minimum_continuous_voltage: {
          value: '440 V',
          tolerance: '2 V',
          because: '400 V is the rounded line-to-line voltage',
        },
      },
    },
    ...(
      [
        ['TN-S', 'L-N', '5-s', '337 V'],
        ['TN-S', 'L-PE', '120-min', '442 V'],
        ['TT', 'L-PE', '5-s', '395 V'],
        ['TT', 'L-PE', '200-ms', '1455 V'],
        ['TT', 'N-PE', '200-ms', '1200 V'],
        ['IT', 'L-PE', '200-ms', '1455 V'],
      ] as const
    ).map(([system, mode, duration, withstand]) => ({
      kind: 'memory' as const,
      about: `temporary overvoltage, ${system}, ${mode}, ${duration}: ${withstand}`,
      source: 'IEC 61643-11:2011, Annex B, values for 230/400 V from memory',
      given: {
        system,
        mode,
        tov_duration: duration,
        nominal_voltage: '230 V',
        duty_kind: 'nominal-current',
      },
      expect: { minimum_temporary_withstand: { value: withstand, tolerance: '0.5 V' } },
    })),
    {
      kind: 'memory',
      about: 'least currents: 12.5 kA for each mode, 50 kA between neutral and protective conductor',
      source: 'IEC 60364-5-53, values from memory',
      given: {
        system: 'TT',
        mode: 'N-PE',
        nominal_voltage: '230 V',
        duty_kind: 'impulse-current',
        duty: '25 kA',
      },
      expect: {
        minimum_duty: { value: '50 kA', tolerance: '0 kA' },
        duty: { verdict: 'does not comply' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'a spark gap must interrupt the short-circuit current of its place',
      source: 'follow current is a short-circuit current through the gap',
      given: {
        system: 'TN-S',
        mode: 'L-N',
        nominal_voltage: '230 V',
        duty_kind: 'impulse-current',
        spd_type: 'switching',
        short_circuit_current: '10 kA',
        short_circuit_rating: '25 kA',
        follow_current_rating: '3 kA',
      },
      expect: {
        short_circuit_rating: { verdict: 'complies' },
        follow_current_rating: { verdict: 'does not comply' },
      },
    },
  ],
});
