import type { Text } from '../../../words/sentence.ts';
import { cite, commonPractice, derivation } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { SolverValues } from '../../definition/definition.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { refusal } from '../../definition/refusal.ts';
import { drawChart } from '../../figures/chart.ts';
import { point } from '../../figures/geometry.ts';
import {
  type CharacteristicPoint,
  solveOnLoadLine,
  voltageAtCurrent,
} from '../../physics/arrester-on-load-line.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const law = cite('power-system-transients', 'Example 7, gapless arrester at the end of a line');
const source = derivation('incident wave as a source of twice its voltage behind the surge impedance');

const CHARACTERISTIC_CURRENT = {
  from: '0.0001 A',
  to: '100000 A',
  because:
    'characteristics are stated from the reference current of some milliamperes to some ten kiloamperes',
};

/** Voltage and current of an arrester with a given characteristic when a wave arrives: the load line. */
export const arresterCharacteristic = defineCalculation({
  name: 'arrester-characteristic',
  title: 'Arrester characteristic and load line',
  purpose:
    'Finds voltage and current of a surge arrester when a wave arrives, by setting its non-linear characteristic against ' +
    'the load line of the wave: twice the incident voltage behind the surge impedance.',
  answers: [
    'At which voltage and current does the arrester operate when a surge arrives?',
    'Where does the load line cut the V-I characteristic?',
  ],
  example: `
    id: arrester-operating-point
    title: Operating point of the line arrester
    given:
      reference_voltage: { value: 80 kV, source: "data sheet of the arrester, 8/20" }
      reference_current: { value: 10000 A, source: "data sheet of the arrester, 8/20" }
      exponent: { value: 25, source: "fitted to the table of the data sheet" }
      incident_voltage: { value: 300 kV, source: "assumed; to be confirmed" }
      surge_impedance: { value: 400 ohm, source: "single overhead conductor" }
      continuing_impedance: { value: 400 ohm, source: "the line goes on" }
      permitted_voltage: { value: 85 kV, source: "co-ordination of the insulation" }
  `,
  givens: {
    coefficient: {
      type: 'quantity',
      symbol: 'k',
      meaning:
        'coefficient of the power law of current against voltage, as a pure number for amperes and volts',
      unit: '1',
      permitted: { above: '0' },
    },
    reference_voltage: {
      type: 'quantity',
      symbol: 'U_0',
      meaning: 'voltage of one known point of the characteristic',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
    reference_current: {
      type: 'quantity',
      symbol: 'I_0',
      meaning: 'current of that point',
      unit: 'A',
      voltage: { measure: 'peak' },
      permitted: { above: '0 A' },
      usual: CHARACTERISTIC_CURRENT,
    },
    exponent: {
      type: 'quantity',
      symbol: 'a',
      meaning: 'exponent of the power law of current against voltage',
      unit: '1',
      permitted: { from: '1', to: '100' },
      usual: {
        from: '2',
        to: '60',
        because: 'metal oxide has exponents of 20 to 50, silicon carbide of 2 to 6',
      },
      typical: [{ value: '30', for: 'metal oxide', basis: commonPractice() }],
    },
    points: {
      type: 'rows',
      meaning: 'table of the characteristic, in rising order',
      least: 2,
      columns: {
        voltage: {
          type: 'quantity',
          symbol: 'U_i',
          meaning: 'residual voltage',
          unit: 'kV',
          voltage: { measure: 'peak' },
          permitted: { above: '0 kV' },
          usual: USUAL.highVoltageLevel,
        },
        current: {
          type: 'quantity',
          symbol: 'I_i',
          meaning: 'current',
          unit: 'A',
          voltage: { measure: 'peak' },
          permitted: { above: '0 A' },
          usual: CHARACTERISTIC_CURRENT,
        },
      },
    },
    incident_voltage: {
      type: 'quantity',
      symbol: 'U',
      meaning: 'voltage of the incident wave',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: {
        from: '1 kV',
        to: '6000 kV',
        because: 'surges on lines reach what the insulation of the line withstands, at most some 5000 kV',
      },
    },
    surge_impedance: {
      type: 'quantity',
      symbol: 'Z',
      meaning: 'surge impedance of the line on which the wave arrives',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: USUAL.surgeImpedance,
    },
    continuing_impedance: {
      type: 'quantity',
      symbol: 'Z_2',
      meaning: 'surge impedance of the line beyond the arrester',
      note: 'without it the line ends at the arrester',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: USUAL.surgeImpedance,
    },
    permitted_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{perm}',
      meaning: 'highest permitted voltage at the arrester',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
  },
  alternatives: [{ oneOf: ['coefficient', 'reference_voltage', 'points'] }],
  steps: {
    source_voltage: {
      symbol: 'U_\\mathrm{s}',
      meaning: 'voltage without the arrester, source of the load line',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: source,
      variants: [
        {
          when: 'given continuing_impedance',
          formula: '2 * incident_voltage * continuing_impedance / (surge_impedance + continuing_impedance)',
        },
        { formula: '2 * incident_voltage' },
      ],
    },
    source_impedance: {
      symbol: 'Z_\\mathrm{s}',
      meaning: 'impedance of the load line',
      unit: 'ohm',
      basis: source,
      variants: [
        {
          when: 'given continuing_impedance',
          formula: 'surge_impedance * continuing_impedance / (surge_impedance + continuing_impedance)',
        },
        { formula: 'surge_impedance' },
      ],
    },
    arrester_voltage: {
      symbol: 'U_\\mathrm{A}',
      meaning: 'voltage at the arrester',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: law,
      needs: ['source_voltage', 'source_impedance'],
      mayUse: [
        'coefficient',
        'exponent',
        'reference_voltage',
        'reference_current',
        'points.voltage',
        'points.current',
      ],
      method:
        'intersection of characteristic and load line, found by bisection to the precision of the computer',
      says: ['beyond the table'],
      solve: (values) => {
        const refused = refuse(values);
        if (refused !== undefined) return { refused };
        const [voltage, impedance] = [values.number('source_voltage'), values.number('source_impedance')];
        return solveOnLoadLine(pointsOf(values), voltage, impedance) ?? { words: 'beyond the table' };
      },
      digits: 4,
    },
    arrester_current: {
      symbol: 'I_\\mathrm{A}',
      meaning: 'current through the arrester',
      unit: 'A',
      voltage: { measure: 'peak' },
      basis: source,
      formula: '(source_voltage - arrester_voltage) / source_impedance',
      digits: 4,
    },
    static_resistance: {
      symbol: 'R_\\mathrm{A}',
      meaning: 'voltage over current of the arrester',
      unit: 'ohm',
      basis: derivation('quotient of voltage and current'),
      words: [{ when: 'arrester_current <= 1e-9 A', says: 'does not conduct' }],
      formula: 'arrester_voltage / arrester_current',
    },
  },
  checks: {
    residual_voltage: {
      criterion: 'Voltage at the arrester against the permitted voltage',
      value: 'arrester_voltage',
      relation: '<=',
      limit: 'permitted_voltage',
      force: 'requirement',
      basis: commonPractice('value set by the insulation co-ordination'),
      remedies: [
        'Choose an arrester with a lower residual voltage, at a continuous voltage that the network permits.',
        'Place a second arrester upstream, on the line by which the wave arrives.',
      ],
    },
  },
  cautions: {
    'beyond-the-table': {
      when: 'given points.voltage and not given arrester_voltage',
      text: 'The load line meets the characteristic beyond the last or before the first point of the table. The table is not extrapolated: give further points.',
    },
    'static-law': {
      text: 'The characteristic is static. At fronts of about 1 µs the voltage of a metal-oxide arrester is some 10 % higher than at 8/20, which the result does not include.',
      basis: commonPractice(),
    },
  },
  figure: { caption: 'Characteristic of the arrester and load line of the wave', draw: drawLoadLine },
  evidence: [
    {
      kind: 'published',
      about: '300 kV on 400 Ω, i = 1.5·10⁻²⁷ v⁶: 97 101 V and 1257 A',
      source: 'collection of solved problems, Power System Transients, Example 7',
      given: {
        coefficient: '1.5e-27',
        exponent: '6',
        incident_voltage: '300 kV',
        surge_impedance: '400 ohm',
      },
      expect: {
        arrester_voltage: { value: '97101 V', tolerance: '0.5 V' },
        arrester_current: { value: '1257 A', tolerance: '0.5 A' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'the same law from one of its points',
      source: '1.5e-27 (100 kV)^6 = 1500 A',
      given: {
        reference_voltage: '100 kV',
        reference_current: '1500 A',
        exponent: '6',
        incident_voltage: '300 kV',
        surge_impedance: '400 ohm',
      },
      expect: { arrester_voltage: { value: '97100.5 V', tolerance: '0.5 V' } },
    },
    {
      kind: 'independent',
      about: 'a linear resistance: the voltage divider',
      source: 'exponent 1, 0.01 A/V = 100 Ω behind 100 Ω: half of twice 50 kV',
      given: { coefficient: '0.01', exponent: '1', incident_voltage: '50 kV', surge_impedance: '100 ohm' },
      expect: {
        arrester_voltage: { value: '50 kV', tolerance: '1e-9 kV' },
        arrester_current: { value: '500 A', tolerance: '1e-9 A' },
      },
    },
    {
      kind: 'independent',
      about: 'a point of the table is met exactly',
      source: '(2 · 200 kV − 100 kV)/300 Ω = 1000 A, the second point of the table',
      given: {
        points: [
          { voltage: '80 kV', current: '10 A' },
          { voltage: '100 kV', current: '1000 A' },
          { voltage: '120 kV', current: '10 kA' },
        ],
        incident_voltage: '200 kV',
        surge_impedance: '300 ohm',
      },
      expect: {
        arrester_voltage: { value: '100 kV', tolerance: '1e-9 kV' },
        arrester_current: { value: '1000 A', tolerance: '1e-6 A' },
      },
    },
  ],
});

/** The law as points of a straight line on log-log paper. */
function pointsOf(
  values: SolverValues,
): readonly CharacteristicPoint[] | { exponent: number; point: CharacteristicPoint } {
  if (values.has('points.voltage')) {
    const currents = values.list('points.current');
    return values.list('points.voltage').map((voltage, i) => ({ voltage, current: currents[i]! }));
  }
  const exponent = values.number('exponent');
  const point = values.has('coefficient')
    ? { voltage: 1, current: values.number('coefficient') }
    : { voltage: values.number('reference_voltage'), current: values.number('reference_current') };
  return { exponent, point };
}

/** Why a characteristic is not complete, or undefined where it is. */
function refuse(values: SolverValues): Text | undefined {
  if (values.has('points.voltage')) {
    if (values.has('exponent'))
      return refusal('needless-exponent', 'a table of points needs no exponent: leave exponent out');
    return isRising(values.list('points.voltage'), values.list('points.current'))
      ? undefined
      : refusal('falling-points', 'the points of the table must rise in voltage and in current');
  }
  if (values.has('reference_current') && !values.has('reference_voltage'))
    return refusal(
      'no-reference-voltage',
      'the current of a known point needs its voltage: write reference_voltage, or leave reference_current out',
    );
  if (!values.has('exponent'))
    return refusal('no-exponent', 'the law i = k v^a needs its exponent: write exponent');
  return values.has('reference_voltage') && !values.has('reference_current')
    ? refusal(
        'no-reference-current',
        'a known point needs its current as well as its voltage: write reference_current',
      )
    : undefined;
}

function isRising(...columns: readonly (readonly number[])[]): boolean {
  return columns.every((column) => column.every((value, i) => i === 0 || value > column[i - 1]!));
}

function drawLoadLine(view: FigureView): string | undefined {
  const voltage = view.optionalNumber('arrester_voltage');
  const current = view.optionalNumber('arrester_current');
  if (voltage === undefined || current === undefined) return undefined;
  const [sourceVoltage, impedance] = [view.number('source_voltage'), view.number('source_impedance')];
  const characteristic = pointsOf(view);
  const short = sourceVoltage / impedance;
  const currents = Array.from({ length: 121 }, (_, i) => (short * (i * i)) / (120 * 120));
  const curve = currents.flatMap((i) => {
    const u = voltageAtCurrent(characteristic, i);
    return u === undefined ? [] : [point(i, u)];
  });
  return drawChart({
    title: 'Voltage of the arrester and load line of the wave, against current',
    x: { label: 'Current in kA', from: 0, to: 1.05 * short, unitSize: 1000 },
    y: { label: 'Voltage in kV', from: 0, unitSize: 1000 },
    curves: [
      { label: 'arrester', points: curve },
      { label: 'load line', points: [point(0, sourceVoltage), point(short, 0)], dash: 'dashed' },
    ],
    points: [
      {
        at: point(current, voltage),
        label: `*U*_{A} = ${view.shown('arrester_voltage')}, *I*_{A} = ${view.shown('arrester_current')}`,
      },
    ],
    ...(view.has('permitted_voltage')
      ? {
          limits: [
            {
              value: view.number('permitted_voltage'),
              label: `*U*_{perm} = ${view.shown('permitted_voltage')}`,
              forbidden: 'above' as const,
            },
          ],
        }
      : {}),
  });
}
