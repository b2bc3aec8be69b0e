import type { LimitCases } from './limit-cases-of-power-systems.ts';

/** What a designer dimensions: beyond and at each limit of validity, as in the other lists. */
export const DESIGN_CASES: Readonly<Record<string, LimitCases>> = {
  'earthing-conductor': {
    given: {
      material: 'copper',
      current: '8 kA',
      duration: '1 s',
      initial_temperature: '30 degC',
      final_temperature: '200 degC',
    },
    limits: [
      ['adiabatic', { duration: '5.01 s' }, { duration: '5 s' }],
      [
        'hotter-at-the-end',
        { initial_temperature: '120 degC', final_temperature: '120 degC' },
        { initial_temperature: '120 degC', final_temperature: '121 degC' },
      ],
      [
        'solid-metal',
        { material: 'aluminium', final_temperature: '658 degC' },
        { material: 'aluminium', final_temperature: '657 degC' },
      ],
      [
        'material-of-standard',
        { material: 'galvanised-steel' },
        { material: 'galvanised-steel', method: 'ieee-80-2000' },
      ],
      ['short-fault', { duration: '0.099 s' }, { duration: '0.1 s' }],
    ],
  },
  'grid-current': {
    given: { fault_current: '9 kA', x_over_r: '12', duration: '0.5 s' },
    limits: [
      [
        'local-part',
        { division_factor: '0.5', local_current: '9 kA' },
        { division_factor: '0.5', local_current: '8.9 kA' },
      ],
      [
        'factor-alone',
        { division_factor: '0.5', paths: [{ resistance: '2 ohm', reactance: '0.5 ohm' }] },
        { grid_resistance: '1 ohm', paths: [{ resistance: '2 ohm', reactance: '0.5 ohm' }] },
      ],
      // |Zs| = 0.5 ohm: 15² · 0.5 = 112.5 and 9 · 12.5 = 112.5.
      [
        'long-chain',
        { grid_resistance: '1 ohm', earth_wires: [earthWire(14)] },
        { grid_resistance: '1 ohm', earth_wires: [earthWire(15)] },
      ],
      [
        'several-half-waves',
        { division_factor: '1', duration: '9 ms' },
        { division_factor: '1', duration: '10 ms' },
      ],
    ],
  },
};

function earthWire(spans: number) {
  return { span_resistance: '0.3 ohm', span_reactance: '0.4 ohm', footing_resistance: '12.5 ohm', spans };
}
