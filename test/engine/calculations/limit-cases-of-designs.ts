import type { LimitCases } from './limit-cases-of-power-systems.ts';
import type { CaseGiven } from './run-case.ts';

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
  'soil-resistivity': {
    given: {},
    limits: [
      [
        'equal-distances',
        { readings: [{ spacing: '2 m', outer_spacing: '4 m', resistance: '9 ohm' }] },
        { readings: [{ spacing: '2 m', resistance: '9 ohm' }] },
      ],
      [
        'unequal-distances',
        { arrangement: 'unequal', readings: [{ spacing: '2 m', resistance: '9 ohm' }] },
        {
          arrangement: 'unequal',
          readings: [{ spacing: '2 m', outer_spacing: '4 m', resistance: '9 ohm' }],
        },
      ],
      [
        'point-electrodes',
        { readings: [{ spacing: '2 m', resistance: '9 ohm', pin_depth: '0.41 m' }] },
        { readings: [{ spacing: '2 m', resistance: '9 ohm', pin_depth: '0.4 m' }] },
      ],
      // From the current electrode 1 m and 2 m, and a and 2 a: 2 a reaches five metres at a = 2.5 m.
      ['range-of-spacings', { readings: soundings(1, 2.49) }, { readings: soundings(1, 2.5) }],
      // Over rock that hardly conducts the apparent resistivity goes on rising with the distance.
      [
        'contrast-within-search',
        {
          readings: [1, 2, 4, 8, 16, 32].map((a) => ({ spacing: `${a} m`, resistance: '20 ohm' })),
        },
        { readings: soundings(1, 2, 4, 8, 16) },
      ],
      // The readings are those of a layer 6 m thick, of 100 Ω m over 20 Ω m, once out to 5 m and once out to 12 m.
      ['boundary-in-reach', { readings: layered([1, 2, 3, 5]) }, { readings: layered([1, 2, 3, 5, 12]) }],
    ],
  },
  'lps-materials': {
    given: { component: 'conductor', material: 'copper' },
    limits: [
      ['size-of-component', { thickness: '2 mm' }, { component: 'sheet', thickness: '2 mm' }],
      ['diameter-of-round', { form: 'stranded', diameter: '9 mm' }, { form: 'stranded', section: '50 mm^2' }],
      ['pipe-is-electrode', { form: 'pipe' }, { component: 'earth-rod', form: 'pipe' }],
    ],
  },
  'spd-need': {
    given: { consequence: 'other', lightning_protection_system: 'absent', lv_cable: '0.7 km' },
    limits: [['first-kilometre', { hv_cable: '0.31 km' }, { hv_cable: '0.3 km' }]],
  },
  'earthing-voltage-design': {
    given: { fault_current: '500 A', impedance_to_earth: '1 ohm', duration: '1 s', low_voltage: 'none' },
    limits: [
      ['part-of-fault-current', { neutral_current: '500 A' }, { neutral_current: '499 A' }],
      ['touch-within-rise', { touch_voltage: '501 V' }, { touch_voltage: '500 V' }],
      ['table-of-durations', { duration: '10.1 s' }, { duration: '10 s' }],
      // Four times 117 V are 468 V.
      [
        'measures-for-duration',
        { specified_measures: 'taken', fault_current: '469 A' },
        { specified_measures: 'taken', fault_current: '468 A' },
      ],
    ],
  },
  'pv-spd': {
    given: {
      installation: 'building',
      lightning_protection: 'none',
      spd: 'present',
      modules: '30',
      module_voltage: '41 V',
    },
    limits: [
      [
        'temperature-pair',
        { lowest_temperature: '-5 degC' },
        { lowest_temperature: '-5 degC', temperature_coefficient: '-0.3 %/K' },
      ],
      // 1.2 · 30 · 41.7 V are 1501.2 V; 1.2 · 30 · 41.6 V are 1497.6 V.
      ['voltage-of-part', { module_voltage: '41.7 V' }, { module_voltage: '41.6 V' }],
      [
        'levels-of-one-device',
        { continuous_voltage: '1500 V', protection_level: '1.5 kV' },
        { continuous_voltage: '1500 V', protection_level: '1.6 kV' },
      ],
    ],
  },
  'lightning-field': {
    given: {
      strike: 'nearby',
      stroke: 'first-positive',
      lpl: 'II',
      material: 'copper',
      mesh_width: '1.7 m',
      rod_radius: '5 mm',
    },
    limits: [
      ['mesh-of-formulas', beside({ mesh_width: '5.01 m' }), beside({ mesh_width: '5 m' })],
      // 20 lg 5 = 13.98 dB: 1.7 m · 1.398 = 2.3765 m.
      ['inside-volume', beside({ wall_distance: '2.37 m' }), beside({ wall_distance: '2.38 m' })],
      [
        'sphere-takes-height',
        { structure_length: '20 m' },
        { structure_length: '20 m', structure_height: '8 m' },
      ],
      [
        'slim-wire',
        beside({ loop_width: '0.2 m', loop_length: '3 m', wire_radius: '20.1 mm' }),
        beside({ loop_width: '0.2 m', loop_length: '3 m', wire_radius: '20 mm' }),
      ],
    ],
  },
  'station-shielding': {
    given: { arrangement: 'mast', shield_height: '20 m', object_height: '6 m', object_distance: '3 m' },
    limits: [
      ['angle-to-radius', byAngle({ shield_height: '30.1 m' }), byAngle({ shield_height: '30 m' })],
      ['angle-of-single', byAngle({ arrangement: 'two-wires', spacing: '9 m' }), byAngle({})],
      [
        'busbar-radius',
        { impulse_withstand: '550 kV', busbar_height: '5 m', busbar_radius: '510 mm' },
        { impulse_withstand: '550 kV', busbar_height: '5 m', busbar_radius: '500 mm' },
      ],
      // 2.2 · 300 kV / 330 Ω is 2 kA.
      [
        'currents-of-method',
        { impulse_withstand: '299 kV', surge_impedance: '330 ohm' },
        { impulse_withstand: '300 kV', surge_impedance: '330 ohm' },
      ],
      [
        'distribution-voltages',
        { impulse_withstand: '124 kV', surge_impedance: '100 ohm' },
        { impulse_withstand: '125 kV', surge_impedance: '100 ohm' },
      ],
    ],
  },
  'insulation-coordination-range-2': {
    given: { highest_voltage: '420 kV', insulation: 'external', two_percent_overvoltage: '800 kV' },
    limits: [
      [
        'statistical-external',
        { insulation: 'internal', approach: 'statistical' },
        { approach: 'statistical' },
      ],
      // The peak to earth is 342.93 kV; four times that are 1371.7 kV.
      [
        'overvoltage-above-base',
        { two_percent_overvoltage: '342.9 kV' },
        { two_percent_overvoltage: '343 kV' },
      ],
      ['factor-of-switching', { two_percent_overvoltage: '1372 kV' }, { two_percent_overvoltage: '1371 kV' }],
      // A rod to plane of 25 m has 1080 ln 12.5 = 2727.8 kV; 0.922 of it over 1.15 · 1.05 are 2082.8 kV.
      ['gap-length', rodPlane('2083 kV'), rodPlane('2082 kV')],
      // 1 m has 1080 ln 1.46 = 408.7 kV: 312.1 kV over the factors, of a system of 300 kV.
      [
        'short-gap',
        { ...rodPlane('312 kV'), highest_voltage: '300 kV' },
        { ...rodPlane('313 kV'), highest_voltage: '300 kV' },
      ],
      [
        'risk-not-internal',
        { insulation: 'internal', overvoltage_deviation: '60 kV' },
        { overvoltage_deviation: '60 kV' },
      ],
    ],
  },
  'line-lightning-performance': {
    given: {
      ground_flash_density: '1 1/km^2/year',
      tower_height: '24 m',
      shield_height: '20 m',
      phase_height: '14 m',
      phase_offset: '2 m',
      flashover_voltage: '900 kV',
    },
    limits: [
      ['wire-above-phase', { phase_height: '20 m' }, { phase_height: '19.9 m' }],
      ['tower-above-wire', { tower_height: '19.9 m' }, { tower_height: '20 m' }],
      ['low-towers', { tower_height: '50.1 m' }, { tower_height: '50 m' }],
      // 400 ohm over 44.44 ohm, times a span of 1.111 us, is 10 us.
      [
        'tail-of-formula',
        { wire_impedance: '400 ohm', span: '333.333 m', footing_resistance: '44.5 ohm' },
        { wire_impedance: '400 ohm', span: '333.333 m', footing_resistance: '44.4 ohm' },
      ],
      // 376.99 ohm m / (2 pi 2 ohm) is 30 m.
      [
        'concentrated-footing',
        towers({ footing_resistance: '2 ohm', soil_resistivity: '378 ohm m' }),
        towers({ footing_resistance: '2 ohm', soil_resistivity: '376 ohm m' }),
      ],
    ],
  },
  'cable-sheath-protection': {
    given: {
      bonding: 'single-point',
      formation: 'flat',
      section_length: '400 m',
      spacing: '100 mm',
      sheath_diameter: '80 mm',
      load_current: '500 A',
    },
    limits: [
      ['sheaths-apart', { spacing: '79.9 mm' }, { spacing: '80 mm' }],
      ['conductor-apart', { conductor_distance: '40 mm' }, { conductor_distance: '40.1 mm' }],
    ],
  },
  'transferred-surge': {
    given: {},
    limits: [
      ['something-to-judge', { withstand_voltage: '6 kV' }, { surge_voltage: '50 kV' }],
      [
        'neutral-said',
        { arrester_current: '5 kA', earth_resistance: '1 ohm' },
        { arrester_current: '5 kA', earth_resistance: '1 ohm', neutral: 'joined' },
      ],
      [
        'step-down',
        { surge_voltage: '50 kV', hv_voltage: '10 kV', lv_voltage: '10.1 kV' },
        { surge_voltage: '50 kV', hv_voltage: '10 kV', lv_voltage: '10 kV' },
      ],
    ],
  },
  'inspection-record': {
    given: { object: 'lps-iii-iv' },
    limits: [
      ['something-recorded', {}, { last_year: '2029', last_month: '4' }],
      ['visual-measures-nothing', { ...earthOf('8 ohm'), inspection: 'visual' }, earthOf('8 ohm')],
      [
        'judged-after-last',
        { last_year: '2029', last_month: '4', judged_year: '2029', judged_month: '3' },
        { last_year: '2029', last_month: '4', judged_year: '2029', judged_month: '4' },
      ],
      ['open-connection', earthOf('1001 ohm'), earthOf('1000 ohm')],
    ],
  },
};

