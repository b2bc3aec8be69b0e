import type { CaseGiven } from './run-case.ts';

/** One limit of validity: its name in the definition, givens beyond it, and givens that keep to it by a hair. */
export type Limit = readonly [limit: string, beyond: CaseGiven, within: CaseGiven];

export interface LimitCases {
  readonly given: CaseGiven;
  readonly limits: readonly Limit[];
}

const rating: CaseGiven = { highest_voltage: '36 kV' };
const grid: CaseGiven = {
  resistivity: '100 ohm m',
  current: '500 A',
  length: '40 m',
  width: '40 m',
  conductors_along: '5',
  conductors_across: '5',
  depth: '0.5 m',
  conductor_diameter: '10 mm',
};
/** Arresters, insulation, travelling waves and earthing. */
export const POWER_CASES: Readonly<Record<string, LimitCases>> = {
  'arrester-rating': {
    given: rating,
    limits: [
      [
        'eighty-percent-effective',
        { method: 'is-80-percent', earthing: 'resonant' },
        { method: 'is-80-percent', earthing: 'effective' },
      ],
      ['duration-for-effective', { earthing: 'effective' }, { earthing: 'effective', fault_duration: '1 s' }],
      [
        'shortest-duration',
        { earthing: 'resonant', fault_duration: '0.099 s' },
        { earthing: 'resonant', fault_duration: '0.1 s' },
      ],
      [
        'longest-duration',
        { earthing: 'effective', fault_duration: '100.1 s' },
        { earthing: 'effective', fault_duration: '100 s' },
      ],
      [
        'continuous-below-rated',
        { earthing: 'resonant', rated_voltage: '45 kV', continuous_voltage: '45 kV' },
        { earthing: 'resonant', rated_voltage: '45 kV', continuous_voltage: '44.9 kV' },
      ],
      [
        'effective-factor',
        { earthing: 'effective', fault_duration: '1 s', earth_fault_factor: '1.41' },
        { earthing: 'effective', fault_duration: '1 s', earth_fault_factor: '1.4' },
      ],
      [
        'non-effective-factor',
        { earthing: 'non-effective', fault_duration: '1 s', earth_fault_factor: '1.4' },
        { earthing: 'non-effective', fault_duration: '1 s', earth_fault_factor: '1.41' },
      ],
    ],
  },
  'arrester-discharge-current': {
    given: { prospective_voltage: '100 kV', surge_impedance: '400 ohm' },
    limits: [['surge-drives-current', { residual_voltage: '200 kV' }, { residual_voltage: '199 kV' }]],
  },
  'arrester-duty': {
    given: {
      rated_voltage: '10 kV',
      switching_overvoltage: '40 kV',
      line_length: '10 km',
      surge_impedance: '400 ohm',
    },
    limits: [
      [
        'residual-of-rating',
        { class: 'DM', residual_voltage: '14.9 kV' },
        { class: 'DM', residual_voltage: '15 kV' },
      ],
      [
        'class-fits-arrester',
        { class: 'line-discharge-1', residual_voltage: '32 kV' },
        { class: 'line-discharge-1', residual_voltage: '31.9 kV' },
      ],
      [
        'surge-reaches-level',
        { class: 'DH', residual_voltage: '20 kV', flashover_voltage: '15 kV', lightning_level: '30 kV' },
        { class: 'DH', residual_voltage: '20 kV', flashover_voltage: '15.1 kV', lightning_level: '30 kV' },
      ],
      // 2 * 100 kV against n * 30 kV * (1 + ln(200/30)) = n * 86.9 kV: two lines leave something, three nothing.
      ['positive-lightning-energy', lightning('3'), lightning('2')],
    ],
  },
  'arrester-connection': {
    given: { residual_voltage: '33 kV', steepness: '10 kA/us', line_lead: '1 m', earth_lead: '5 m' },
    limits: [
      [
        'separate-without-joint',
        {
          arrangement: 'separate-earths',
          bond_position: '1 m',
          current: '5 kA',
          earth_resistance: '10 ohm',
        },
        { arrangement: 'common-earth', bond_position: '1 m' },
      ],
      [
        'joint-on-earth-lead',
        { arrangement: 'common-earth', bond_position: '5.01 m' },
        { arrangement: 'common-earth', bond_position: '5 m' },
      ],
    ],
  },
  'arrester-protective-distance-statistical': {
    given: {
      line_factor: '4500 kV',
      lines: '1',
      span: '50 m',
      failure_length: '50 m',
      insulation: 'internal',
      protection_level: '90 kV',
    },
    limits: [['full-reflection', { distance: '2.01 m' }, { distance: '2 m' }]],
  },
  'insulation-margins': {
    given: { lightning_withstand: '95 kV' },
    limits: [['at-least-one-pair', { switching_level: '30 kV' }, { lightning_level: '30 kV' }]],
  },
  'insulation-withstand': {
    given: { highest_voltage: '36 kV', insulation: 'internal' },
    limits: [
      [
        'lightning-test',
        {
          overvoltage_kind: 'lightning',
          representative_overvoltage: '100 kV',
          convert_to: 'power-frequency',
        },
        { overvoltage_kind: 'lightning', representative_overvoltage: '100 kV' },
      ],
      [
        'two-percent-switching',
        { overvoltage_kind: 'lightning', two_percent_overvoltage: '76 kV' },
        { overvoltage_kind: 'switching', two_percent_overvoltage: '76 kV' },
      ],
      [
        'protective-level-pair',
        { overvoltage_kind: 'switching', representative_overvoltage: '71 kV', protective_level: '71 kV' },
        { overvoltage_kind: 'switching', two_percent_overvoltage: '76 kV', protective_level: '71 kV' },
      ],
      // The peaks of 36 kV are 29.39 kV to earth and 50.91 kV between phases.
      ['least-phase-earth', twoPercent('phase-earth', '29.3 kV'), twoPercent('phase-earth', '29.4 kV')],
      ['least-phase-phase', twoPercent('phase-phase', '50.9 kV'), twoPercent('phase-phase', '51 kV')],
    ],
  },
  'earth-electrode': {
    given: { resistivity: '100 ohm m' },
    limits: [
      ['grid-by-ieee-80', earthGrid({ method: 'bs-7430-2011' }), earthGrid({})],
      ['ieee-80-grid-only', rod({ method: 'ieee-80' }), rod({})],
      ['ring-method', ring({ method: 'bs-7430-2011' }), ring({})],
      ['rods-in-table', rods({ count: '11' }), rods({ count: '10' })],
      [
        'rods-with-factor',
        rods({ method: 'ieee-142', count: '5' }),
        rods({ method: 'ieee-142', count: '4' }),
      ],
      [
        'factor-spacing',
        rods({ method: 'ieee-142', spacing: '2.99 m' }),
        rods({ method: 'ieee-142', spacing: '3 m' }),
      ],
      ['rods-hinder', rods({ spacing: '2.99 m' }), rods({ spacing: '3 m' })],
      // r = 3 m / (ln(8 * 3 m / d) - 1) is 0.475 m for 16 mm; the rods here are as the fixture has them.
      ['rods-apart', rods({ spacing: '0.7 m' }), rods({ spacing: '1.2 m' })],
      ['slender-rod', rod({ diameter: '301 mm' }), rod({ diameter: '300 mm' })],
      ['long-strip', strip({ depth: '7.6 m' }), strip({ depth: '7.5 m' })],
      [
        'thin-strip-conductor',
        strip({ cross_section: 'round', diameter: '301 mm' }),
        strip({ cross_section: 'round', diameter: '300 mm' }),
      ],
      ['narrow-strip', strip({ width: '1.51 m' }), strip({ width: '1.5 m' })],
      [
        'strip-thickness',
        strip({ method: 'ieee-142', thickness: '3.2 mm' }),
        strip({ method: 'ieee-142', thickness: '3.1 mm' }),
      ],
      ['wide-ring', ring({ depth: '2.6 m' }), ring({ depth: '2.5 m' })],
      // A plate of 1 m by 1 m stands for a disc of 0.564 m.
      ['deep-plate', plate('0.56 m'), plate('0.57 m')],
      ['grid-depth', earthGrid({ depth: '0.24 m' }), earthGrid({ depth: '0.25 m' })],
      ['grid-conductors', earthGrid({ total_length: '39 m' }), earthGrid({ total_length: '40 m' })],
    ],
  },
  'earth-grid': {
    given: grid,
    limits: [
      ['depth', { depth: '2.51 m' }, { depth: '2.5 m' }],
      ['conductor-diameter', { conductor_diameter: '125 mm' }, { conductor_diameter: '124 mm' }],
      ['spacing-checked', { conductors_along: '17', conductors_across: '17' }, {}],
      ['conductors-checked', { conductors_along: '27', conductors_across: '27' }, {}],
      ['square-meshes', { conductors_along: '6' }, {}],
      // 40 m over 4 spaces against 40 m over 13: a ratio of 3.25; over 12: 3.
      ['meshes-too-narrow', { conductors_across: '14' }, { conductors_across: '13' }],
      [
        'widest-spacing-checked',
        { conductors_along: '2', conductors_across: '2', width: '22.6 m', length: '22.6 m' },
        { conductors_along: '2', conductors_across: '2', width: '22.5 m', length: '22.5 m' },
      ],
      ['area-checked', { length: '100.1 m', width: '100 m' }, { length: '100 m', width: '100 m' }],
      ['single-mesh', { conductors_along: '2', conductors_across: '2' }, { conductors_along: '2' }],
      // The diagonal of 40 m by 40 m is 56.57 m.
      ['long-rods', { rods: '4', rod_length: '28.3 m' }, { rods: '4', rod_length: '28.2 m' }],
      ['rods-beyond-diagonal', { rods: '4', rod_length: '56.6 m' }, { rods: '4', rod_length: '56.5 m' }],
      // 400 m of conductors.
      ['most-of-rods', { rods: '81', rod_length: '10 m' }, { rods: '80', rod_length: '10 m' }],
      [
        'positive-mesh-factor',
        { conductors_along: '100', conductors_across: '100', conductor_diameter: '120 mm' },
        {},
      ],
    ],
  },
  'electrode-length': {
    given: { lpl: 'I', arrangement: 'type-a', length: '50 m', count: '2' },
    limits: [['resistivity-of-curves', { resistivity: '3001 ohm m' }, { resistivity: '3000 ohm m' }]],
  },
  'impulse-earth-resistance': {
    given: { resistivity: '377 ohm m', current: '10 kA' },
    // 377 ohm m / (2 pi 30 m) = 2 ohm.
    limits: [['concentrated-electrode', { resistance: '1.99 ohm' }, { resistance: '2.01 ohm' }]],
  },
  'touch-and-step-limits': {
    given: { duration: '1 s', resistivity: '100 ohm m' },
    limits: [
      ['body-mass', { body_mass: '60 kg' }, { body_mass: '70 kg' }],
      ['longest-duration', { duration: '3.01 s' }, { duration: '3 s' }],
      [
        'shortest-duration',
        { method: 'en-50522', duration: '0.049 s' },
        { method: 'en-50522', duration: '0.05 s' },
      ],
      [
        'layer-resistivity',
        { surface_depth: '0.1 m' },
        { surface_depth: '0.1 m', surface_resistivity: '2500 ohm m' },
      ],
      ['layer-raises-limits', layer('99 ohm m'), layer('100 ohm m')],
    ],
  },
  'touch-and-step-precautions': {
    given: { occupancy: 'normal' },
    limits: [
      [
        'edition-2006-layer',
        { edition: 'iec-62305-3-2006', contact_resistance: '100 kohm' },
        { contact_resistance: '100 kohm' },
      ],
      [
        'edition-2010-layer',
        { surface_resistivity: '5 kohm m' },
        { edition: 'iec-62305-3-2006', surface_resistivity: '5 kohm m' },
      ],
    ],
  },
  'line-constants': {
    given: {},
    limits: [
      ['high-conductor', overhead('99 mm'), overhead('100 mm')],
      ['separate-wires', twoWire('20 mm'), twoWire('20.1 mm')],
      ['screen-outside-core', coaxial('10 mm'), coaxial('10.1 mm')],
      // 1 uH/m with 11.111 pF/m: 300 m/us.
      ['faster-than-light', constants('10.8 pF/m'), constants('11.2 pF/m')],
      ['rounded-constants', constants('11.0 pF/m'), constants('11.2 pF/m')],
    ],
  },
};

