import type { Evidence } from '../../definition/definition.ts';

/** Evidence for `lightning-current-share`. */
export const lightningCurrentShareEvidence: readonly Evidence[] = [
  {
    kind: 'published',
    about: '150 kA, three services: 75 kA to earth, 25 kA in each service',
    source: 'Abstract on the current of surge protective devices (soolun.net)',
    given: { lightning_current: '150 kA', services: '3', conductors: '1' },
    expect: {
      current_to_earth: { value: '75 kA', tolerance: '0.5 kA' },
      current_to_services: { value: '75 kA', tolerance: '0.5 kA' },
      current_per_service: { value: '25 kA', tolerance: '0.5 kA' },
    },
  },
  {
    kind: 'practice',
    about: '200 kA: 100 kA to earth, 100 kA to the services',
    source: 'common practice: half and half',
    given: { lpl: 'I', services: '2', conductors: '4' },
    expect: {
      current_to_earth: { value: '100 kA', tolerance: '0.5 kA' },
      current_to_services: { value: '100 kA', tolerance: '0.5 kA' },
    },
  },
  ...(
    [
      ['I', '25 kA'],
      ['II', '18.75 kA'],
      ['III', '12.5 kA'],
    ] as const
  ).map(
    ([lpl, current]): Evidence => ({
      kind: 'memory',
      about: `level ${lpl}, one service of four conductors: ${current} in each`,
      source: 'common figures for the impulse current at the entrance, from memory (IEC 60364-5-53)',
      given: { lpl, services: '1', conductors: '4' },
      expect: { current_per_conductor: { value: current, tolerance: '0.005 kA' } },
    }),
  ),
  ...classOneTests(),
  {
    kind: 'independent',
    about: 'Annex E, soil of 100 Ω m, one service underground: a third of the current',
    source: 'Z/(Z1 + n Z) = 4/(8 + 4) = 1/3 by hand; 200 kA/3 = 66.67 kA, the rest to earth',
    given: {
      method: 'annex-e',
      lpl: 'I',
      services: '1',
      conductors: '4',
      earth_impedance: '4 ohm',
      service_impedance: '8 ohm',
    },
    expect: {
      current_per_service: { value: '66.667 kA', tolerance: '0.0005 kA' },
      current_to_earth: { value: '133.333 kA', tolerance: '0.0005 kA' },
    },
  },
  {
    kind: 'independent',
    about: 'Annex E with overhead services divides as parallel impedances do',
    source:
      'conductances of 4, 8, 8 and 20 Ω in parallel: 1/4 + 2/8 + 1/20 = 0.55; to earth 0.25/0.55, overhead 0.05/0.55 of 110 kA',
    given: {
      method: 'annex-e',
      lightning_current: '110 kA',
      services: '2',
      overhead_services: '1',
      service_kind: 'overhead',
      conductors: '2',
      earth_impedance: '4 ohm',
      service_impedance: '8 ohm',
      overhead_impedance: '20 ohm',
    },
    expect: {
      current_to_earth: { value: '50 kA', tolerance: '0.0001 kA' },
      current_per_service: { value: '10 kA', tolerance: '0.0001 kA' },
    },
  },
];

/** Charge and specific energy by impulse current, the current of the conductor, as the page prints them. */
function classOneTests(): Evidence[] {
  const rows: readonly (readonly [current: string, charge: string, energy: string])[] = [
    ['1', '0.5', '0.25'],
    ['2', '1', '1'],
    ['5', '2.5', '6.25'],
    ['10', '5', '25'],
    ['12.5', '6.25', '39'],
    ['20', '10', '100'],
    ['25', '12.5', '156'],
  ];
  return rows.map(([current, charge, energy]): Evidence => {
    const whole = Number(energy) > 30;
    return {
      kind: 'published',
      about: `class I test of ${current} kA: ${charge} As, ${energy} kJ/Ω`,
      source: 'Characteristics of surge protective devices (asutpp.com), preferred values of IEC 61643-11',
      given: { lightning_current: `${Number(current) * 2} kA`, services: '1', conductors: '1' },
      expect: {
        current_per_conductor: { value: `${current} kA`, tolerance: '0 kA' },
        charge: { value: `${charge} C`, tolerance: '0.005 C' },
        specific_energy: { value: `${energy} kJ/ohm`, tolerance: whole ? '0.5 kJ/ohm' : '0.005 kJ/ohm' },
      },
    };
  });
}
