import { commonPractice, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';

const lineEnergy = recall('iec-60099-5-2018', 'energy and charge when a line is discharged');
const classes = recall('iec-60099-4-2014', 'classification of arresters, thermal ratings');
const lineDischarge = recall('iec-60099-4-2009', 'line discharge classes');
const lightning = recall('iec-60099-5-2018', 'energy of lightning surges on a line');

const isDistribution = '(class is DL or class is DM or class is DH)';
const isStation = '(class is SL or class is SM or class is SH)';
const isLineDischarge =
  '(class is line-discharge-1 or class is line-discharge-2 or class is line-discharge-3 or class is line-discharge-4 or class is line-discharge-5)';

/** A line of 30 km on an arrester of 18 kV whose residual voltage is twice that. */
const line = {
  rated_voltage: '18 kV',
  switching_overvoltage: '60 kV',
  residual_voltage: '36 kV',
  line_length: '30 km',
  surge_impedance: '400 ohm',
};

/** Energy and charge that an arrester takes, against what its class stands. */
export const arresterDuty = defineCalculation({
  name: 'arrester-duty',
  title: 'Energy and charge of a surge arrester',
  purpose:
    'Finds energy and charge that an arrester takes when a charged line is discharged through it, and sets them against ' +
    'what its class stands: charge for distribution classes, energy for station classes and for line discharge classes.',
  givens: {
    class: {
      type: 'choice',
      symbol: '\\text{class}',
      meaning: 'class of the arrester',
      options: {
        DL: 'distribution, low duty (IEC 60099-4:2014)',
        DM: 'distribution, medium duty (IEC 60099-4:2014)',
        DH: 'distribution, high duty (IEC 60099-4:2014)',
        SL: 'station, low duty (IEC 60099-4:2014)',
        SM: 'station, medium duty (IEC 60099-4:2014)',
        SH: 'station, high duty (IEC 60099-4:2014)',
        'line-discharge-1': 'line discharge class 1 (IEC 60099-4:2009)',
        'line-discharge-2': 'line discharge class 2 (IEC 60099-4:2009)',
        'line-discharge-3': 'line discharge class 3 (IEC 60099-4:2009)',
        'line-discharge-4': 'line discharge class 4 (IEC 60099-4:2009)',
        'line-discharge-5': 'line discharge class 5 (IEC 60099-4:2009)',
      },
    },
    rated_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{r}',
      meaning: 'rated voltage of the arrester',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-earth' },
      permitted: { above: '0 kV' },
    },
    switching_overvoltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{e}',
      meaning: 'overvoltage to which the line is charged, without the arrester',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
    },
    residual_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{ps}',
      meaning: 'residual voltage of the arrester at switching impulse current',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
    },
    line_length: {
      type: 'quantity',
      symbol: '\\ell',
      meaning: 'length of the line',
      unit: 'km',
      permitted: { above: '0 km' },
    },
    surge_impedance: {
      type: 'quantity',
      symbol: 'Z',
      meaning: 'surge impedance of the line',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: {
        from: '20 ohm',
        to: '600 ohm',
        because: 'overhead lines have 250 Ω to 500 Ω, cables 20 Ω to 70 Ω',
      },
    },
    velocity: {
      type: 'quantity',
      symbol: 'c',
      meaning: 'velocity of waves on the line',
      unit: 'm/us',
      permitted: { above: '0 m/us', to: '300 m/us' },
      default: { value: '300 m/us', basis: commonPractice('overhead line') },
    },
    duration_rule: {
      type: 'choice',
      symbol: '\\text{duration}',
      meaning: 'how long the line feeds the arrester; editions differ',
      options: {
        'double-travel': 'twice the travelling time of the line',
        'single-travel': 'the travelling time of the line',
      },
      default: { value: 'double-travel', basis: lineEnergy },
    },
    operations: {
      type: 'quantity',
      symbol: 'n',
      meaning: 'number of operations in quick succession',
      unit: '1',
      whole: true,
      permitted: { from: '1' },
      default: { value: '1', basis: commonPractice('one operation') },
      typical: [{ value: '2', for: 'unsuccessful reclosing', basis: commonPractice() }],
    },
    flashover_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{f}',
      meaning: 'negative flashover voltage of the line insulation, for the energy of a lightning surge',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
    },
    lightning_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{pl}',
      meaning: 'lightning impulse protection level of the arrester',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
    },
    lines: {
      type: 'quantity',
      symbol: 'N',
      meaning: 'number of lines connected to the arrester',
      unit: '1',
      whole: true,
      permitted: { from: '1' },
      default: { value: '1', basis: commonPractice('a single line, the severest case') },
    },
  },
  steps: {
    duration: {
      symbol: 'T_\\mathrm{w}',
      meaning: 'time during which the line feeds the arrester',
      unit: 'us',
      basis: lineEnergy,
      variants: [
        { when: 'duration_rule is double-travel', formula: '2 * line_length / velocity' },
        { formula: 'line_length / velocity' },
      ],
    },
    discharge_current: {
      symbol: 'I_\\mathrm{s}',
      meaning: 'current of one discharge',
      unit: 'A',
      voltage: { measure: 'peak' },
      basis: lineEnergy,
      words: [{ when: 'switching_overvoltage <= residual_voltage', says: 'no discharge' }],
      formula: '(switching_overvoltage - residual_voltage) / surge_impedance',
    },
    charge: {
      symbol: 'Q',
      meaning: 'charge of all operations',
      unit: 'C',
      basis: lineEnergy,
      formula: 'operations * discharge_current * duration',
    },
    energy: {
      symbol: 'W',
      meaning: 'energy of all operations',
      unit: 'kJ',
      basis: lineEnergy,
      formula: 'residual_voltage * charge',
    },
    energy_per_rated_voltage: {
      symbol: "W'",
      meaning: 'energy per rated voltage',
      unit: 'kJ/kV',
      basis: lineEnergy,
      formula: 'energy / rated_voltage',
    },
    lightning_energy: {
      symbol: 'W_\\mathrm{l}',
      meaning: 'energy of a lightning surge that the insulation of the line limits',
      unit: 'kJ',
      basis: lightning,
      optional: true,
      when: 'given flashover_voltage and given lightning_level',
      formula:
        '(2 * flashover_voltage - lines * lightning_level * (1 + ln(2 * flashover_voltage / lightning_level))) ' +
        '* lightning_level * 300 us / surge_impedance',
      note: 'duration of the lightning current with subsequent strokes: 300 µs',
    },
    permitted_charge: {
      symbol: 'Q_\\mathrm{th}',
      meaning: 'thermal charge transfer rating of the class',
      unit: 'C',
      basis: classes,
      when: isDistribution,
      table: { by: ['class'], values: { DL: '0.45 C', DM: '0.7 C', DH: '1.1 C' } },
    },
    class_impedance: {
      symbol: 'Z_\\mathrm{L}',
      meaning: 'surge impedance of the line discharge test, in Ω per kV of rated voltage',
      unit: 'ohm/kV',
      basis: lineDischarge,
      when: isLineDischarge,
      table: {
        by: ['class'],
        values: ldValues('4.9 ohm/kV', '2.4 ohm/kV', '1.3 ohm/kV', '0.8 ohm/kV', '0.5 ohm/kV'),
      },
    },
    class_duration: {
      symbol: 'T_\\mathrm{L}',
      meaning: 'duration of the current of the line discharge test',
      unit: 'us',
      basis: lineDischarge,
      when: isLineDischarge,
      table: { by: ['class'], values: ldValues('2000 us', '2000 us', '2400 us', '2800 us', '3200 us') },
    },
    class_charging: {
      symbol: 'u_\\mathrm{L}',
      meaning: 'charging voltage of the line discharge test, per rated voltage',
      unit: '1',
      basis: lineDischarge,
      when: isLineDischarge,
      table: { by: ['class'], values: ldValues('3.2', '3.2', '2.8', '2.6', '2.4') },
    },
    permitted_energy: {
      symbol: "W'_\\mathrm{th}",
      meaning: 'energy per rated voltage that the class stands',
      unit: 'kJ/kV',
      basis: classes,
      when: `${isStation} or ${isLineDischarge}`,
      variants: [
        { when: 'class is SL', formula: '4 kJ/kV', note: 'thermal energy rating of the class' },
        { when: 'class is SM', formula: '7 kJ/kV', note: 'thermal energy rating of the class' },
        { when: 'class is SH', formula: '10 kJ/kV', note: 'thermal energy rating of the class' },
        {
          formula:
            'min(operations, 2) * residual_voltage / rated_voltage * (class_charging - residual_voltage / rated_voltage) ' +
            '* class_duration / class_impedance',
          basis: lineDischarge,
          note: 'energy of the discharges of the test, of which there are two, with the residual voltage of this arrester',
        },
      ],
    },
  },
  checks: {
    charge_rating: {
      criterion: 'Charge against the rating of the class',
      when: isDistribution,
      value: 'charge',
      relation: '<=',
      limit: 'permitted_charge',
      force: 'requirement',
      basis: classes,
      verdictOfWords: { 'no discharge': true },
      remedies: ['Choose a higher duty class, or an arrester of a higher switching residual voltage.'],
    },
    energy_rating: {
      criterion: 'Energy per rated voltage against the class',
      when: `${isStation} or ${isLineDischarge}`,
      value: 'energy_per_rated_voltage',
      relation: '<=',
      limit: 'permitted_energy',
      force: [
        { when: isLineDischarge, force: 'requirement', basis: lineDischarge },
        { force: 'requirement' },
      ],
      basis: classes,
      verdictOfWords: { 'no discharge': true },
      remedies: [
        'Choose a higher class, or parallel columns that are matched to share the current.',
        'Lower the overvoltage at its source: closing resistors, controlled closing, or no fast reclosing on trapped charge.',
      ],
    },
  },
  validity: {
    'class-fits-arrester': {
      requires: `not ${isLineDischarge} or residual_voltage < class_charging * rated_voltage`,
      otherwise: 'error',
      text: 'the residual voltage exceeds the charging voltage of the line discharge test: this class does not fit the arrester',
      basis: lineDischarge,
    },
    'surge-reaches-level': {
      requires: 'not given lightning_energy or 2 * flashover_voltage > lightning_level',
      otherwise: 'error',
      text: 'the lightning surge does not reach the protection level: leave flashover_voltage out',
      basis: lightning,
    },
    'positive-lightning-energy': {
      requires: 'not given lightning_energy or lightning_energy > 0 kJ',
      otherwise: 'error',
      text: 'with so many lines the formula for the lightning energy gives nothing: leave flashover_voltage out',
      basis: lightning,
    },
  },
  cautions: {
    'edition-of-duration': {
      text: 'Editions differ in whether the line feeds the arrester for once or twice its travelling time: the note states which is used.',
      basis: lineEnergy,
    },
    'class-of-older-edition': {
      when: isLineDischarge,
      text: 'Line discharge classes belong to the edition of 2009, which the edition of 2014 replaced by charge and thermal energy; compare arresters within one edition only.',
      basis: lineDischarge,
    },
    'lightning-not-judged': {
      when: 'given lightning_energy',
      text: 'The energy of the lightning surge of {lightning_energy} is given for comparison; it is not part of the check.',
      basis: lightning,
    },
    'distribution-charge': {
      when: isDistribution,
      text: 'Distribution classes are rated in charge. Direct strokes near the arrester may exceed it, whatever the line discharge is.',
      basis: classes,
    },
  },
  limiting: [
    {
      given: 'line_length',
      seek: 'largest',
      meaning: 'longest line that the class stands, all else as it is',
    },
  ],
  evidence: [
    {
      kind: 'independent',
      about: 'line of 200 km at 245 kV, station class of medium duty',
      source:
        'by hand: T = 2 * 200 km / (300 m/µs) = 1333.3 µs; I = (600 - 410) kV / 400 Ω = 475 A; Q = 0.6333 C; W = 259.7 kJ; / 192 kV = 1.352 kJ/kV',
      given: {
        class: 'SM',
        rated_voltage: '192 kV',
        switching_overvoltage: '600 kV',
        residual_voltage: '410 kV',
        line_length: '200 km',
        surge_impedance: '400 ohm',
      },
      expect: {
        charge: { value: '0.6333 C', tolerance: '0.0001 C' },
        energy: { value: '259.7 kJ', tolerance: '0.05 kJ' },
        energy_per_rated_voltage: { value: '1.352 kJ/kV', tolerance: '0.001 kJ/kV' },
        energy_rating: { verdict: 'complies' },
      },
    },
    ...(
      [
        ['1', '0.98'],
        ['2', '2.00'],
        ['3', '2.95'],
        ['4', '4.20'],
        ['5', '5.12'],
      ] as const
    ).map(([number, value]) => ({
      kind: 'memory' as const,
      about: `line discharge class ${number} at twice the rated voltage: ${value} kJ/kV`,
      source: 'IEC 60099-4:2009, diagram of specific energy against residual voltage (from memory)',
      given: { ...line, class: `line-discharge-${number}` },
      expect: { permitted_energy: { value: `${value} kJ/kV`, tolerance: '0.005 kJ/kV' } },
    })),
    {
      kind: 'memory',
      about: 'a distribution class of high duty is rated in charge: 1.1 C',
      source: 'IEC 60099-4:2014 (from memory)',
      given: { ...line, class: 'DH' },
      expect: {
        permitted_charge: { value: '1.1 C', tolerance: '0 C' },
        charge_rating: { verdict: 'complies' },
      },
    },
    {
      kind: 'independent',
      about: 'lightning surge limited by line insulation of 1500 kV on an arrester of 300 kV',
      source: 'by hand: (3000 - 300 * (1 + ln 10)) kV = 2009.2 kV; * 300 kV * 300 µs / 400 Ω = 452.1 kJ',
      given: { ...line, class: 'SM', flashover_voltage: '1500 kV', lightning_level: '300 kV' },
      expect: { lightning_energy: { value: '452.1 kJ', tolerance: '0.1 kJ' } },
    },
    {
      kind: 'limiting-case',
      about: 'a line charged below the residual voltage discharges nothing',
      source: 'the arrester does not conduct',
      given: { ...line, class: 'SH', switching_overvoltage: '30 kV' },
      expect: { charge: { words: 'no discharge' }, energy_rating: { verdict: 'complies' } },
    },
  ],
});

function ldValues(...values: readonly [string, string, string, string, string]): Record<string, string> {
  return Object.fromEntries(values.map((value, i) => [`line-discharge-${i + 1}`, value]));
}
