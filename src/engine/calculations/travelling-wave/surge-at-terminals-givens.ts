import { commonPractice, recall } from '../../definition/basis.ts';
import type { GivenDefinition, QuantityGiven } from '../../definition/definition.ts';
import { USUAL } from '../../tables/usual-ranges.ts';
import { arrangementGivens, protectedInsulation } from '../arrester/arrester-arrangement.ts';

/** Highest exponent with which the simulation was proved. */
const highestExponent = '60';

/** The connection of the arrester. */
const connection: Readonly<Record<string, GivenDefinition>> = {
  ...arrangementGivens,
  lead_inductance: {
    type: 'quantity',
    symbol: "L'",
    meaning: 'inductance of the leads per length',
    unit: 'uH/m',
    permitted: { above: '0 uH/m' },
    usual: USUAL.leadInductance,
    default: { value: '1 uH/m', basis: recall('iec-60099-5-2018', 'lead inductance of 1 µH/m') },
  },
  earth_resistance: {
    type: 'quantity',
    symbol: 'R_\\mathrm{E}',
    meaning: "resistance of the arrester's earth electrode against remote earth",
    note: 'where the tank is connected to the earth path it raises the whole equipment; without it this rise is not counted',
    unit: 'ohm',
    permitted: { from: '0 ohm' },
    usual: USUAL.earthResistance,
  },
};

const characteristic: Readonly<Record<string, GivenDefinition>> = {
  residual_voltage: {
    type: 'quantity',
    symbol: 'U_\\mathrm{res}',
    meaning: 'residual voltage of the arrester at one current',
    unit: 'kV',
    voltage: { measure: 'peak' },
    permitted: { above: '0 kV' },
    usual: USUAL.highVoltageLevel,
  },
  residual_current: {
    type: 'quantity',
    symbol: 'I_\\mathrm{res}',
    meaning: 'current at which the residual voltage is stated',
    unit: 'kA',
    voltage: { measure: 'peak' },
    permitted: { above: '0 kA' },
    usual: {
      from: '0.1 kA',
      to: '100 kA',
      because: 'residual voltages are stated for some hundred amperes to 40 kA',
    },
  },
  exponent: {
    type: 'quantity',
    symbol: 'a',
    meaning: 'exponent of the power law through that point',
    unit: '1',
    permitted: { from: '1', to: highestExponent },
    usual: { from: '15', to: '50', because: 'metal oxide has exponents of 20 to 50' },
    typical: [{ value: '30', for: 'metal oxide', basis: commonPractice() }],
  },
  points: {
    type: 'rows',
    meaning: 'table of the characteristic, in rising order, from 1 A or less on',
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
        usual: {
          from: '1e-6 A',
          to: '100000 A',
          because: 'characteristics run from microamperes to some 40 kA',
        },
      },
    },
  },
};