function earthOf(measured: string): CaseGiven {
  return { earth_resistances: [{ measured, required: '10 ohm' }] };
}

function towers(given: CaseGiven): CaseGiven {
  return { wire_impedance: '450 ohm', span: '280 m', ...given };
}

function rodPlane(two_percent_overvoltage: string): CaseGiven {
  return { approach: 'statistical', altitude: '0 m', gap: 'rod-plane', two_percent_overvoltage };
}

function byAngle(given: CaseGiven): CaseGiven {
  return { method: 'iec-62305-3-angle', lpl: 'II', ...given };
}

function beside(given: CaseGiven): CaseGiven {
  return { strike_distance: '120 m', ...given };
}

function soundings(...spacings: number[]) {
  return spacings.map((a) => ({ spacing: `${a} m`, resistance: `${20 / a ** 1.2} ohm` }));
}

/** Apparent resistivity of two layers by the images of the electrodes, with equal distances. */
function layered(spacings: readonly number[]) {
  return spacings.map((a) => {
    const images = Array.from({ length: 60 }, (_, i) => {
      const depth = 2 * (i + 1) * 6;
      return (-2 / 3) ** (i + 1) * (1 / Math.hypot(a, depth) - 1 / Math.hypot(2 * a, depth));
    });
    const apparent = 100 * (1 + 4 * a * images.reduce((sum, image) => sum + image, 0));
    return { spacing: `${a} m`, resistance: `${(apparent / (2 * Math.PI * a)).toPrecision(9)} ohm` };
  });
}

function earthWire(spans: number) {
  return { span_resistance: '0.3 ohm', span_reactance: '0.4 ohm', footing_resistance: '12.5 ohm', spans };
}