function lightning(lines: string): CaseGiven {
  return {
    class: 'DH',
    residual_voltage: '20 kV',
    flashover_voltage: '100 kV',
    lightning_level: '30 kV',
    lines,
  };
}

function twoPercent(between: string, value: string): CaseGiven {
  return { overvoltage_kind: 'switching', between, two_percent_overvoltage: value };
}

function earthGrid(given: CaseGiven): CaseGiven {
  return {
    kind: 'grid',
    method: 'ieee-80',
    area: '100 m^2',
    total_length: '120 m',
    depth: '0.5 m',
    ...given,
  };
}

function rod(given: CaseGiven): CaseGiven {
  return { kind: 'rod', length: '3 m', diameter: '16 mm', ...given };
}

function rods(given: CaseGiven): CaseGiven {
  return { kind: 'rods-in-line', length: '3 m', diameter: '16 mm', count: '4', spacing: '3 m', ...given };
}

function ring(given: CaseGiven): CaseGiven {
  return {
    kind: 'ring',
    method: 'ieee-142',
    ring_diameter: '10 m',
    diameter: '10 mm',
    depth: '0.5 m',
    ...given,
  };
}

function strip(given: CaseGiven): CaseGiven {
  return { kind: 'strip', length: '30 m', width: '25 mm', depth: '0.6 m', ...given };
}

function plate(depth: string): CaseGiven {
  return { kind: 'plate', method: 'ieee-142', length: '1 m', width: '1 m', depth };
}

function layer(surface_resistivity: string): CaseGiven {
  return { surface_depth: '0.1 m', surface_resistivity };
}

function overhead(height: string): CaseGiven {
  return { kind: 'overhead', radius: '10 mm', height };
}

function twoWire(spacing: string): CaseGiven {
  return { kind: 'two-wire', radius: '10 mm', spacing };
}

function coaxial(outer_radius: string): CaseGiven {
  return { kind: 'coaxial', radius: '10 mm', outer_radius };
}

function constants(capacitance: string): CaseGiven {
  return { inductance: '1 uH/m', capacitance };
}
