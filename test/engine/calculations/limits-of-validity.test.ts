import { describe, expect, test } from 'vitest';
import { DOMAINS } from '../../../src/engine/calculations/registry.ts';
import { DESIGN_CASES } from './limit-cases-of-designs.ts';
import { type LimitCases, POWER_CASES } from './limit-cases-of-power-systems.ts';
import { type CaseGiven, runCase } from './run-case.ts';

const risk: CaseGiven = {
  ground_flash_density: '2 1/km^2/year',
  structure: [{ length: '15 m', width: '20 m', height: '6 m', location: 'isolated' }],
  zones: [
    { persons: 3, floor: 'wood', fire: 'low' },
    { persons: 2, floor: 'wood', fire: 'low' },
  ],
};

const store = { persons: 5, floor: 'wood', fire: 'explosion-2' };
const dangerous = { damage: 0.1, systems: 0.1 };

const CASES: Readonly<Record<string, LimitCases>> = {
  'spd-effective-protection-level': {
    given: {
      spd_type: 'limiting',
      protection_level: '1.5 kV',
      lead_a: '0.1 m',
      lead_b: '0 m',
      lead_c: '0 m',
    },
    limits: [
      [
        'disconnector-in-branch',
        { wiring: 'through-line', disconnector_length: '1 mm' },
        { disconnector_length: '1 mm' },
      ],
      [
        'front-needs-current',
        { front_time: '8 us', steepness: '1 kA/us' },
        { front_time: '8 us', current: '10 kA' },
      ],
      [
        'twenty-percent-leads',
        { drop_basis: 'twenty-percent', lead_c: '0.401 m' },
        { drop_basis: 'twenty-percent', lead_c: '0.4 m' },
      ],
      [
        'induced-below-withstand',
        { circuit_length: '20 m', impulse_withstand: '2.5 kV', induced_voltage: '2.5 kV' },
        { circuit_length: '20 m', impulse_withstand: '2.5 kV', induced_voltage: '2.49 kV' },
      ],
    ],
  },
  'spd-mounting-comparison': {
    given: { rail_lead: '0.5 m' },
    limits: [
      [
        'within-residual-table',
        { residual_voltages: points(10, 40), currents: ['9.9 kA', '40 kA'] },
        { residual_voltages: points(10, 40), currents: ['10 kA', '40 kA'] },
      ],
      [
        'beyond-exponent',
        { protection_level: '1.2 kV', nominal_current: '20 kA', exponent: '0.1', currents: ['60.1 kA'] },
        { protection_level: '1.2 kV', nominal_current: '20 kA', exponent: '0.1', currents: ['60 kA'] },
      ],
      [
        'point-of-characteristic',
        { exponent: '0.1', currents: ['20 kA'], protection_level: '1.2 kV' },
        { exponent: '0.1', currents: ['20 kA'], protection_level: '1.2 kV', nominal_current: '20 kA' },
      ],
    ],
  },
  'spd-selection': {
    given: { nominal_voltage: '230 V' },
    limits: [
      ['tn-c-mode', { system: 'TN-C', mode: 'L-PE' }, { system: 'TN-C', mode: 'L-PEN' }],
      ['pen-in-tn-c', { system: 'TT', mode: 'L-PEN' }, { system: 'TT', mode: 'L-PE' }],
      [
        'mode-of-connection',
        { system: 'TT', mode: 'L-PE', connection: 'type-2' },
        { system: 'TT', mode: 'L-PE', connection: 'type-1' },
      ],
      [
        'without-neutral',
        { system: 'IT', mode: 'N-PE', neutral: 'not-distributed' },
        { system: 'IT', mode: 'L-PE', neutral: 'not-distributed' },
      ],
    ],
  },
  'lightning-current-share': {
    given: { lpl: 'II', conductors: '4', earth_impedance: '4 ohm', service_impedance: '8 ohm' },
    limits: [
      ['at-least-one-service', { services: '0' }, { services: '1' }],
      ['simplified-services', { services: '1', overhead_services: '1' }, { services: '2' }],
      [
        'considered-service',
        { method: 'annex-e', services: '0', overhead_services: '1', overhead_impedance: '20 ohm' },
        { method: 'annex-e', services: '1', overhead_services: '1', overhead_impedance: '20 ohm' },
      ],
    ],
  },
  'spd-protective-distance': {
    given: { impulse_withstand: '2.5 kV', effective_protection_level: '1.5 kV', flash: 'to-structure' },
    limits: [
      ['down-conductor-factor', { wiring_factor: '1' }, { wiring_factor: '1', down_conductor_factor: '1' }],
    ],
  },
  'collection-area': {
    given: { method: 'gb-50057', length: '10 m', width: '10 m' },
    limits: [['height-of-method', { height: '200.1 m' }, { height: '200 m' }]],
  },
  'rolling-sphere': {
    given: { lpl: 'I', rod_height: '10 m' },
    limits: [
      ['sphere-between-supports', { spacing: '40.01 m' }, { spacing: '40 m' }],
      ['object-below-rod', { object_height: '10.01 m' }, { object_height: '10 m' }],
    ],
  },
  'down-conductors': {
    given: { lpl: 'II', perimeter: '100 m' },
    limits: [
      ['spacing-within-perimeter', { spacing: '100.1 m' }, { spacing: '100 m' }],
      ['spacing-fits-count', { spacing: '9 m', count: '11' }, { spacing: '10 m', count: '10' }],
    ],
  },
  'separation-distance': {
    given: { lpl: 'II' },
    limits: [
      [
        'path-carries-shares',
        { material: 'air', path: [{ length: '2 m', share: 0.5 }], current_share: '0.5' },
        { material: 'air', path: [{ length: '2 m', share: 0.5 }] },
      ],
      ['roof-conductors', roof({ count: '3' }), roof({ count: '4' })],
      [
        'ridge-conductors',
        { ...roof({ count: '3' }), method: 'ridge' },
        { ...roof({ count: '2' }), method: 'ridge' },
      ],
      // 1/8 + 0.1 + 0.2 (c/h)^(1/3) reaches 1 at c/h = 3.875^3 = 58.2.
      [
        'share-at-most-one',
        roof({ spacing: '58.3 m', height: '1 m' }),
        roof({ spacing: '58.1 m', height: '1 m' }),
      ],
      // 1/8 + 0.1 + 0.2 (c/h)^(1/3) reaches 1/4 at c/h = 0.125^3 = 1/512.
      [
        'share-at-least-equal',
        roof({ spacing: '1 m', height: '513 m' }),
        roof({ spacing: '1 m', height: '60 m' }),
      ],
      ['roof-spacing', roof({ spacing: '20.1 m' }), roof({ spacing: '20 m' })],
      ['roof-dimensions', roof({ height: '20.1 m' }), roof({ height: '20 m' })],
      ['roof-far-outside', roof({ spacing: '0.99 m' }), roof({ spacing: '1 m' })],
      [
        'nfpa-zone',
        { standard: 'nfpa-780', material: 'air', count: '3', conductors_in_zone: '3', length: '2 m' },
        { standard: 'nfpa-780', material: 'air', conductors_in_zone: '3', length: '2 m' },
      ],
      ['zone-is-nfpa', roof({ conductors_in_zone: '4' }), roof({})],
      ['layers-fill-gap', layered('0.304 m'), layered('0.302 m')],
      [
        'path-is-iec',
        {
          standard: 'nfpa-780',
          material: 'air',
          conductors_in_zone: '3',
          path: [{ length: '2 m', share: 0.5 }],
        },
        { standard: 'nfpa-780', material: 'air', conductors_in_zone: '3', length: '2 m' },
      ],
      [
        'nfpa-material',
        {
          standard: 'nfpa-780',
          layers: [{ thickness: '0.1 m', factor: 1 }],
          conductors_in_zone: '3',
          length: '2 m',
        },
        { standard: 'nfpa-780', material: 'solid', conductors_in_zone: '3', length: '2 m' },
      ],
    ],
  },
  'conductor-heating': {
    given: { material: 'copper', section: '50 mm^2', lpl: 'II' },
    limits: [
      ['linear-resistance', { ambient_temperature: '-101 degC' }, { ambient_temperature: '-100 degC' }],
    ],
  },
  'conductor-force': {
    given: { current: '10 kA', spacing: '0.1 m' },
    limits: [['long-conductors', { length: '0.99 m' }, { length: '1 m' }]],
  },
  'bend-force': {
    given: { current: '100 kA', arm_length: '0.5 m', conductor_radius: '4 mm' },
    limits: [
      ['arm-beyond-bend', { bend_radius: '0.5 m' }, { bend_radius: '0.49 m' }],
      ['slim-conductor', { conductor_radius: '51 mm' }, { conductor_radius: '50 mm' }],
      ['tight-bend', { bend_radius: '7.9 mm' }, { bend_radius: '8 mm' }],
      ['fixing-beyond-bend', { fixing_distance: '4 mm' }, { fixing_distance: '4.1 mm' }],
      ['fixing-on-arm', { fixing_distance: '0.501 m' }, { fixing_distance: '0.5 m' }],
      ['outside-conductor', { distances: ['3.9 mm'] }, { distances: ['4 mm'] }],
      ['within-arm', { distances: ['0.51 m'] }, { distances: ['0.5 m'] }],
    ],
  },
  'conductor-inductance': {
    given: { length: '1 m', diameter: '8 mm' },
    limits: [
      [
        'wires-apart',
        { shape: 'go-and-return', spacing: '8 mm' },
        { shape: 'go-and-return', spacing: '8.1 mm' },
      ],
      [
        'proximity',
        { shape: 'go-and-return', spacing: '32 mm' },
        { shape: 'go-and-return', spacing: '32.1 mm' },
      ],
      ['sides-of-rectangle', rectangle('16 mm'), rectangle('16.1 mm')],
      ['long-strap', strap('498 mm'), strap('497 mm')],
      [
        'slim-wire',
        { shape: 'round-wire', length: '7.9 mm', frequency: 'high' },
        { shape: 'round-wire', length: '8 mm', frequency: 'high' },
      ],
    ],
  },
  'risk-assessment': {
    given: risk,
    limits: [
      [
        'persons-in-zones',
        { losses: [{ damage: 0.1 }], persons_total: '4' },
        { losses: [{ damage: 0.1 }], persons_total: '5' },
      ],
      [
        'explosion-endangers-life',
        { zones: [store], losses: [dangerous], systems_endanger_life: 'no' },
        { zones: [store], losses: [dangerous], systems_endanger_life: 'yes' },
      ],
      [
        'explosion-loss-of-systems',
        { zones: [store], losses: [{ damage: 0.1 }] },
        { zones: [store], losses: [dangerous] },
      ],
      [
        'systems-without-loss',
        { losses: [{ damage: 0.1 }], systems_endanger_life: 'yes' },
        { losses: [{ damage: 0.1 }, dangerous], systems_endanger_life: 'yes' },
      ],
      [
        'loss-of-systems-unsaid',
        { losses: [dangerous] },
        { losses: [dangerous], systems_endanger_life: 'no' },
      ],
    ],
  },
};

