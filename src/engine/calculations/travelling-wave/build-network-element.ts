import { doubleExponential, doubleExponentialCrestTime } from '../../physics/double-exponential.ts';
import { heidler } from '../../physics/heidler.ts';
import { piecewiseLinear, triangle } from '../../physics/piecewise-linear.ts';
import { scaleWaveform, stepWaveform, type Waveform } from '../../physics/waveform.ts';
import { earthNode, type SurgeElement } from '../../transient/element.ts';
import { arrester } from '../../transient/elements/arrester.ts';
import type { ArresterCharacteristic } from '../../transient/elements/arrester-characteristic.ts';
import { capacitor } from '../../transient/elements/capacitor.ts';
import { coupledInductors } from '../../transient/elements/coupled-inductors.ts';
import { currentSource } from '../../transient/elements/current-source.ts';
import { earthElectrode } from '../../transient/elements/earth-electrode.ts';
import {
  type ArresterFilter,
  arresterFilter,
  arresterSections,
  frequencyDependentArrester,
} from '../../transient/elements/frequency-dependent-arrester.ts';
import { incomingWave } from '../../transient/elements/incoming-wave.ts';
import { inductor } from '../../transient/elements/inductor.ts';
import { line } from '../../transient/elements/line.ts';
import { resistor } from '../../transient/elements/resistor.ts';
import { voltageSource } from '../../transient/elements/voltage-source.ts';
import { fitSectionInductance } from './fit-section-inductance.ts';
import { type CircuitRows, type ElementRow, pointsOf, type ValueColumn } from './read-network-elements.ts';

/** Exponent of the Heidler functions of lightning currents. IEC 62305-1, Annex B (from memory). */
const HEIDLER_EXPONENT = 10;

/** The element of a row. What a faulty row lacks counts as one, so that the circuit around it can be judged. */
export function buildNetworkElement(element: ElementRow, circuit: CircuitRows): SurgeElement {
  const { name, type, from, to, values, words } = element;
  const ends = { name, from, to };
  const value = (column: ValueColumn): number => values[column] ?? 1;
  switch (type) {
    case 'line':
    case 'cable':
      return lineOfRow(element, value);
    case 'resistor':
      return resistor({ ...ends, resistance: value('resistance') });
    case 'earth-electrode':
      return earthElectrode({
        name,
        node: from,
        reference: to,
        resistance: value('resistance'),
        ionisationCurrent: value('ionisation_current'),
      });
    case 'inductor':
      return inductor({ ...ends, inductance: value('inductance') });
    case 'coupled-inductors':
      return coupledInductors({
        name,
        firstFrom: from,
        firstTo: to,
        secondFrom: words.second_from ?? from,
        secondTo: words.second_to ?? to,
        firstInductance: value('inductance'),
        secondInductance: value('second_inductance'),
        mutualInductance: values.mutual_inductance ?? 0,
      });
    case 'capacitor':
      return capacitor({
        ...ends,
        capacitance: value('capacitance'),
        initialVoltage: values.initial_voltage ?? 0,
      });
    case 'arrester':
      return arrester({ ...ends, characteristic: characteristicOfRow(element, value, circuit) });
    case 'frequency-dependent-arrester': {
      const residual = value('residual_voltage');
      const filter = filterOfRow(element, value);
      return frequencyDependentArrester({ ...ends, ...arresterSections(residual), filter });
    }
    case 'source':
      return sourceOfRow(element, circuit);
  }
}

/** Fitted to the residual voltage; the first estimate where that is not possible, which is a fault of the row. */
function filterOfRow({ values }: ElementRow, value: (column: ValueColumn) => number): ArresterFilter {
  const filter = arresterFilter(value('height'), values.parallel_columns ?? 1);
  return fitSectionInductance(value('residual_voltage'), filter) ?? filter;
}

function lineOfRow(element: ElementRow, value: (column: ValueColumn) => number): SurgeElement {
  const { name, type, from, to, values, words } = element;
  const reference = type === 'cable' ? (words.sheath ?? earthNode) : earthNode;
  return line({
    name,
    from,
    to,
    surgeImpedance: value('surge_impedance'),
    delay: value('length') / value('velocity'),
    fromReference: reference,
    toReference: reference,
    initialVoltage: values.initial_voltage ?? 0,
  });
}

function characteristicOfRow(
  { words }: ElementRow,
  value: (column: ValueColumn) => number,
  { characteristics }: CircuitRows,
): ArresterCharacteristic {
  const points = pointsOf(characteristics, words.characteristic);
  if (points !== undefined) return { points };
  const exponent = value('exponent');
  return { exponent, coefficient: value('residual_current') / value('residual_voltage') ** exponent };
}

/** With a surge impedance the end of a long line on which the wave arrives, else an ideal source. */
function sourceOfRow(element: ElementRow, circuit: CircuitRows): SurgeElement {
  const { name, from, to, values } = element;
  const { peak_voltage = 1, peak_current, surge_impedance } = values;
  // A source delivers into `from`: its current flows within it from `to` to `from`.
  if (peak_current !== undefined) {
    return currentSource({ name, from: to, to: from, waveform: waveformOf(peak_current, element, circuit) });
  }
  const waveform = waveformOf(peak_voltage, element, circuit);
  return surge_impedance === undefined
    ? voltageSource({ name, from, to, waveform })
    : incomingWave({ name, node: from, reference: to, surgeImpedance: surge_impedance, waveform });
}

function waveformOf(peak: number, { values, words }: ElementRow, { waveforms }: CircuitRows): Waveform {
  const { front_constant: front = 1, tail_constant: tail = 2 } = values;
  switch (words.shape) {
    case 'heidler':
      return heidler(peak, { exponent: HEIDLER_EXPONENT, frontConstant: front, tailConstant: tail });
    case 'double-exponential': {
      const shape = doubleExponential(1, 1 / tail, 1 / front);
      return scaleWaveform(shape, peak / shape.at(doubleExponentialCrestTime(1 / tail, 1 / front)));
    }
    case 'points': {
      const points = pointsOf(waveforms, words.waveform);
      if (points === undefined) return stepWaveform(peak);
      return piecewiseLinear(points.map(([time, share]) => [time, peak * share]));
    }
    default:
      return straightWave(peak, values);
  }
}

/** Straight front and tail; without a front a jump, without a tail a constant value after the front. */
function straightWave(peak: number, { front_time, half_value_time }: ElementRow['values']): Waveform {
  if (half_value_time === undefined) {
    return front_time === undefined
      ? stepWaveform(peak)
      : piecewiseLinear([
          [0, 0],
          [front_time, peak],
        ]);
  }
  if (front_time !== undefined) return triangle(peak, front_time, half_value_time);
  return piecewiseLinear([
    [0, peak],
    [2 * half_value_time, 0],
  ]);
}
