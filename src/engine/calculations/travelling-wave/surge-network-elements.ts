import type { ColumnDefinition, QuantityGiven, RowsGiven } from '../../definition/definition.ts';

/** The table of elements; what a row must have depends on its type. */
export const surgeNetworkElements: RowsGiven = {
  type: 'rows',
  meaning: 'elements of the circuit, and the nodes between which they are connected',
  note: 'line and cable need surge_impedance, length and velocity; resistor, earth-electrode, inductor and capacitor their one value; coupled-inductors inductance, second_inductance, mutual_inductance, second_from and second_to; arrester residual_voltage, residual_current and exponent, or the name of a characteristic; frequency-dependent-arrester residual_voltage (of 10 kA 8/20) and height; source one of peak_voltage and peak_current',
  least: 1,
  columns: {
    name: { type: 'name', meaning: 'name of the element' },
    type: {
      type: 'choice',
      symbol: '\\text{type}',
      meaning: 'type of the element',
      options: {
        line: 'line whose waves count against remote earth',
        cable: 'cable whose waves count against its sheath',
        resistor: 'resistor, or earth electrode of constant resistance',
        'earth-electrode': 'earth electrode around which the soil ionises above a current',
        inductor: 'inductance, such as a lead',
        'coupled-inductors':
          'two leads side by side with mutual inductance, such as a down conductor and a loop near it',
        capacitor: 'capacitance, such as that of a transformer',
        arrester: 'gapless arrester by one point and the exponent of its law, or by a table',
        'frequency-dependent-arrester':
          'gapless arrester of two sections with a filter between, which gives a higher voltage at fast fronts',
        source:
          'wave that arrives on a long line (peak_voltage and surge_impedance), ideal voltage or current source',
      },
    },
    from: { type: 'name', meaning: 'first node; a source delivers into it' },
    to: { type: 'name', meaning: 'second node; earth is remote earth' },
    sheath: {
      type: 'name',
      meaning: "node of a cable's sheath, the same at both ends",
      note: 'remote earth where absent',
      optional: true,
    },
    second_from: {
      type: 'name',
      meaning: 'first node of the second of two coupled inductors',
      optional: true,
    },
    second_to: {
      type: 'name',
      meaning: 'second node of the second of two coupled inductors',
      optional: true,
    },
    surge_impedance: value('Z_i', 'surge impedance of a line or cable, or behind a source', 'ohm', [
      '1 ohm',
      '2000 ohm',
      'cables have tens, overhead lines hundreds of ohms',
    ]),
    length: value('\\ell_i', 'length of a line or cable', 'm', [
      '0.05 m',
      '1000000 m',
      'lines are decimetres to hundreds of kilometres long',
    ]),
    velocity: {
      ...value('v_i', 'velocity of waves on it', 'm/us'),
      permitted: { above: '0 m/us', to: '300 m/us' },
      usual: { from: '20 m/us', because: 'waves travel at 100 m/µs and more, within windings some tens' },
      optional: true,
    },
    resistance: value('R_i', 'resistance', 'ohm', [
      '0.001 ohm',
      '1000000 ohm',
      'resistances are milliohms to megohms',
    ]),
    inductance: value('L_i', 'inductance', 'uH', [
      '0.01 uH',
      '1000000 uH',
      'leads have some µH, coils up to about 1 H',
    ]),
    second_inductance: value('L_{2,i}', 'inductance of the second of two coupled inductors', 'uH', [
      '0.01 uH',
      '1000000 uH',
      'leads have some µH, coils up to about 1 H',
    ]),
    mutual_inductance: {
      ...signed(
        'M_i',
        'mutual inductance, above zero where both run alongside from first to second node',
        'uH',
      ),
      optional: true,
    },
    capacitance: value('C_i', 'capacitance', 'nF', [
      '0.001 nF',
      '100000 nF',
      'apparatus has picofarads to microfarads',
    ]),
    ionisation_current: value(
      'I_{\\mathrm{g},i}',
      'current at which the soil around an electrode begins to ionise',
      'kA',
    ),
    residual_voltage: value('U_{\\mathrm{res},i}', 'residual voltage of an arrester', 'kV', [
      '0.1 kV',
      '2500 kV',
      'arresters have residual voltages of some hundred volts to 1700 kV',
    ]),
    residual_current: value('I_{\\mathrm{res},i}', 'current of that residual voltage', 'kA', [
      '0.0001 kA',
      '100 kA',
      'residual voltages are stated for some amperes to 40 kA',
    ]),
    exponent: {
      ...value('a_i', 'exponent of the power law of current against voltage', '1'),
      permitted: { from: '1', to: '60' },
      optional: true,
    },
    characteristic: {
      type: 'name',
      meaning: 'characteristic of an arrester, by its name in the table of characteristics',
      optional: true,
    },
    height: value('h_i', 'height of a frequency-dependent arrester between its terminals', 'm', [
      '0.05 m',
      '10 m',
      'arresters of systems of 3 kV to 800 kV are some 0.1 m to 8 m high',
    ]),
    parallel_columns: {
      ...value('n_i', 'parallel columns of a frequency-dependent arrester', '1'),
      note: 'one where absent',
      whole: true,
    },
    initial_voltage: {
      ...signed(
        'U_{\\mathrm{c},i}',
        'voltage to which a capacitor or line is charged at the beginning',
        'kV',
      ),
      optional: true,
    },
    peak_voltage: { ...signed('U_{0,i}', 'peak voltage of a source', 'kV'), optional: true },
    peak_current: { ...signed('I_{0,i}', 'peak current of a source', 'kA'), optional: true },
    shape: {
      type: 'choice',
      symbol: '\\text{shape}',
      meaning: 'course of a source in time',
      note: 'straight where absent',
      options: {
        straight: 'straight front over front_time, straight tail through half_value_time',
        'double-exponential': 'difference of two exponentials with tail_constant and front_constant',
        heidler: 'Heidler function of exponent 10 with front_constant and tail_constant',
        points: 'straight lines between the points of a waveform',
      },
      optional: true,
    },
    front_time: value('T_{\\mathrm{f},i}', 'front time of a source; without it a jump', 'us', [
      '0.001 us',
      '10000 us',
      'fronts last nanoseconds to milliseconds',
    ]),
    half_value_time: value(
      'T_{2,i}',
      'time to half value of a source; without it the value stays after the front',
      'us',
    ),
    front_constant: value('\\tau_{1,i}', 'time constant of the front of a source', 'us'),
    tail_constant: value('\\tau_{2,i}', 'time constant of the tail of a source', 'us'),
    waveform: {
      type: 'name',
      meaning: 'waveform of a source, by its name in the table of waveforms',
      optional: true,
    },
  },
};