const surge: Readonly<Record<string, GivenDefinition>> = {
  surge_peak: {
    type: 'quantity',
    symbol: 'U_0',
    meaning: 'peak of the incoming voltage surge',
    unit: 'kV',
    voltage: { measure: 'peak' },
    permitted: { above: '0 kV' },
    usual: {
      from: '10 kV',
      to: '5000 kV',
      because: 'surges range from the insulation of distribution lines to that of 800 kV lines',
    },
  },
  stroke_current: {
    type: 'quantity',
    symbol: 'I_0',
    meaning: 'current of a stroke to the line, half of which runs towards the arrester',
    unit: 'kA',
    voltage: { measure: 'peak' },
    permitted: { above: '0 kA' },
    usual: USUAL.surgeCurrent,
  },
  surge_steepness: {
    type: 'quantity',
    symbol: 'S_0',
    meaning: 'steepness of the incoming voltage surge',
    unit: 'kV/us',
    permitted: { above: '0 kV/us' },
    usual: {
      from: '5 kV/us',
      to: '5000 kV/us',
      because:
        'surges from some kilometres away rise at tens of kV/µs, those of strokes nearby at up to some thousand',
    },
  },
  front_time: {
    type: 'quantity',
    symbol: 'T_0',
    meaning: 'front time of the incoming surge or of the stroke current',
    unit: 'us',
    permitted: { above: '0 us' },
    usual: USUAL.frontTime,
  },
  half_value_time: {
    type: 'quantity',
    symbol: 'T_2',
    meaning: 'time to half value on the tail of the incoming surge',
    unit: 'us',
    permitted: { above: '0 us' },
    usual: {
      from: '2 us',
      to: '1000 us',
      because: 'tails last from some microseconds of a cut wave to hundreds of microseconds',
    },
    default: { value: '50 us', basis: commonPractice('tail of the lightning impulse 1.2/50') },
    typical: [
      { value: '350 us', for: 'the tail of a first stroke of long duration', basis: commonPractice() },
    ],
  },
  line_impedance: {
    type: 'quantity',
    symbol: 'Z',
    meaning: 'surge impedance of the line on which the surge arrives',
    unit: 'ohm',
    permitted: { above: '0 ohm' },
    usual: USUAL.surgeImpedance,
    typical: [{ value: '400 ohm', for: 'an overhead line', basis: commonPractice() }],
  },
};

const equipment: Readonly<Record<string, GivenDefinition>> = {
  distance: {
    ...length('d', 'distance along the conductor from the tap of the arrester to the equipment', undefined, {
      from: '0.1 m',
      to: '500 m',
      orNone: true,
      because: 'arresters stand within some hundred metres of what they protect',
    }),
    default: { value: '0 m', basis: commonPractice('the arrester taps the line at the equipment') },
  },
  connection: {
    type: 'choice',
    symbol: '\\text{connection}',
    meaning: 'conductor over that distance',
    options: {
      overhead: 'open conductor: its waves count against remote earth',
      cable: 'cable: its waves count against the sheath, which is bonded to the tank',
    },
    default: { value: 'overhead', basis: commonPractice('open conductor') },
  },
  velocity: {
    type: 'quantity',
    symbol: 'v',
    meaning: 'velocity of waves over that distance',
    unit: 'm/us',
    permitted: { above: '0 m/us', to: '300 m/us' },
    usual: USUAL.waveVelocity,
    default: { value: '300 m/us', basis: commonPractice('overhead line or bus-bar: velocity of light') },
    typical: [{ value: '150 m/us', for: 'cable', basis: commonPractice() }],
  },
  connection_impedance: {
    type: 'quantity',
    symbol: 'Z_\\mathrm{d}',
    meaning: 'surge impedance over that distance',
    note: 'without it that of the line',
    unit: 'ohm',
    permitted: { above: '0 ohm' },
    usual: USUAL.surgeImpedance,
  },
  transformer_capacitance: {
    type: 'quantity',
    symbol: 'C_\\mathrm{T}',
    meaning: 'surge capacitance of the transformer between terminal and tank',
    note: 'without it the line ends open',
    unit: 'nF',
    permitted: { above: '0 nF' },
    usual: { from: '0.05 nF', to: '20 nF', because: 'transformers have some 0.1 to 10 nF' },
  },
  ...protectedInsulation,
  tolerance: {
    type: 'quantity',
    symbol: '\\varepsilon',
    meaning: 'largest change of a peak when the time step is halved',
    unit: '%',
    permitted: { from: '0.01 %', to: '1 %' },
    default: { value: '0.1 %', basis: commonPractice('for three significant digits') },
  },
};

export const surgeAtTerminalsGivens: Readonly<Record<string, GivenDefinition>> = {
  ...connection,
  ...characteristic,
  ...surge,
  ...equipment,
};

function length(
  symbol: string,
  meaning: string,
  note?: string,
  usual: NonNullable<QuantityGiven['usual']> = USUAL.arresterLead,
) {
  return {
    type: 'quantity' as const,
    symbol,
    meaning,
    ...(note === undefined ? {} : { note }),
    unit: 'm',
    permitted: { from: '0 m' },
    usual,
  };
}
