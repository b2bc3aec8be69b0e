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
};
