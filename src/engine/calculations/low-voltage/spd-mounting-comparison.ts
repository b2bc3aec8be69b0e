import { cite, commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { SolverStep, SolverValues } from '../../definition/definition.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { printValue } from '../../definition/print-value.ts';
import { drawChart } from '../../figures/chart.ts';
import { peakOfMountedDevice } from '../../physics/mounted-surge-voltage.ts';
import { type ResidualPoint, residualByExponent, residualByTable } from '../../physics/residual-curve.ts';
import { nominalFrontTime, type SurgeShape, unitSurgeProperties } from '../../physics/surge-shapes.ts';
import { USUAL } from '../../tables/usual-ranges.ts';
import { evidenceOfLeads } from './spd-mounting-comparison-evidence.ts';

const level = recall('iec-62305-4-2010', 'Annex C, effective protection level');
const inductiveDrop = cite('lead-length-bulletin', '1 µH for each metre of lead');
const residualBasis = commonPractice('characteristic of a varistor, linear in the logarithms');

const SURGE_CURRENT = USUAL.surgeCurrent;

type Mounting = 'rail' | 'busbar';

function residualOf(values: SolverValues): (current: number) => number {
  if (!values.has('residual_voltages.current')) {
    // Its absence is a fault that the limits of validity report.
    if (!values.has('protection_level') || !values.has('nominal_current')) return () => Number.NaN;
    const point = { current: values.number('nominal_current'), voltage: values.number('protection_level') };
    return residualByExponent(point, values.number('exponent'));
  }
  const voltages = values.list('residual_voltages.voltage');
  const points = values
    .list('residual_voltages.current')
    .map((current, i): ResidualPoint => ({ current, voltage: voltages[i]! }));
  return residualByTable(points);
}

/** Below the least current of a table its voltage there serves as an upper bound. */
function residualOnTheWay(values: SolverValues): (current: number) => number {
  const residual = residualOf(values);
  if (!values.has('residual_voltages.current')) return residual;
  const least = Math.min(...values.list('residual_voltages.current'));
  return (current) => residual(Math.max(current, least));
}

/** Voltage at the terminals for one peak current, SI. */
function terminalVoltage(values: SolverValues, mounting: Mounting, current: number): number {
  const inductance = values.number(`${mounting}_inductance`);
  if (values.choice('slope') === 'time-course') return peakOverCourse(values, mounting, current);
  return residualOf(values)(current) + inductance * values.number('relative_slope') * current;
}

const NEEDS = ['currents', 'waveform', 'slope', 'rail_inductance', 'busbar_inductance', 'relative_slope'];
const MAY_USE = ['protection_level', 'nominal_current', 'exponent', 'residual_voltages'];

function peakOverCourse(values: SolverValues, mounting: Mounting, current: number): number {
  const shape = values.choice('waveform') as SurgeShape;
  const inductance = values.number(`${mounting}_inductance`);
  return peakOfMountedDevice(shape, current, inductance, residualOnTheWay(values));
}

function listStep(
  wording: Pick<SolverStep, 'symbol' | 'meaning' | 'method' | 'basis'>,
  one: (values: SolverValues, current: number) => number,
): SolverStep {
  return {
    ...wording,
    unit: 'kV',
    voltage: { measure: 'peak' },
    needs: NEEDS,
    mayUse: MAY_USE,
    solve: (values) => values.list('currents').map((current) => one(values, current)),
    gives: 'list',
  };
}

/** The same SPD on a rail with its leads and directly on the bus-bar: what reaches the equipment. */
export const spdMountingComparison = defineCalculation({
  name: 'spd-mounting-comparison',
  title: 'Mounting of a surge protective device',
  purpose:
    'Compares the voltage that reaches the equipment when a surge protective device (SPD) is mounted on a rail and ' +
    'connected by leads with the voltage when it is mounted directly on the bus-bar, over a range of surge currents.',
  answers: [
    'By how much does an SPD on the bus-bars protect better than one on a rail with leads?',
    'How much do the leads add at each surge current?',
  ],
  example: `
    id: board-mounting
    title: SPD on the rail against SPD on the bus-bars
    given:
      protection_level: { value: 1.5 kV, source: "data sheet of the SPD, at 20 kA" }
      nominal_current: { value: 20 kA, source: "data sheet of the SPD" }
      exponent: { value: 0.1, source: "fitted to the residual voltages of the test report" }
      currents: [5 kA, 10 kA, 20 kA]
      rail_lead: { value: 0.9 m, source: "measured on site" }
      busbar_lead: { value: 0.05 m, source: "drawing of the bus-bar chamber" }
      target_level: { value: 2.5 kV, source: "impulse withstand of the equipment" }
      mounting: rail
  `,
  givens: {
    protection_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{p}',
      meaning: 'voltage protection level of the SPD at its nominal discharge current',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.spdLevel,
    },
    nominal_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{n}',
      meaning: 'nominal discharge current of the SPD',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: SURGE_CURRENT,
    },
    exponent: {
      type: 'quantity',
      symbol: 'a',
      meaning: 'exponent of the power of the current with which the residual voltage rises',
      unit: '1',
      permitted: { from: '0', to: '1' },
      usual: {
        from: '0.03',
        to: '0.3',
        because: 'varistors rise with an exponent of some 0.05 to 0.2 at kiloamperes',
      },
      typical: [{ value: '0.1', for: 'a varistor above some kiloamperes', basis: commonPractice() }],
    },
    residual_voltages: {
      type: 'rows',
      meaning: 'residual voltages of the SPD by its test report',
      least: 2,
      columns: {
        current: {
          type: 'quantity',
          symbol: 'I_j',
          meaning: 'peak current of the test',
          unit: 'kA',
          voltage: { measure: 'peak' },
          permitted: { above: '0 kA' },
          usual: SURGE_CURRENT,
        },
        voltage: {
          type: 'quantity',
          symbol: 'U_{\\mathrm{res},j}',
          meaning: 'residual voltage at this current',
          unit: 'kV',
          voltage: { measure: 'peak' },
          permitted: { above: '0 kV' },
          usual: USUAL.spdLevel,
        },
      },
    },
    currents: {
      type: 'list',
      symbol: 'I_i',
      meaning: 'peak surge currents to compare at',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: SURGE_CURRENT,
      least: 1,
    },
    waveform: {
      type: 'choice',
      symbol: '\\text{waveform}',
      meaning: 'waveform of the surge current',
      options: {
        '8/20': 'impulse 8/20 µs without undershoot, A t³ exp(−t/τ)',
        '8/20-damped': 'impulse 8/20 µs of a generator circuit, a damped sine',
        '10/350': 'first positive stroke 10/350 µs',
        '1/200': 'first negative stroke 1/200 µs',
        '0.25/100': 'subsequent stroke 0.25/100 µs',
      },
      default: {
        value: '8/20',
        basis: commonPractice('the waveform at which the protection level is measured'),
      },
    },
    slope: {
      type: 'choice',
      symbol: '\\text{slope}',
      meaning: 'slope of the current used for the lead drop',
      options: {
        mean: 'mean slope of the front: peak over front time',
        maximum: 'largest slope of the waveform, added to the residual voltage at the crest: an upper bound',
        'time-course': 'largest sum of residual voltage and lead drop over the course of the surge',
      },
      default: { value: 'maximum', basis: commonPractice('the safe side') },
    },
    rail_lead: {
      type: 'quantity',
      symbol: '\\ell_\\mathrm{r}',
      meaning: 'length of all leads of the SPD on the rail, to line and to earth bar',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: USUAL.spdLead,
    },
    busbar_lead: {
      type: 'quantity',
      symbol: '\\ell_\\mathrm{b}',
      meaning: 'length of all leads of the SPD on the bus-bar',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: USUAL.spdLead,
      default: { value: '0 m', basis: commonPractice('terminals directly on line and earth bar') },
    },
    lead_inductance: {
      type: 'quantity',
      symbol: "L'",
      meaning: 'inductance of the leads per length',
      unit: 'uH/m',
      permitted: { above: '0 uH/m' },
      usual: {
        from: '0.3 uH/m',
        to: '2 uH/m',
        because: 'a single lead has 1.0 to 1.5 µH/m, closely laid pairs a third of it',
      },
      default: { value: '1 uH/m', basis: inductiveDrop },
    },
    target_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{t}',
      meaning: 'highest permitted voltage at the equipment',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.spdLevel,
    },
    mounting: {
      type: 'choice',
      symbol: '\\text{mounting}',
      meaning: 'mounting that is judged against the target',
      options: { rail: 'on the rail, with its leads', busbar: 'directly on the bus-bar' },
      default: {
        value: 'rail',
        basis: commonPractice('the usual mounting, and the less favourable one'),
      },
    },
    observed_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{x}',
      meaning: 'reported voltage with the SPD on a rail, to be explained',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.spdLevel,
      typical: [
        {
          value: '8 kV',
          for: 'a rule-of-thumb value from practice, for 20 kA with about half a metre of lead',
          basis: commonPractice(),
        },
      ],
    },
    observed_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{x}',
      meaning: 'surge current at which it is reported',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: SURGE_CURRENT,
    },
  },
  alternatives: [{ oneOf: ['exponent', 'residual_voltages'] }],
  steps: {
    rail_inductance: {
      symbol: 'L_\\mathrm{r}',
      meaning: 'inductance of the leads on the rail',
      unit: 'uH',
      basis: inductiveDrop,
      formula: 'lead_inductance * rail_lead',
    },
    busbar_inductance: {
      symbol: 'L_\\mathrm{b}',
      meaning: 'inductance of the leads on the bus-bar',
      unit: 'uH',
      basis: inductiveDrop,
      formula: 'lead_inductance * busbar_lead',
    },
    relative_slope: {
      symbol: "s'",
      meaning: 'slope of the current, per unit of its peak',
      unit: '1/us',
      basis: commonPractice('mean slope 1/T1, or the largest of the function'),
      needs: ['waveform', 'slope'],
      solve: (values) => {
        const shape = values.choice('waveform') as SurgeShape;
        return values.choice('slope') === 'mean'
          ? 1 / nominalFrontTime(shape)
          : unitSurgeProperties(shape).maximumSteepness;
      },
      method: 'from the waveform: its mean slope, or the largest one, found numerically',
    },
    residuals: listStep(
      {
        symbol: 'U_{\\mathrm{res},i}',
        meaning: 'residual voltage of the SPD itself at each current',
        method: 'by the power law through the nominal current, or from the table, linear in the logarithms',
        basis: residualBasis,
      },
      (values, current) => residualOf(values)(current),
    ),
    rail_voltages: listStep(
      {
        symbol: 'U_{\\mathrm{r},i}',
        meaning: 'voltage at the terminals with the SPD on the rail, at each current',
        method: 'residual voltage and lead drop, with the chosen slope',
        basis: level,
      },
      (values, current) => terminalVoltage(values, 'rail', current),
    ),
    busbar_voltages: listStep(
      {
        symbol: 'U_{\\mathrm{b},i}',
        meaning: 'voltage at the terminals with the SPD on the bus-bar, at each current',
        method: 'residual voltage and lead drop, with the chosen slope',
        basis: level,
      },
      (values, current) => terminalVoltage(values, 'busbar', current),
    ),
    rail_drops: listStep(
      {
        symbol: '\\Delta U_{\\mathrm{r},i}',
        meaning: 'part that the leads on the rail add, at each current',
        method: 'voltage at the terminals less the residual voltage',
        basis: inductiveDrop,
      },
      (values, current) => terminalVoltage(values, 'rail', current) - residualOf(values)(current),
    ),
    busbar_drops: listStep(
      {
        symbol: '\\Delta U_{\\mathrm{b},i}',
        meaning: 'part that the leads on the bus-bar add, at each current',
        method: 'voltage at the terminals less the residual voltage',
        basis: inductiveDrop,
      },
      (values, current) => terminalVoltage(values, 'busbar', current) - residualOf(values)(current),
    ),
    judged_voltage: {
      symbol: 'U_\\mathrm{max}',
      meaning: 'largest voltage with the mounting that is judged',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: level,
      variants: [
        { when: 'mounting is busbar', formula: 'max(busbar_voltages)' },
        { formula: 'max(rail_voltages)' },
      ],
    },
    course_voltage: {
      symbol: "U_\\mathrm{max}'",
      meaning:
        'largest voltage over the course of the surge with that mounting, whose slope is not the mean one',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: level,
      when: 'slope is mean',
      needs: NEEDS,
      mayUse: [...MAY_USE, 'mounting'],
      says: ['outside the table of residual voltages'],
      solve: (values) => {
        const mounting = values.choice('mounting') as Mounting;
        const peaks = values.list('currents').map((current) => peakOverCourse(values, mounting, current));
        // Without a table it is the characteristic that lacks a part, which is a fault and no verdict.
        return peaks.some(Number.isNaN) && values.has('residual_voltages.current')
          ? { words: 'outside the table of residual voltages' }
          : Math.max(...peaks);
      },
      method:
        'largest sum of residual voltage and lead drop over the course of the surge, at any of the currents',
    },
    unexplained_voltage: {
      symbol: '\\Delta U_\\mathrm{x}',
      meaning: 'part of the observed voltage that the SPD itself does not account for',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: residualBasis,
      optional: true,
      needs: ['observed_voltage', 'observed_current'],
      mayUse: MAY_USE,
      says: ['outside the table of residual voltages'],
      solve: (values) => {
        const own = residualOf(values)(values.number('observed_current'));
        if (Number.isNaN(own)) return { words: 'outside the table of residual voltages' };
        return Math.max(0, values.number('observed_voltage') - own);
      },
      method: 'observed voltage less the residual voltage at that current',
    },
    explaining_inductance: {
      symbol: 'L_\\mathrm{x}',
      meaning: 'loop inductance that would explain the observed voltage at this slope',
      unit: 'uH',
      basis: derivation('voltage over slope of the current'),
      optional: true,
      formula: 'unexplained_voltage / (relative_slope * observed_current)',
    },
    explaining_front: {
      symbol: 'T_\\mathrm{x}',
      meaning: 'front of the current that would explain it with the leads as they are',
      unit: 'us',
      basis: derivation('inductance times current over voltage'),
      optional: true,
      words: [
        { when: 'unexplained_voltage = 0 kV', says: 'nothing to explain' },
        { when: 'rail_lead = 0 m', says: 'no front: there are no leads' },
      ],
      formula: 'rail_inductance * observed_current / unexplained_voltage',
    },
  },
  checks: {
    target: {
      criterion: 'Voltage at the terminals against the target level',
      value: 'judged_voltage',
      relation: '<=',
      limit: 'target_level',
      competing: [{ meaning: 'the largest voltage over the course of the surge', value: 'course_voltage' }],
      force: 'requirement',
      basis: commonPractice('the target is set by the equipment and its margin'),
      remedies: [
        {
          when: 'mounting is rail',
          text: 'Mount the SPD on the bus-bar, or install a local earth bar next to it, connected to the existing one, so that the leads become short.',
        },
        {
          when: 'mounting is rail',
          text: 'Loop the line through the terminals of the SPD (through wiring), where its terminals are rated for the circuit.',
        },
        {
          when: 'mounting is rail or busbar_lead > 0 m',
          text: 'Lay the leads of the SPD close together and as straight as possible; a thicker lead hardly helps.',
        },
        'Add a second SPD at the equipment, coordinated with this one.',
        'Use an SPD with a lower residual voltage at the same discharge current.',
      ],
    },
  },
  validity: {
    'within-residual-table': {
      requires:
        'not given residual_voltages.current or min(currents) >= min(residual_voltages.current) and max(currents) <= max(residual_voltages.current)',
      otherwise: 'error',
      text: 'the currents must be within the table of residual voltages, which is not extrapolated',
      basis: residualBasis,
    },
    'beyond-exponent': {
      requires: 'not given exponent or max(currents) <= 3 * nominal_current',
      otherwise: 'caution',
      text: 'beyond three times the nominal discharge current the exponent may no longer apply, and the device may be overloaded',
      basis: residualBasis,
    },
    'point-of-characteristic': {
      requires: 'not given exponent or (given protection_level and given nominal_current)',
      otherwise: 'error',
      text: 'the exponent needs one point of the characteristic: protection_level and nominal_current',
      basis: residualBasis,
    },
  },
  cautions: {
    'sum-of-peaks': {
      when: 'slope is maximum',
      text: 'The current is steepest well before its crest, where the residual voltage is highest: their sum is an upper bound.',
      basis: inductiveDrop,
    },
    'mean-slope': {
      when: 'slope is mean',
      text: 'The voltages of the list are based on the mean slope of the front; at its steepest the current rises faster. A target is judged on the course of the surge as well.',
    },
    'explained-by': {
      when: 'given observed_voltage and given observed_current and unexplained_voltage > 0 kV and rail_lead > 0 m',
      text: 'A voltage of {observed_voltage} at {observed_current} would need a loop inductance of {explaining_inductance} at this slope, or with the leads as they are a current that rises linearly within {explaining_front}.',
    },
    'explained-without-leads': {
      when: 'given observed_voltage and given observed_current and unexplained_voltage > 0 kV and rail_lead = 0 m',
      text: 'A voltage of {observed_voltage} at {observed_current} would need a loop inductance of {explaining_inductance} at this slope; without leads no front of the current explains it.',
    },
    'nothing-to-explain': {
      when: 'given observed_voltage and given observed_current and unexplained_voltage = 0 kV',
      text: 'A voltage of {observed_voltage} at {observed_current} does not exceed the residual voltage of the SPD itself: the leads have nothing to explain.',
    },
    'one-kv-per-metre': {
      text: 'The convention of 1 kV per metre of lead, which wiring rules use, corresponds to about 1 kA/µs; it is not used here.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'rail_lead',
      seek: 'largest',
      meaning: 'longest leads on the rail with which the target is met',
      when: 'mounting is rail',
    },
  ],
  figure: {
    caption: 'Voltage at the terminals against surge current, on the rail and on the bus-bar',
    draw: drawComparison,
  },
  evidence: evidenceOfLeads(),
});

