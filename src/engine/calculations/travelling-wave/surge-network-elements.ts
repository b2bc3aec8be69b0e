import type { ColumnDefinition, QuantityGiven, RowsGiven } from '../../definition/definition.ts';

/** The table of elements; what a row must have depends on its type. */
export const surgeNetworkElements: RowsGiven = {
  type: 'rows',
  meaning: 'elements of the circuit with the nodes between which they lie',
  note: 'line and cable need surge_impedance, length and velocity; resistor, inductor and capacitor their one value; arrester residual_voltage, residual_current and exponent; source one of peak_voltage and peak_current',
  least: 1,
  columns: {
    name: { type: 'name', meaning: 'name of the element' },
    type: {
      type: 'choice',
      symbol: '\\text{type}',
      meaning: 'what it is',
      options: {
        line: 'line whose waves count against remote earth',
        cable: 'cable whose waves count against its sheath',
        resistor: 'resistor or earth electrode',
        inductor: 'inductance, such as a lead',
        capacitor: 'capacitance, such as that of a transformer',
        arrester: 'gapless arrester by one point and the exponent of its law',
        source:
          'wave that arrives on a long line (peak_voltage and surge_impedance), ideal voltage or current source',
      },
    },
    from: { type: 'name', meaning: 'first node; a source delivers into it' },
    to: { type: 'name', meaning: 'second node; earth is remote earth' },
    sheath: {
      type: 'name',
      meaning: "node of a cable's sheath, both ends alike",
      note: 'remote earth where absent',
      optional: true,
    },
    surge_impedance: value('Z_i', 'surge impedance of a line or cable, or behind a source', 'ohm'),
    length: value('\\ell_i', 'length of a line or cable', 'm'),
    velocity: {
      ...value('v_i', 'velocity of waves on it', 'm/us'),
      permitted: { above: '0 m/us', to: '300 m/us' },
      optional: true,
    },
    resistance: value('R_i', 'resistance', 'ohm'),
    inductance: value('L_i', 'inductance', 'uH'),
    capacitance: value('C_i', 'capacitance', 'nF'),
    residual_voltage: value('U_{\\mathrm{res},i}', 'residual voltage of an arrester', 'kV'),
    residual_current: value('I_{\\mathrm{res},i}', 'current of that residual voltage', 'kA'),
    exponent: {
      ...value('a_i', 'exponent of the law i = k v^a', '1'),
      permitted: { from: '1', to: '60' },
      optional: true,
    },
    peak_voltage: { ...signed('U_{0,i}', 'peak voltage of a source', 'kV'), optional: true },
    peak_current: { ...signed('I_{0,i}', 'peak current of a source', 'kA'), optional: true },
    front_time: value('T_{\\mathrm{f},i}', 'front time of a source; without it a jump', 'us'),
    half_value_time: value(
      'T_{2,i}',
      'time to half value of a source; without it the value stays after the front',
      'us',
    ),
  },
};

function value(symbol: string, meaning: string, unit: string): ColumnDefinition & QuantityGiven {
  return {
    ...signed(symbol, meaning, unit),
    permitted: { above: `0 ${unit}`.replace(/ 1$/, '') },
    optional: true,
  };
}

function signed(symbol: string, meaning: string, unit: string): QuantityGiven {
  const isPeak = unit === 'kV' || unit === 'kA';
  return { type: 'quantity', symbol, meaning, unit, ...(isPeak ? { voltage: { measure: 'peak' } } : {}) };
}
