import type { Text } from '../../../words/sentence.ts';
import type { SolverValues } from '../../definition/definition.ts';
import { refusal } from '../../definition/refusal.ts';
import type { CharacteristicPoint } from '../../physics/arrester-on-load-line.ts';
import type { ArresterCharacteristic } from '../../transient/elements/arrester-characteristic.ts';
import type { ArresterArrangement, TerminalPath, TerminalSurge } from './terminal-network.ts';

/** The values of the calculation as a surge to simulate, in the arrangement given or in another one. */
export function readTerminalSurge(
  values: SolverValues,
  arrangement = values.choice('arrangement') as ArresterArrangement,
): TerminalSurge {
  return {
    ...readTerminalPath(values, arrangement),
    peak: values.number('surge_peak'),
    frontTime: values.number('front_time'),
    halfValueTime: values.number('half_value_time'),
  };
}

/** What the surge meets on its way: arrester, leads, earth paths, connection and transformer. */
export function readTerminalPath(
  values: SolverValues,
  arrangement = values.choice('arrangement') as ArresterArrangement,
): TerminalPath {
  const earthLead = values.optionalNumber('earth_lead') ?? 0;
  const isAcross = arrangement === 'across-terminals';
  return {
    arrangement,
    lineLead: values.optionalNumber('line_lead') ?? 0,
    earthLead,
    bondPosition: values.optionalNumber('bond_position') ?? earthLead,
    arresterHeight: values.number('arrester_height'),
    tailLength: values.number('tail_length'),
    leadInductance: values.number('lead_inductance'),
    earthResistance: values.optionalNumber('earth_resistance') ?? 0,
    lineImpedance: values.number('line_impedance'),
    distance: isAcross ? 0 : values.number('distance'),
    velocity: values.number('velocity'),
    connectionImpedance: values.optionalNumber('connection_impedance') ?? values.number('line_impedance'),
    connectionReturn: values.choice('connection') === 'cable' ? 'tank' : 'earth',
    capacitance: values.optionalNumber('transformer_capacitance') ?? 0,
    characteristic: networkCharacteristic(values),
    tolerance: values.number('tolerance'),
  };
}

/** Why a characteristic is not complete, or undefined where it is. */
export function faultOfCharacteristic(values: SolverValues): Text | undefined {
  if (values.has('points.voltage')) {
    const isRising = ['points.voltage', 'points.current'].every((column) =>
      values.list(column).every((value, i, all) => i === 0 || value > all[i - 1]!),
    );
    return isRising
      ? undefined
      : refusal('falling-points', 'the points of the table must rise in voltage and in current');
  }
  return values.has('residual_current') && values.has('exponent')
    ? undefined
    : refusal(
        'incomplete-characteristic',
        'a residual voltage makes a characteristic only with its current and exponent: write residual_current and exponent, or a table of points',
      );
}

/** The characteristic for the load line of the closed formula. */
export function formulaCharacteristic(
  values: SolverValues,
): readonly CharacteristicPoint[] | { readonly exponent: number; readonly point: CharacteristicPoint } {
  if (values.has('points.voltage')) {
    const currents = values.list('points.current');
    return values.list('points.voltage').map((voltage, i) => ({ voltage, current: currents[i]! }));
  }
  return {
    exponent: values.number('exponent'),
    point: { voltage: values.number('residual_voltage'), current: values.number('residual_current') },
  };
}

function networkCharacteristic(values: SolverValues): ArresterCharacteristic {
  const characteristic = formulaCharacteristic(values);
  if ('exponent' in characteristic) {
    const { exponent, point } = characteristic;
    return { exponent, coefficient: point.current / point.voltage ** exponent };
  }
  return { points: characteristic.map(({ current, voltage }) => [current, voltage] as const) };
}
