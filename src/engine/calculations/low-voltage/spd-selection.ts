import { commonPractice, quote, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { QuantityGiven } from '../../definition/definition.ts';
import { selectionEvidence } from './spd-selection-evidence.ts';

const continuous = quote('iec-60364-5-53-2002', 'Table 53C', 'installation-guide-wiki', 'Fig. J24');
const continuous2015 = recall('iec-60364-5-53-2015', '534.4.4.3');
const temporary = recall('iec-61643-11-2011', 'Annex B, temporary overvoltages');
const dutyRule = recall('iec-60364-5-53-2015', '534.4.4.4 and 534.4.4.5');
const shortCircuit = recall('iec-60364-5-53-2015', '534.4.4.6');

const USUAL_CURRENT = {
  peak: {
    from: '0.1 kA',
    to: '200 kA',
    because: 'SPDs are rated for some 1 kA to 100 kA, and 200 kA is the current of level I',
  },
  rms: {
    from: '0.05 kA',
    to: '200 kA',
    because: 'short-circuit currents in low-voltage systems reach from some 0.1 kA to 150 kA',
  },
};

const current = (symbol: string, meaning: string, measure: 'peak' | 'rms'): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: 'kA',
  voltage: { measure },
  permitted: { above: '0 kA' },
  usual: USUAL_CURRENT[measure],
});

const isSum = 'mode is N-PE and connection is type-2';

