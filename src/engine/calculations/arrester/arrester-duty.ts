import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { USUAL } from '../../tables/usual-ranges.ts';
import { dutyEvidence } from './arrester-duty-evidence.ts';

const lineEnergy = recall('iec-60099-5-2018', 'energy and charge when a line is discharged');
const classes = recall('iec-60099-4-2014', 'classification of arresters, thermal ratings');
const lineDischarge = recall('iec-60099-4-2009', 'line discharge classes');
const lightning = recall('iec-60099-5-2018', 'energy of lightning surges on a line');

const isDistribution = '(class is DL or class is DM or class is DH)';
const isStation = '(class is SL or class is SM or class is SH)';
const isLineDischarge =
  '(class is line-discharge-1 or class is line-discharge-2 or class is line-discharge-3 or class is line-discharge-4 or class is line-discharge-5)';

const LIGHTNING_CHARGE = { meaning: 'the charge of the lightning surge', value: 'lightning_charge' };

const LOWER_STRESS = [
  {
    when: 'not given lightning_charge or charge >= lightning_charge',
    text: 'Lower the switching overvoltage at its source: closing resistors, controlled closing, or no fast reclosing on trapped charge.',
  },
  {
    when: 'given lightning_charge and (not given charge or lightning_charge >= charge)',
    text: 'Limit the incoming lightning surges: earth wires over the last spans, with low earthing resistances of their towers.',
  },
];

