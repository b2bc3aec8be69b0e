import { type Basis, commonPractice, derivation, quote, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { SolverStep, SolverValues, TableStep } from '../../definition/definition.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { drawChart } from '../../figures/chart.ts';
import {
  type HeidlerConstants,
  type LightningStroke,
  lightningStroke,
  lightningStrokes,
} from '../../physics/heidler.ts';
import { unitSurgeProperties } from '../../physics/surge-shapes.ts';
import type { WaveformProperties } from '../../physics/waveform-properties.ts';
import {
  firstStrokeCharge,
  firstStrokeEnergy,
  protectionLevel,
  strokePeaks,
} from '../../tables/protection-level.ts';
import { lightningParametersEvidence } from './lightning-parameters-evidence.ts';

const levelTable = recall('iec-62305-1-2010', 'Table 3');
const heidlerFunction = recall('iec-62305-1-2010', 'Annex B');

const SHAPES: Readonly<Record<string, LightningStroke>> = {
  'first-positive': '10/350',
  'first-negative': '1/200',
  subsequent: '0.25/100',
};

function shapeOf(values: SolverValues): LightningStroke {
  return SHAPES[values.choice('stroke')]!;
}

/** A step that reads one property of the stroke's function, scaled with a power of the peak. */
function fromFunction(
  wording: Pick<SolverStep, 'symbol' | 'meaning' | 'unit' | 'voltage'>,
  read: (properties: WaveformProperties) => number,
  power: 0 | 1 | 2,
): SolverStep {
  return {
    ...wording,
    basis: heidlerFunction,
    needs: ['stroke', 'peak'],
    solve: (values) => read(unitSurgeProperties(shapeOf(values))) * values.number('peak') ** power,
    method: 'found numerically from the function of the stroke',
  };
}

function byStroke(
  wording: Pick<TableStep, 'symbol' | 'meaning' | 'unit'> & Partial<Pick<TableStep, 'digits'>>,
  basis: Basis,
  values: readonly [firstPositive: string, firstNegative: string, subsequent: string],
): TableStep {
  const [firstPositive, firstNegative, subsequent] = values;
  return {
    ...wording,
    basis,
    table: {
      by: ['stroke'],
      values: { 'first-positive': firstPositive, 'first-negative': firstNegative, subsequent },
    },
  };
}

/** A constant of the function for each stroke, written as a quantity. */
function constantByStroke(
  wording: Pick<TableStep, 'symbol' | 'meaning' | 'unit'>,
  write: (constants: Required<HeidlerConstants>) => string,
): TableStep {
  const values = Object.entries(SHAPES).map(([stroke, shape]) => [stroke, write(lightningStrokes[shape])]);
  return {
    ...wording,
    basis: heidlerFunction,
    table: { by: ['stroke'], values: Object.fromEntries(values) },
  };
}

function microseconds(seconds: number): string {
  return `${Number((seconds * 1e6).toPrecision(6))} us`;
}

/** Parameters of a lightning stroke for a protection level, from the table and from its function. */
export const lightningParameters = defineCalculation({
  name: 'lightning-parameters',
  title: 'Parameters of a lightning stroke',
  purpose:
    'Gives the maximum parameters of a protection level for one kind of stroke, and the function of ' +
    'time that represents it, with front, tail, charge, specific energy and steepness found from that function.',
  answers: ['What are the peak current, charge and specific energy of a stroke for a class of protection?'],
  example: `
    id: stroke-class-2
    title: Parameters of the first stroke, class II
    given:
      lpl: II
      stroke: first-positive
  `,
  givens: {
    lpl: protectionLevel,
    stroke: {
      type: 'choice',
      symbol: '\\text{stroke}',
      meaning: 'kind of stroke',
      options: {
        'first-positive': 'first positive stroke, 10/350 µs: sets charge and heating',
        'first-negative':
          'first negative stroke, 1/200 µs: for calculations only, in the edition of 2010 and later',
        subsequent: 'subsequent stroke, 0.25/100 µs: sets the steepness',
      },
      default: {
        value: 'first-positive',
        basis: commonPractice('the stroke for which components are rated'),
      },
    },
    share: {
      type: 'quantity',
      symbol: 'k',
      meaning: 'share of the lightning current in the path considered',
      unit: '1',
      permitted: { above: '0', to: '1' },
      usual: { from: '0.01', because: 'even a dense cage leaves hundredths to each conductor' },
      default: { value: '1', basis: commonPractice('the whole current') },
    },
  },
  steps: {
    level_peak: {
      symbol: 'I_\\mathrm{LPL}',
      meaning: 'largest peak current of the level',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: strokePeaks.basis,
      table: {
        by: ['stroke', 'lpl'],
        values: strokePeaks.values,
      },
    },
    peak: {
      symbol: 'I',
      meaning: 'peak current in the path considered',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: quote('iec-62305-1-2010', 'D.1 to D.4', 'gb-t-21714-1-2015', 'extract of Annex D'),
      formula: 'share * level_peak',
    },
    nominal_charge: {
      symbol: 'Q_\\mathrm{LPL}',
      meaning: 'charge of the stroke by the table',
      unit: 'C',
      basis: firstStrokeCharge.basis,
      when: 'stroke is first-positive',
      table: { by: ['lpl'], values: firstStrokeCharge.values },
    },
    nominal_energy: {
      symbol: '(W/R)_\\mathrm{LPL}',
      meaning: 'specific energy of the stroke by the table',
      unit: 'MJ/ohm',
      basis: firstStrokeEnergy.basis,
      when: 'stroke is first-positive',
      table: { by: ['lpl'], values: firstStrokeEnergy.values },
    },
    long_stroke_charge: {
      symbol: 'Q_\\mathrm{long}',
      meaning: 'charge of the long stroke that may follow, over 0.5 s',
      unit: 'C',
      basis: levelTable,
      when: 'stroke is first-positive',
      table: { by: ['lpl'], values: { I: '200 C', II: '150 C', III: '100 C', IV: '100 C' } },
    },
    nominal_front: byStroke(
      { symbol: 'T_1', meaning: 'nominal front time', unit: 'us', digits: 2 },
      levelTable,
      ['10 us', '1 us', '0.25 us'],
    ),
    nominal_tail: byStroke({ symbol: 'T_2', meaning: 'nominal time to half value', unit: 'us' }, levelTable, [
      '350 us',
      '200 us',
      '100 us',
    ]),
    correction: constantByStroke(
      { symbol: '\\eta', meaning: 'factor that corrects the peak of the function', unit: '1' },
      ({ correction }) => `${correction}`,
    ),
    front_constant: constantByStroke(
      { symbol: '\\tau_1', meaning: 'time constant of the front', unit: 'us' },
      ({ frontConstant }) => microseconds(frontConstant),
    ),
    tail_constant: constantByStroke(
      { symbol: '\\tau_2', meaning: 'time constant of the tail', unit: 'us' },
      ({ tailConstant }) => microseconds(tailConstant),
    ),
    steepness: {
      symbol: 'I/T_1',
      meaning: 'mean steepness of the front',
      unit: 'kA/us',
      basis: levelTable,
      formula: 'peak / nominal_front',
      note: 'peak over front time: the value for which lead drops are mostly stated',
    },
    maximum_steepness: fromFunction(
      {
        symbol: '(\\mathrm{d}i/\\mathrm{d}t)_\\mathrm{max}',
        meaning: 'largest steepness, at one instant of the front',
        unit: 'kA/us',
      },
      (properties) => properties.maximumSteepness,
      1,
    ),
    front_time: fromFunction(
      { symbol: 'T_{1,i}', meaning: 'front time of the function, 1.25 (t90 − t10)', unit: 'us' },
      (properties) => properties.frontTime!,
      0,
    ),
    half_value_time: fromFunction(
      {
        symbol: 'T_{2,i}',
        meaning: 'time to half value of the function, from its virtual origin',
        unit: 'us',
      },
      (properties) => properties.halfValueTime!,
      0,
    ),
    function_peak: fromFunction(
      { symbol: '\\hat{\\imath}', meaning: 'peak of the function', unit: 'kA', voltage: { measure: 'peak' } },
      (properties) => properties.peak,
      1,
    ),
    charge: fromFunction(
      { symbol: 'Q', meaning: 'charge of the function', unit: 'C' },
      (properties) => properties.charge,
      1,
    ),
    specific_energy: fromFunction(
      { symbol: 'W/R', meaning: 'specific energy of the function', unit: 'MJ/ohm' },
      (properties) => properties.specificEnergy,
      2,
    ),
  },
  cautions: {
    function: {
      text: 'The function is i = (I/η) x/(1 + x) exp(−t/τ2) with x = (t/τ1)^10. The largest steepness lasts for an instant only; state for a lead drop whether it is based on the mean or on the largest one.',
      basis: heidlerFunction,
    },
    'calculation-only': {
      when: 'stroke is first-negative',
      text: 'The first negative stroke was added in 2010 and is meant for calculations, not for tests; the edition of 2006 does not have it.',
      basis: recall('iec-62305-1-2010', 'Table 3, note'),
    },
    'nominal-and-function': {
      when: 'stroke is first-positive and share = 1',
      text: 'Charge and specific energy of the function are {charge} and {specific_energy}, the table states {nominal_charge} and {nominal_energy}: the table is rounded, and its tolerances are wide.',
      basis: derivation('integral of the function and of its square'),
    },
  },
  figure: { caption: 'Current of the stroke over time, with half of its peak', draw: drawStroke },
  evidence: lightningParametersEvidence,
});

const POINTS = 300;

function drawStroke(view: FigureView): string {
  const shape = shapeOf(view);
  const wave = lightningStroke(shape, view.number('peak'));
  const { halfValueTime, virtualOrigin, peakTime } = unitSurgeProperties(shape);
  const halfTime = virtualOrigin! + halfValueTime!;
  const span = 1.6 * halfValueTime!;
  // Half of the points lie on the front, which is a small part of the whole time.
  const times = Array.from({ length: POINTS + 1 }, (_, i) => span * (i / POINTS) ** 3);
  return drawChart({
    title: `Current of the ${view.choice('stroke')} stroke over time, peak ${view.shown('peak')}`,
    x: { label: 'Time in µs', unitSize: 1e-6, from: 0, to: span },
    y: { label: 'Current in kA', unitSize: 1e3, from: 0 },
    curves: [
      {
        label: shape,
        points: times.map((time) => ({ x: time, y: wave.at(time) })),
      },
    ],
    points: [
      { at: { x: peakTime, y: wave.at(peakTime) }, label: view.shown('peak') },
      {
        at: { x: halfTime, y: wave.at(halfTime) },
        label: `half of the peak, ${view.shown('half_value_time')} after the virtual origin`,
      },
    ],
  });
}