/** The minimum ratings of an SPD for its place in a low-voltage system. */
export const spdSelection = defineCalculation({
  name: 'spd-selection',
  title: 'Ratings of a surge protective device',
  purpose:
    'Finds the minimum ratings that a surge protective device (SPD) needs for one mode of protection: continuous ' +
    'operating voltage, withstand of temporary overvoltages, discharge or impulse current, short-circuit and follow ' +
    'current, by the earthing of the system.',
  answers: [
    'Which continuous voltage, discharge current and short-circuit rating must an SPD have in a TN, TT or IT system?',
    'Which temporary overvoltage must it survive?',
  ],
  example: `
    id: main-board-spd-ratings
    title: Main board, ratings of the type 1 SPD
    given:
      system: TN-S
      mode: L-PE
      nominal_voltage: 230 V
      continuous_voltage: { value: 275 V, source: "data sheet of the SPD" }
      temporary_withstand: { value: 440 V, source: "data sheet of the SPD, 5 s" }
      tov_duration: 5-s
      duty_kind: impulse-current
      duty: { value: 12.5 kA, source: "data sheet of the SPD, 10/350" }
      expected_current: { value: 12.5 kA, source: "share of the lightning current" }
      short_circuit_current: { value: 10 kA, source: "short-circuit study" }
      short_circuit_rating: { value: 25 kA, source: "data sheet of the SPD, with its fuse" }
  `,
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
      meaning: 'mode of protection: conductors between which the SPD is connected',
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
      usual: { from: '50 V', because: 'low-voltage systems have 100 V and more to neutral' },
      typical: [{ value: '230 V', for: 'a system of 230/400 V', basis: commonPractice() }],
    },
    continuous_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{c}',
      meaning: 'maximum continuous operating voltage of the SPD',
      unit: 'V',
      voltage: { measure: 'rms' },
      permitted: { above: '0 V' },
      usual: { from: '50 V', to: '2000 V', because: 'SPDs for low-voltage systems have some 75 V to 1000 V' },
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
      usual: {
        from: '50 V',
        to: '5000 V',
        because: 'temporary overvoltages of IEC 61643-11 reach 1455 V at 230/400 V (from memory)',
      },
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
    connection: {
      type: 'choice',
      symbol: '\\text{connection}',
      meaning:
        'connection of the set of SPDs, which decides what a device between neutral and protective conductor carries',
      options: {
        'type-1': 'every conductor to the protective conductor (4+0, 2+0): each device carries its own share',
        'type-2':
          'lines to neutral, and neutral to the protective conductor (3+1, 1+1): the latter device carries the sum',
      },
    },
    phases: {
      type: 'choice',
      symbol: '\\text{phases}',
      meaning: 'supply, for a device between neutral and protective conductor in connection type 2',
      options: { 'three-phase': 'three phases', 'single-phase': 'one phase' },
      default: { value: 'three-phase', basis: commonPractice() },
    },
    duty: current('I_\\mathrm{d}', 'impulse current or nominal discharge current of the SPD', 'peak'),
    expected_current: current(
      'I_\\mathrm{e}',
      'calculated current at the place of the SPD, where known',
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
          note: 'after a first fault the healthy lines are at the line-to-line voltage',
        },
        {
          when: 'system is IT and mode is L-PE',
          formula: 'sqrt(3)',
          basis: recall('iec-60364-5-53-2002', 'Table 53C'),
          note: 'after a first fault the healthy lines are at the line-to-line voltage',
        },
        { when: 'mode is N-PE', formula: '1' },
        { formula: '1.1' },
      ],
    },
    minimum_continuous_voltage: {
      symbol: 'U_\\mathrm{c,min}',
      meaning: 'required maximum continuous operating voltage',
      unit: 'V',
      rounded: 'up',
      voltage: { measure: 'rms' },
      basis: continuous,
      formula: 'voltage_factor * nominal_voltage',
      acrossKinds: 'the SPD is connected between the conductors of its mode',
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
          acrossKinds: 'it applies to every mode of protection',
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
      meaning: 'minimum current where none was calculated',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: dutyRule,
      optional: true,
      variants: [
        {
          when: `duty_kind is impulse-current and ${isSum} and phases is three-phase`,
          formula: '50 kA',
          note: 'the device between neutral and protective conductor carries the sum of the others (3+1)',
        },
        {
          when: `duty_kind is impulse-current and ${isSum}`,
          formula: '25 kA',
          note: 'the device between neutral and protective conductor carries the sum of both (1+1)',
        },
        { when: 'duty_kind is impulse-current', formula: '12.5 kA' },
        { when: `${isSum} and phases is three-phase`, formula: '20 kA' },
        { when: isSum, formula: '10 kA' },
        { formula: '5 kA' },
      ],
    },
    minimum_duty: {
      symbol: 'I_\\mathrm{d,min}',
      meaning: 'minimum impulse current or nominal discharge current',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: dutyRule,
      optional: true,
      variants: [
        {
          when: 'given expected_current and duty_kind is impulse-current',
          formula: 'expected_current',
          note: 'the minimum of the standard applies only where the current was not calculated',
        },
        {
          when: 'given expected_current',
          formula: 'max(standard_duty, expected_current)',
          note: 'the minimum nominal discharge current applies also where less was calculated',
        },
        { formula: 'standard_duty' },
      ],
    },
    minimum_short_circuit_rating: {
      symbol: 'I_\\mathrm{SCCR,min}',
      meaning: 'minimum short-circuit current rating',
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
        {
          when: 'tov_duration is 200-ms and mode is L-PE',
          text: 'For faults in the high-voltage system a spark gap between neutral and protective conductor (connection 3+1) relieves the devices of the lines.',
        },
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
        {
          when: 'not given expected_current and duty_kind is impulse-current',
          text: 'Calculate the share of the lightning current in the services and write it as expected_current: it may require less, or more.',
        },
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
        'If a fuse is to interrupt the follow current instead, it opens when the SPD responds and leaves the installation without protection or without supply: agree on that with the client.',
      ],
    },
  },
  validity: {
    'tn-c-mode': {
      requires: 'not system is TN-C or mode is L-PEN',
      otherwise: 'error',
      text: 'in a TN-C system an SPD is connected between line and PEN: mode L-PEN',
      basis: continuous,
    },
    'pen-in-tn-c': {
      requires: 'system is TN-C or not mode is L-PEN',
      otherwise: 'error',
      text: 'only a TN-C system has a PEN conductor',
      basis: continuous,
    },
    'mode-of-connection': {
      requires:
        'not given connection or mode is N-PE or mode is L-PE and connection is type-1 or mode is L-N and connection is type-2',
      otherwise: 'error',
      text: 'connection type 1 has devices from every conductor to the protective conductor, type 2 from the lines to neutral and from neutral to the protective conductor: write the mode of one of them, or leave connection out',
      basis: dutyRule,
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
      text: 'For this system, mode and duration no temporary overvoltage is specified here: it is not judged.',
      basis: temporary,
    },
    'editions-differ': {
      when: 'system is IT and mode is L-PE',
      text: 'The editions differ for line to protective conductor in IT systems. The line-to-line voltage is used with the edition of 2002, and 1.1 times that with 2015; reprints of the older table with the voltage to neutral alone are too low for a sustained first earth fault.',
      basis: continuous2015,
    },
    'expected-current': {
      when: 'not given expected_current and duty_kind is impulse-current',
      text: 'The minimum of the standard is used, because no current was calculated for this place. Where the share of the lightning current is calculated, it applies instead, also where it is larger.',
      basis: dutyRule,
    },
    'below-standard-duty': {
      when: 'duty_kind is impulse-current and expected_current < standard_duty',
      text: 'The calculated current is below the {standard_duty} that apply where none is calculated. The verdict depends on that calculation: that every service counted in it exists, is bonded, and is earthed beyond the structure.',
      basis: dutyRule,
    },
    'sum-between-neutral-and-earth': {
      when: 'given expected_current and mode is N-PE and connection is type-2',
      text: 'Between neutral and protective conductor the expected current must be the sum of those of all conductors, not the share of one.',
      basis: dutyRule,
    },
    'protection-level': {
      text: 'These ratings do not cover the voltage that reaches the equipment: judge the effective protection level as well.',
    },
  },
  evidence: selectionEvidence,
});