/** Energy and charge that an arrester takes, against what its class withstands. */
export const arresterDuty = defineCalculation({
  name: 'arrester-duty',
  title: 'Energy and charge of a surge arrester',
  purpose:
    'Finds energy and charge that an arrester takes when a charged line is discharged through it, or from a lightning ' +
    'surge that the insulation of the line limits, and sets them against the ratings of its class: the repetitive charge, ' +
    'and the thermal charge of distribution classes or the energy of station classes and line discharge classes.',
  answers: [
    'Which energy and charge does the arrester absorb when a line is switched?',
    'Which class of arrester is needed?',
  ],
  example: `
    id: line-arrester-duty
    title: Switching duty of the 132 kV line arresters
    given:
      class: SL
      rated_voltage: { value: 132 kV, source: "data sheet of the arrester" }
      switching_overvoltage: { value: 300 kV, source: "study of the energisation" }
      residual_voltage: { value: 264 kV, source: "data sheet of the arrester, 30/60" }
      line_length: { value: 30 km, source: "route plan" }
      surge_impedance: { value: 400 ohm, source: "single conductor" }
      operations: 1
  `,
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
      usual: USUAL.arresterRating,
    },
    switching_overvoltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{e}',
      meaning: 'overvoltage to which the line is charged, without the arrester',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
    residual_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{ps}',
      meaning: 'residual voltage of the arrester at switching impulse current',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
    line_length: {
      type: 'quantity',
      symbol: '\\ell',
      meaning: 'length of the line',
      unit: 'km',
      permitted: { above: '0 km' },
      usual: {
        from: '0.1 km',
        to: '1000 km',
        because: 'lines between stations measure some hundred metres to some hundred kilometres',
      },
    },
    surge_impedance: {
      type: 'quantity',
      symbol: 'Z',
      meaning: 'surge impedance of the line',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: USUAL.surgeImpedance,
    },
    velocity: {
      type: 'quantity',
      symbol: 'c',
      meaning: 'velocity of waves on the line',
      unit: 'm/us',
      permitted: { above: '0 m/us', to: '300 m/us' },
      usual: USUAL.waveVelocity,
      default: { value: '300 m/us', basis: commonPractice('overhead line') },
    },
    operations: {
      type: 'quantity',
      symbol: 'n',
      meaning: 'number of operations in quick succession',
      unit: '1',
      whole: true,
      permitted: { from: '1' },
      usual: { to: '4', because: 'reclosing gives two operations in quick succession, seldom more' },
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
      usual: {
        from: '30 kV',
        to: '6000 kV',
        because: 'line insulation flashes over at some 50 kV to 5000 kV',
      },
    },
    lightning_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{pl}',
      meaning: 'lightning impulse protection level of the arrester',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
    lines: {
      type: 'quantity',
      symbol: 'N',
      meaning: 'number of lines connected to the arrester',
      unit: '1',
      whole: true,
      permitted: { from: '1' },
      usual: { to: '12', because: 'stations have some lines, seldom more than a dozen' },
      default: { value: '1', basis: commonPractice('a single line, the severest case') },
    },
  },
  steps: {
    duration: {
      symbol: 'T_\\mathrm{w}',
      meaning: 'time during which the line feeds the arrester',
      unit: 'us',
      basis: lineEnergy,
      formula: '2 * line_length / velocity',
      note: 'twice the travelling time: the wave runs to the far end and back',
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
    lightning_energy_per_rated_voltage: {
      symbol: "W'_\\mathrm{l}",
      meaning: 'energy of the lightning surge per rated voltage',
      unit: 'kJ/kV',
      basis: lightning,
      optional: true,
      formula: 'lightning_energy / rated_voltage',
    },
    lightning_charge: {
      symbol: 'Q_\\mathrm{l}',
      meaning: 'charge of the lightning surge',
      unit: 'C',
      basis: derivation('energy over the voltage at which it is taken'),
      optional: true,
      formula: 'lightning_energy / lightning_level',
    },
    repetitive_charge: {
      symbol: 'Q_\\mathrm{rs}',
      meaning: 'repetitive charge transfer rating of the class',
      unit: 'C',
      basis: classes,
      when: `${isDistribution} or ${isStation}`,
      table: {
        by: ['class'],
        values: { DL: '0.1 C', DM: '0.2 C', DH: '0.4 C', SL: '1.0 C', SM: '1.6 C', SH: '2.4 C' },
      },
      note: 'minimum of the class; a type may be rated higher',
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
      meaning: 'energy per rated voltage that the class withstands',
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
          acrossKinds: 'the test counts voltages (peak) per rated voltage (r.m.s.)',
          note: 'energy of the discharges of the test, of which there are two, with the residual voltage of this arrester',
        },
      ],
    },
  },
  checks: {
    repetitive_charge: {
      criterion: 'Charge against the repetitive charge transfer rating of the class',
      when: `${isDistribution} or ${isStation}`,
      value: 'charge',
      relation: '<=',
      limit: 'repetitive_charge',
      competing: [LIGHTNING_CHARGE],
      force: 'requirement',
      basis: classes,
      verdictOfWords: { 'no discharge': true },
      remedies: [
        {
          when: 'not class is SH',
          text: 'Choose a higher class, or a type whose repetitive charge transfer rating the manufacturer states above that of its class.',
        },
        {
          when: 'class is SH',
          text: 'No higher class exists: choose a type whose repetitive charge transfer rating the manufacturer states above that of class SH.',
        },
        ...LOWER_STRESS,
      ],
    },
    charge_rating: {
      criterion: 'Charge against the thermal charge transfer rating of the class',
      when: isDistribution,
      value: 'charge',
      relation: '<=',
      limit: 'permitted_charge',
      competing: [LIGHTNING_CHARGE],
      force: 'requirement',
      basis: classes,
      verdictOfWords: { 'no discharge': true },
      remedies: [
        { when: 'not class is DH', text: 'Choose a higher duty class.' },
        { when: 'class is DH', text: 'Choose a station class: no distribution class has a higher duty.' },
        ...LOWER_STRESS,
      ],
    },
    energy_rating: {
      criterion: 'Energy per rated voltage against the class',
      when: `${isStation} or ${isLineDischarge}`,
      value: 'energy_per_rated_voltage',
      relation: '<=',
      limit: 'permitted_energy',
      competing: [
        { meaning: 'the energy of the lightning surge', value: 'lightning_energy_per_rated_voltage' },
      ],
      force: [
        { when: isLineDischarge, force: 'requirement', basis: lineDischarge },
        { force: 'requirement' },
      ],
      basis: classes,
      verdictOfWords: { 'no discharge': true },
      remedies: [
        {
          when: 'not class is SH and not class is line-discharge-5',
          text: 'Choose a higher class, or parallel columns that are matched to share the current.',
        },
        {
          when: 'class is SH or class is line-discharge-5',
          text: 'No higher class exists: choose parallel columns that are matched to share the current, or a type with a higher energy rating of the manufacturer.',
        },
        ...LOWER_STRESS,
      ],
    },
  },
  validity: {
    'class-fits-arrester': {
      requires: `not ${isLineDischarge} or residual_voltage < class_charging * rated_voltage`,
      otherwise: 'error',
      acrossKinds: 'the charging voltage (peak) of the test counts per rated voltage (r.m.s.)',
      text: 'the residual voltage exceeds the charging voltage of the line discharge test: this class does not fit the arrester',
      basis: lineDischarge,
    },
    'residual-of-rating': {
      requires: 'residual_voltage >= 1.5 * rated_voltage and residual_voltage <= 4 * rated_voltage',
      acrossKinds: 'residual voltages (peak) are usually counted per rated voltage (r.m.s.)',
      otherwise: 'caution',
      text: 'the switching residual voltage of metal-oxide arresters is about twice the rated voltage (peak to r.m.s.), and between 1.5 and 4 times',
      basis: commonPractice('metal-oxide arresters'),
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
      text: 'with so many lines the formula for the lightning energy gives no positive value: leave flashover_voltage out',
      basis: lightning,
    },
  },
  cautions: {
    'class-of-older-edition': {
      when: isLineDischarge,
      text: 'Line discharge classes belong to the edition of 2009, which the edition of 2014 replaced by charge and thermal energy; compare arresters within one edition only.',
      basis: lineDischarge,
    },
    'no-lightning-surge': {
      when: 'not given lightning_energy',
      text: 'Only the discharge of a charged line is judged. For the energy and charge of lightning surges, the flashover voltage of the line insulation and the protection level at lightning currents must be given.',
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
      meaning: 'longest line for which the class suffices, other values unchanged',
    },
  ],
  evidence: dutyEvidence,
});

function ldValues(...values: readonly [string, string, string, string, string]): Record<string, string> {
  return Object.fromEntries(values.map((value, i) => [`line-discharge-${i + 1}`, value]));
}