/** Tables of voltage against current, to which arresters refer by name. */
export const surgeNetworkCharacteristics: RowsGiven = {
  type: 'rows',
  meaning: 'points of the characteristics of arresters, each with the name of its characteristic',
  note: 'in rising order, from 1 A or less on',
  columns: {
    name: { type: 'name', meaning: 'name of the characteristic' },
    voltage: positive('U_j', 'residual voltage', 'kV'),
    current: positive('I_j', 'current', 'A'),
  },
};

/** Courses of sources as points, to which they refer by name. */
export const surgeNetworkWaveforms: RowsGiven = {
  type: 'rows',
  meaning: 'points of the waveforms of sources, each with the name of its waveform',
  note: 'in order of time; straight between them, zero before the first, constant after the last',
  columns: {
    name: { type: 'name', meaning: 'name of the waveform' },
    time: { type: 'quantity', symbol: 't_k', meaning: 'time', unit: 'us', permitted: { from: '0 us' } },
    share: { type: 'quantity', symbol: 'w_k', meaning: 'value as a share of the peak', unit: '1' },
  },
};

function value(
  symbol: string,
  meaning: string,
  unit: string,
  usual?: readonly [from: string, to: string, because: string],
): ColumnDefinition & QuantityGiven {
  const given = { ...positive(symbol, meaning, unit), optional: true as const };
  if (!usual) return given;
  const [from, to, because] = usual;
  return { ...given, usual: { from, to, because } };
}

function positive(symbol: string, meaning: string, unit: string): QuantityGiven {
  return { ...signed(symbol, meaning, unit), permitted: { above: `0 ${unit}`.replace(/ 1$/, '') } };
}

function signed(symbol: string, meaning: string, unit: string): QuantityGiven {
  const isPeak = ['kV', 'kA', 'A'].includes(unit);
  return { type: 'quantity', symbol, meaning, unit, ...(isPeak ? { voltage: { measure: 'peak' } } : {}) };
}