function points(...currents: number[]) {
  return currents.map((current) => ({ current: `${current} kA`, voltage: '1.2 kV' }));
}

function roof(given: CaseGiven): CaseGiven {
  return {
    material: 'air',
    method: 'roof',
    length: '10 m',
    count: '4',
    spacing: '10 m',
    height: '10 m',
    ...given,
  };
}

function layered(gap: string): CaseGiven {
  return {
    layers: [
      { thickness: '0.2 m', factor: 0.5 },
      { thickness: '0.1 m', factor: 1 },
    ],
    length: '5 m',
    current_share: '0.4',
    gap,
  };
}

function rectangle(width: string): CaseGiven {
  return { shape: 'rectangle', loop_length: '1 m', loop_width: width };
}

function strap(width: string): CaseGiven {
  return { shape: 'strap', width, thickness: '3 mm' };
}

/** What simulates is tried by tests of its own. */
const SIMULATED = new Set(['surge-at-terminals', 'surge-network', 'surge-statistics']);

for (const { calculations } of DOMAINS) {
  for (const { definition } of calculations) {
    if (SIMULATED.has(definition.name)) continue;
    const validity = definition.validity;
    if (validity === undefined) continue;
    describe(definition.name, () => {
      test.each(Object.entries(validity))('limit of validity %s', (name, limit) => {
        const { given, limits } = { ...CASES, ...POWER_CASES, ...DESIGN_CASES }[definition.name] ?? {
          given: {},
          limits: [],
        };
        const found = limits.find(([of]) => of === name);
        if (!found) throw new Error(`no case for: ${limit.text}`);
        const [, beyond, within] = found;
        const outside = runCase(definition.name, { ...given, ...beyond });
        const inside = runCase(definition.name, { ...given, ...within });
        const caution = `validity-${name}`;
        const parts = limit.text.split('{rows}');
        if (limit.otherwise === 'error') {
          for (const part of parts) expect(outside.faults.join()).toContain(part);
        } else expect(outside.cautions).toContain(caution);
        // A basis follows it on the page, so that each is a whole sentence.
        for (const { text } of outside.evaluated?.cautions ?? []) expect(text).toMatch(/[^.]\.$/);
        expect(inside.faults).toEqual([]);
        expect(inside.cautions).not.toContain(caution);
      });
    });
  }
}