const POINTS = 40;

function drawComparison(view: FigureView): string {
  const currents = [...view.list('currents')].sort((one, other) => one - other);
  const [least, most] = [currents[0]!, currents.at(-1)!];
  const shown = Array.from({ length: POINTS + 1 }, (_, i) => least + ((most - least) * i) / POINTS);
  const curve = (mounting: Mounting) =>
    shown.map((current) => ({ x: current, y: terminalVoltage(view, mounting, current) }));
  const target = view.optionalNumber('target_level');
  return drawChart({
    title: `Voltage at the terminals against surge current: at ${printValue(most, 'kA')} ${printValue(terminalVoltage(view, 'rail', most), 'kV')} on the rail and ${printValue(terminalVoltage(view, 'busbar', most), 'kV')} on the bus-bar`,
    x: { label: 'Peak surge current in kA', unitSize: 1e3 },
    y: { label: 'Voltage at the terminals in kV', unitSize: 1e3, from: 0 },
    curves: [
      { label: 'on the rail', points: curve('rail') },
      { label: 'on the bus-bar', points: curve('busbar') },
    ],
    ...(target === undefined
      ? {}
      : {
          limits: [
            { value: target, label: `target ${view.shown('target_level')}`, forbidden: 'above' as const },
          ],
        }),
  });
}
