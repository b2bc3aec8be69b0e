import type { Evidence } from '../../definition/definition.ts';

const years = (value: string) => `${value} 1/year`;

const house = {
  ground_flash_density: '4 1/km^2/year',
  structure: [{ length: '15 m', width: '20 m', height: '6 m', location: 'isolated' }],
  lines: [
    { length: '1000 m', installation: 'buried', surroundings: 'rural' },
    { length: '1000 m', installation: 'aerial', surroundings: 'rural' },
  ],
  zones: [{ persons: 5, floor: 'wood', fire: 'low' }],
  losses: [{ damage: 0.1 }],
};

export const evidenceOfRisk: readonly Evidence[] = [
  {
    kind: 'memory',
    about: 'country house of the standard, unprotected: R1 = 2.51e-5, above the tolerable 1e-5',
    source: 'IEC 62305-2:2010, Annex E.2, values from memory',
    given: house,
    expect: {
      AD: { value: '2.58e3 m^2', tolerance: '5 m^2' },
      ND: { value: years('1.03e-2'), tolerance: years('0.005e-2') },
      NL_: { items: [years('8.00e-2'), years('1.60e-1')], tolerance: years('0.005e-2') },
      NI_: { items: [years('8.00'), years('16')], tolerance: years('0.005') },
      RB: { value: years('0.103e-5'), tolerance: years('0.0005e-5') },
      RV: { value: years('2.40e-5'), tolerance: years('0.005e-5') },
      R1: { value: years('2.51e-5'), tolerance: years('0.005e-5') },
    },
  },
  {
    kind: 'independent',
    about: 'the same with surge protective devices at the entrance: 0.223e-5',
    source: 'RB 1.031e-6 + 0.05 · 2.40e-5 + 0.05 · 2.4e-8 + 1.0e-9 = 2.234e-6 by hand',
    given: { ...house, measures: [{ bonding: 'III-IV' }] },
    expect: { R1: { value: years('0.2234e-5'), tolerance: years('0.0002e-5') } },
  },
  {
    kind: 'independent',
    about: 'the same with a protection system of class IV besides: 0.141e-5',
    source: '0.2 · 1.031e-6 + 0.05 · 2.4024e-5 = 1.408e-6 by hand',
    given: { ...house, measures: [{ bonding: 'III-IV', protection_system: 'IV' }] },
    expect: { R1: { value: years('0.1408e-5'), tolerance: years('0.0002e-5') } },
  },
  {
    kind: 'memory',
    about: 'apartment house of the standard, 30 m by 20 m, 20 m high: 7.16e-2 flashes a year',
    source: 'IEC 62305-2:2010, Annex E, apartment house, values from memory: 1.79e4 m²',
    given: {
      ...house,
      structure: [{ length: '30 m', width: '20 m', height: '20 m', location: 'isolated' }],
    },
    expect: {
      AD: { value: '1.79e4 m^2', tolerance: '50 m^2' },
      ND: { value: years('7.16e-2'), tolerance: years('0.005e-2') },
    },
  },
  {
    kind: 'memory',
    about: 'the house needs no protection system: surge protective devices of levels III-IV suffice',
    source: 'IEC 62305-2:2010, Annex E.2, from memory: devices at the entrance bring R1 below 1e-5',
    given: { ...house, measures: [{ bonding: 'III-IV' }] },
    expect: { R1: { verdict: 'complies' }, selected_lpl: { choice: 'none' } },
  },
  {
    kind: 'limiting-case',
    about: 'without lines only the flashes to the structure are left',
    source: 'RU and RV vanish; RA is a thousandth of RB',
    given: { ...house, lines: [{ length: '0.001 m', installation: 'meshed', surroundings: 'urban-tall' }] },
    expect: { R1: { value: years('1.0322e-6'), tolerance: years('0.0005e-6') } },
  },
  {
    kind: 'independent',
    about: 'a store with a risk of explosion: fire protection does not count, and failures of systems do',
    source:
      'by hand: AD 1406.86 m², ND 2.814e-4, NM 1.611e-1; RB = ND · 0.1 · 0.1 = 2.814e-6; RC = ND · 0.1 = 2.814e-5; ' +
      'PM = 1, RM = NM · 0.1 = 1.611e-2; NL 4e-3, RV = NL · 0.01 = 4.0e-5, RW = NL · 0.1 = 4.0e-4; NI 0.4, RZ = 4.0e-2',
    given: {
      ground_flash_density: '0.2 1/km^2/year',
      structure: [{ length: '10 m', width: '10 m', height: '5 m', location: 'isolated' }],
      lines: [{ length: '1000 m', installation: 'buried', surroundings: 'rural' }],
      zones: [{ persons: 2, floor: 'wood', fire: 'explosion-1', fire_protection: 'automatic' }],
      losses: [{ damage: 0.1, systems: 0.1 }],
    },
    expect: {
      RB: { value: years('2.814e-6'), tolerance: years('0.0005e-6') },
      RC: { value: years('2.814e-5'), tolerance: years('0.0005e-5') },
      RM: { value: years('1.611e-2'), tolerance: years('0.0005e-2') },
      RV: { value: years('4.0e-5'), tolerance: years('0.001e-5') },
      RW: { value: years('4.0e-4'), tolerance: years('0.001e-4') },
      RZ: { value: years('4.0e-2'), tolerance: years('0.0005e-2') },
      R1: { verdict: 'does-not-comply' },
      selected_lpl: { choice: 'insufficient' },
    },
  },
];
