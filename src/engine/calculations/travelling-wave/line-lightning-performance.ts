import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence, QuantityGiven, SolutionOutcome, SolverValues } from '../../definition/definition.ts';
import { findBackflash } from '../../physics/backflash-current.ts';
import { type LineGeometry, largestPassing, meanExposedWidth } from '../../physics/line-exposure.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const strokes = recall('ieee-1243-1997', '4.2, strokes to a line, after Eriksson');
const geometric = recall('ieee-1243-1997', 'clause 5, electrogeometric model and shielding failure');
const distribution = recall('ieee-1243-1997', '3.1, distribution of the first stroke');
const backflash = recall('cigre-tb-63-1991', 'simplified method of the back-flashover rate');
const ionisation = recall('cigre-tb-63-1991', 'resistance of concentrated earths at high currents');

const metres = (symbol: string, meaning: string, usual?: QuantityGiven['usual']): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: 'm',
  permitted: { above: '0 m' },
  ...(usual ? { usual } : {}),
});
const FOOTING = 'given footing_resistance';
const PASSED = 'fully shielded';
const NONE = 'no current causes a back-flashover';

/** Lightning outages of an overhead line with earth wires: shielding failures and back-flashovers. */
export const lineLightningPerformance = defineCalculation({
  name: 'line-lightning-performance',
  title: 'Lightning performance of an overhead line',
  purpose:
    'Finds how many strokes an overhead line with earth wires collects in a year, how many pass the earth wires and strike ' +
    'a phase by the electrogeometric model, and how many strokes to tower and earth wire flash back to a phase, by ' +
    'closed formulas: for the choice of shielding angle, insulation and footing resistance.',
  answers: [
    'How many times a year does lightning trip the line?',
    'How many flashovers are caused by shielding failures, and how many by back-flashovers?',
  ],
  example: `
    id: line-132-performance
    title: 132 kV line, flashovers by lightning
    given:
      ground_flash_density: { value: 2 1/km^2/year, source: "lightning location service" }
      line_length: { value: 40 km, source: "route plan" }
      tower_height: { value: 30 m, source: "drawing of the tower" }
      wire_separation: { value: 10 m, source: "drawing of the tower" }
      shield_height: { value: 25 m, source: "drawing of the tower, less two thirds of the sag" }
      phase_height: { value: 18 m, source: "drawing of the tower, less two thirds of the sag" }
      phase_offset: { value: 1 m, source: "drawing of the tower" }
      flashover_voltage: { value: 1200 kV, source: "data sheet of the string" }
      wire_impedance: 350 ohm
      coupling: 0.3
      footing_resistance: { value: 20 ohm, source: "measured on site" }
      soil_resistivity: { value: 300 ohm m, source: "four-electrode readings" }
      span: 300 m
      power_voltage: 75 kV
      permitted_shielding_rate: { value: 0.2 1/year, source: "rules of the utility" }
      permitted_rate: { value: 3 1/year, source: "rules of the utility" }
  `,
  givens: {
    ground_flash_density: {
      type: 'quantity',
      symbol: 'N_\\mathrm{g}',
      meaning: 'ground flash density along the line',
      unit: '1/km^2/year',
      permitted: { above: '0 1/km^2/year' },
      usual: {
        from: '0.05 1/km^2/year',
        to: '50 1/km^2/year',
        because: 'densities run from some hundredths in the far north to some tens in the tropics',
      },
    },
    line_length: {
      type: 'quantity',
      symbol: 'L',
      meaning: 'length of the line',
      unit: 'km',
      permitted: { above: '0 km' },
      usual: {
        from: '0.1 km',
        to: '2000 km',
        because: 'lines are some hundred metres to hundreds of kilometres long',
      },
      default: { value: '100 km', basis: commonPractice('rates are compared for 100 km') },
    },
    tower_height: metres('h_\\mathrm{t}', 'height of the towers', {
      to: '100 m',
      because: 'towers are at most some hundred metres high',
    }),
    wire_separation: {
      type: 'quantity',
      symbol: 'b',
      meaning: 'distance between the outer earth wires; 0 for a single one',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: {
        from: '1 m',
        to: '40 m',
        orNone: true,
        because: 'earth wires hang metres to tens of metres apart',
      },
      default: { value: '0 m', basis: commonPractice('one earth wire') },
    },
    shield_height: metres('h', 'mean height of the earth wires over ground, with their sag'),
    phase_height: metres('y', 'mean height of the exposed phase over ground, with its sag', {
      from: '4 m',
      because: 'phases hang some metres over ground at least',
    }),
    phase_offset: {
      type: 'quantity',
      symbol: 'a',
      meaning: 'distance of the exposed phase outside its earth wire; negative where it hangs inside',
      unit: 'm',
      permitted: { from: '-30 m', to: '30 m' },
      usual: { from: '-15 m', to: '15 m', because: 'phases hang metres outside their earth wires' },
    },
    flashover_voltage: {
      type: 'quantity',
      symbol: '\\mathrm{CFO}',
      meaning: 'critical flashover voltage of the insulator string, lightning impulse',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: { from: '80 kV', to: '4000 kV', because: 'strings have some 100 kV to 3000 kV' },
    },
    phase_impedance: {
      type: 'quantity',
      symbol: 'Z_\\mathrm{c}',
      meaning: 'surge impedance of the phase',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: USUAL.surgeImpedance,
      default: { value: '400 ohm', basis: commonPractice() },
    },
    wire_impedance: {
      type: 'quantity',
      symbol: 'Z_\\mathrm{g}',
      meaning: 'surge impedance of the earth wires together',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: {
        from: '150 ohm',
        to: '650 ohm',
        because: 'one earth wire has some 500 Ω, two together some 350 Ω',
      },
    },
    coupling: {
      type: 'quantity',
      symbol: 'C',
      meaning: 'coupling factor from the earth wires to the phase',
      unit: '1',
      permitted: { from: '0', below: '1' },
      usual: { from: '0.05', to: '0.6', orNone: true, because: 'the factor is 0.15 to 0.45' },
      default: { value: '0.15', basis: commonPractice('a low value, the safe side') },
    },
    footing_resistance: {
      type: 'quantity',
      symbol: 'R_0',
      meaning: 'resistance of the footing of a tower at low current',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: { from: '0.5 ohm', to: '500 ohm', because: 'footings have some ohms to some hundreds of ohms' },
    },
    soil_resistivity: {
      type: 'quantity',
      symbol: '\\rho',
      meaning: 'resistivity of the soil at the footing, where its ionisation is counted',
      unit: 'ohm m',
      permitted: { above: '0 ohm m' },
      usual: {
        from: '5 ohm m',
        to: '10 kohm m',
        because: 'soils range from wet clay of some Ω m to dry rock of some kΩ m (common practice)',
      },
    },
    ionisation_gradient: {
      type: 'quantity',
      symbol: 'E_0',
      meaning: 'gradient at which the soil is ionised',
      unit: 'kV/m',
      permitted: { above: '0 kV/m' },
      usual: { from: '200 kV/m', to: '1000 kV/m', because: 'values of 300 kV/m to 400 kV/m are used' },
      default: { value: '400 kV/m', basis: ionisation },
    },
    span: metres('\\ell_\\mathrm{s}', 'length of the spans', {
      from: '30 m',
      to: '1200 m',
      because: 'spans are tens of metres to some hundred metres long',
    }),
    power_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{pf}',
      meaning: 'power-frequency voltage across the string that adds at the instant of the stroke',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { from: '0 kV' },
      usual: {
        from: '1 kV',
        to: '1000 kV',
        orNone: true,
        because: 'the peak to earth of systems is 8 kV to 980 kV',
      },
      default: { value: '0 kV', basis: commonPractice('low against the flashover voltage') },
    },
    permitted_shielding_rate: {
      type: 'quantity',
      symbol: 'n_\\mathrm{SF,perm}',
      meaning: 'permitted rate of flashovers by shielding failure on this line',
      unit: '1/year',
      permitted: { above: '0 1/year' },
      usual: {
        from: '0.0001 1/year',
        to: '20 1/year',
        because: 'rates of some hundredths for 100 km and year are aimed at',
      },
      typical: [
        {
          value: '0.05 1/year',
          for: '100 km of an important line',
          basis: recall('ieee-1243-1997', 'clause 5'),
        },
      ],
    },
    permitted_rate: {
      type: 'quantity',
      symbol: 'n_\\mathrm{perm}',
      meaning: 'permitted rate of lightning flashovers on this line',
      unit: '1/year',
      permitted: { above: '0 1/year' },
      usual: {
        from: '0.001 1/year',
        to: '100 1/year',
        because: 'lines have a tenth to some tens of outages for 100 km and year',
      },
    },
  },
  solutions: {
    shielding: {
      needs: ['shield_height', 'phase_height', 'phase_offset', 'flashover_voltage', 'phase_impedance'],
      solve: solveShielding,
      pointsOfRanges: 200,
    },
    backflash: {
      needs: [
        'footing_resistance',
        'flashover_voltage',
        'wire_impedance',
        'coupling',
        'span',
        'power_voltage',
        'ionisation_gradient',
      ],
      mayUse: ['soil_resistivity'],
      solve: solveBackflash,
    },
  },
  steps: {
    strokes: {
      symbol: 'N_\\mathrm{s}',
      meaning: 'strokes to the line in a year',
      unit: '1/year',
      basis: strokes,
      formula: 'ground_flash_density * (28 * tower_height^0.6 + wire_separation) * line_length / 1000',
      numeric: {
        ground_flash_density: '1/km^2/year',
        tower_height: 'm',
        wire_separation: 'm',
        line_length: 'km',
      },
    },
    shielding_angle: {
      symbol: '\\alpha',
      meaning: 'shielding angle',
      unit: 'deg',
      basis: derivation('the geometry of the tower head'),
      formula: 'atan(phase_offset / (shield_height - phase_height))',
    },
    largest_passing: {
      symbol: 'I_\\mathrm{max}',
      meaning: 'largest stroke that can bypass the earth wire',
      unit: 'kA',
      rounded: 'up',
      voltage: { measure: 'peak' },
      basis: geometric,
      resultOf: 'shielding',
      method:
        'the current at which the arcs about earth wire and phase and the line of the ground meet in a point: 10 I^0.65 to conductors, (3.6 + 1.7 ln(43 − y)) I^0.65 to ground and 5.5 I^0.65 from 40 m on',
      says: [PASSED],
    },
    critical_current: {
      symbol: 'I_\\mathrm{c}',
      meaning: 'stroke to the phase from which the string flashes over',
      unit: 'kA',
      rounded: 'down',
      voltage: { measure: 'peak' },
      basis: geometric,
      formula: '2 * flashover_voltage / phase_impedance',
    },
    exposed_width: {
      symbol: 'D_\\mathrm{SF}',
      meaning: 'mean width at one side over which strokes strike the phase and flash over',
      unit: 'm',
      basis: geometric,
      resultOf: 'shielding',
      method:
        'the exposed width, weighted with the distribution of first strokes of median 31 kA, from the critical current on',
    },
    shielding_rate: {
      symbol: 'n_\\mathrm{SF}',
      meaning: 'flashovers by shielding failure in a year, both sides',
      unit: '1/year',
      rounded: 'up',
      basis: geometric,
      formula: '2 * ground_flash_density * line_length * exposed_width',
    },
    footing_at_flashover: {
      symbol: 'R_\\mathrm{i}',
      meaning: 'resistance of the footing at the back-flashover',
      unit: 'ohm',
      optional: true,
      basis: ionisation,
      resultOf: 'backflash',
      when: FOOTING,
      method:
        'R₀/√(1 + I_R/I_g) with I_g = E₀ ρ/(2π R₀²) and the share I_R = I Z_g/(Z_g + 2 R_i) of the stroke that the footing carries; without a resistivity R₀ itself',
      says: [NONE],
    },
    tail_constant: {
      symbol: '\\tau',
      meaning: 'time constant of the tail of the voltage across the string',
      unit: 'us',
      optional: true,
      basis: backflash,
      resultOf: 'backflash',
      when: FOOTING,
      method: 'Z_g/R_i times the travel time of a span at 300 m/µs',
      says: [NONE],
    },
    backflash_current: {
      symbol: 'I_\\mathrm{BF}',
      meaning: 'stroke to the tower from which it flashes back',
      unit: 'kA',
      rounded: 'down',
      optional: true,
      voltage: { measure: 'peak' },
      basis: backflash,
      resultOf: 'backflash',
      when: FOOTING,
      method: 'I (1 − C) R_i Z_g/(Z_g + 2 R_i) + U_pf = (0.977 + 2.82/τ) (CFO − 0.2 U_pf), with τ in µs',
      says: [NONE],
    },
    backflash_share: {
      symbol: 'P_\\mathrm{BF}',
      meaning: 'share of the strokes that exceed it',
      unit: '1',
      rounded: 'up',
      optional: true,
      basis: distribution,
      when: FOOTING,
      formula: '1 / (1 + (backflash_current / 31)^2.6)',
      numeric: { backflash_current: 'kA' },
    },
    backflash_rate: {
      symbol: 'n_\\mathrm{BF}',
      meaning: 'back-flashovers in a year',
      unit: '1/year',
      rounded: 'up',
      optional: true,
      basis: backflash,
      when: FOOTING,
      formula: '0.6 * strokes * backflash_share',
      note: 'six strokes in ten count: strokes within a span rarely cause a flashover at the tower',
    },
    total_rate: {
      symbol: 'n',
      meaning: 'lightning flashovers in a year',
      unit: '1/year',
      rounded: 'up',
      optional: true,
      basis: derivation('both causes together'),
      when: FOOTING,
      formula: 'shielding_rate + backflash_rate',
    },
  },
  checks: {
    shielding_rate: {
      criterion: 'Rate of flashovers by shielding failure against the permitted rate',
      value: 'shielding_rate',
      relation: '<=',
      limit: 'permitted_shielding_rate',
      when: 'given permitted_shielding_rate',
      force: 'recommendation',
      basis: geometric,
      remedies: [
        'Move the earth wires outwards or higher: a smaller shielding angle.',
        'Install line arresters on the exposed phases.',
      ],
    },
    total_rate: {
      criterion: 'Rate of lightning flashovers against the permitted rate',
      value: 'total_rate',
      relation: '<=',
      limit: 'permitted_rate',
      when: 'given permitted_rate',
      force: 'requirement',
      basis: commonPractice('the rate is set by the owner of the line'),
      remedies: [
        {
          when: 'given backflash_rate and shielding_rate > backflash_rate',
          text: 'Move the earth wires outwards or higher: shielding failures are the larger part of the flashovers.',
        },
        'Lower the resistance of the footings: further electrodes and counterpoises, connected to the existing ones.',
        'Lengthen the insulator strings.',
        'Install line arresters at the towers with the highest footing resistance.',
        'Add an earth wire below the phases, which raises the coupling.',
      ],
    },
  },
  validity: {
    'wire-above-phase': {
      requires: 'shield_height > phase_height',
      otherwise: 'error',
      given: 'shield_height',
      text: 'an earth wire shields a phase that hangs lower: its mean height must exceed that of the phase',
      instead: 'the mean height of the earth wire, above that of the phase',
      basis: geometric,
    },
    'tower-above-wire': {
      requires: 'tower_height >= shield_height',
      otherwise: 'error',
      given: 'tower_height',
      text: 'the earth wires hang from the towers: their mean height cannot exceed that of the towers',
      instead: 'the height of the tower at the earth wire',
      basis: derivation('wires sag'),
    },
    'low-towers': {
      requires: 'tower_height <= 50 m',
      otherwise: 'caution',
      text: 'the method neglects the tower itself: for towers higher than 50 m its travel time raises the rate of back-flashovers',
      basis: backflash,
    },
    'tail-of-formula': {
      requires: 'not given tail_constant or tail_constant >= 10 us',
      otherwise: 'caution',
      text: 'the flashover voltage for short tails was fitted for time constants of 10 µs and more, as remembered: for shorter ones it counts more strength of the string than was shown, and the rate may be higher',
      basis: backflash,
    },
    'concentrated-footing': {
      requires:
        'not given soil_resistivity or not given footing_resistance or soil_resistivity / (2 * pi * footing_resistance) <= 30 m',
      otherwise: 'caution',
      text: 'the resistance is that of an electrode larger than 30 m: its soil does not ionise like that of a concentrated one, and the impedance of a long counterpoise is higher at first',
      basis: ionisation,
    },
  },
  cautions: {
    'passes-all': {
      when: 'phase_offset > 0 m and given largest_passing and largest_passing >= 200 kA',
      text: 'Strokes of more than 200 kA bypass these earth wires: they do not shield this phase.',
    },
    'no-footing': {
      when: 'not given footing_resistance',
      text: 'No footing resistance is given: back-flashovers, mostly the larger part, are not counted.',
    },
    'shielded-line': {
      text: 'Trees and buildings beside a line take strokes from it, and a line on a ridge collects more: the number is that of a line in open country.',
      basis: strokes,
    },
    'footing-differs': {
      when: FOOTING,
      text: 'The rate is not that of the mean footing resistance: towers on rock cause most of it. Calculate sections with their own resistance, weighted with their length.',
      basis: commonPractice(),
    },
    'first-strokes': {
      text: 'Only first negative strokes are counted; subsequent strokes can cause a flashover where the first did not.',
      basis: distribution,
    },
  },
  limiting: [
    {
      given: 'footing_resistance',
      seek: 'largest',
      meaning: 'largest footing resistance with which the permitted total rate is not exceeded',
      checks: ['total_rate'],
    },
    {
      given: 'phase_offset',
      seek: 'largest',
      meaning: 'largest offset of the phase outside its earth wire',
      checks: ['shielding_rate'],
    },
  ],
  evidence: evidenceOfLines(),
});

function solveShielding(values: SolverValues): SolutionOutcome {
  const line: LineGeometry = {
    shieldHeight: values.number('shield_height'),
    phaseHeight: values.number('phase_height'),
    phaseOffset: values.number('phase_offset'),
  };
  const critical = (2 * values.number('flashover_voltage')) / values.number('phase_impedance') / 1000;
  // The least stroke that is counted as one has 1 kA.
  const largest = largestPassing(line, 1);
  return {
    results: {
      largest_passing: largest > 1 ? largest * 1000 : { words: PASSED },
      exposed_width: meanExposedWidth(line, Math.max(1, critical)),
    },
  };
}

function solveBackflash(values: SolverValues): SolutionOutcome {
  const footing = values.number('footing_resistance');
  const resistivity = values.optionalNumber('soil_resistivity');
  const of = {
    flashover: values.number('flashover_voltage'),
    powerVoltage: values.number('power_voltage'),
    footing,
    ionisationCurrent:
      resistivity === undefined
        ? Number.POSITIVE_INFINITY
        : (values.number('ionisation_gradient') * resistivity) / (2 * Math.PI * footing * footing),
    wires: values.number('wire_impedance'),
    coupling: values.number('coupling'),
    spanTime: values.number('span') / 300,
  };
  const found = findBackflash(of);
  if (found === undefined)
    return {
      results: {
        backflash_current: { words: NONE },
        footing_at_flashover: { words: NONE },
        tail_constant: { words: NONE },
      },
    };
  return {
    results: {
      backflash_current: found.stroke,
      footing_at_flashover: found.footing,
      tail_constant: found.tail / 1e6,
    },
  };
}

function evidenceOfLines(): Evidence[] {
  const line = {
    ground_flash_density: '2 1/km^2/year',
    tower_height: '30 m',
    wire_separation: '10 m',
    shield_height: '25 m',
    phase_height: '18 m',
    phase_offset: '4 m',
    flashover_voltage: '1200 kV',
  };
  return [
    {
      kind: 'independent',
      about: 'line of 30 m with two earth wires 10 m apart at 2 flashes: 45.1 strokes for 100 km and year',
      source: 'by hand: 2 · (28 · 30^0.6 + 10)/10 = 2 · (215.48 + 10)/10',
      given: {
        ...line,
        wire_impedance: '350 ohm',
        coupling: '0.3',
        footing_resistance: '25 ohm',
        soil_resistivity: '300 ohm m',
        span: '300 m',
        power_voltage: '130 kV',
        permitted_shielding_rate: '0.5 1/year',
        permitted_rate: '3 1/year',
      },
      expect: {
        strokes: { value: '45.10 1/year', tolerance: '0.005 1/year' },
        critical_current: { value: '6 kA', tolerance: '0 kA' },
        shielding_angle: { value: '29.74 deg', tolerance: '0.005 deg' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'a phase right below its earth wire is fully shielded',
      source: 'its arc lies within that of the earth wire down to the line of the ground',
      given: { ...line, phase_offset: '-3 m', permitted_shielding_rate: '0.05 1/year' },
      expect: {
        largest_passing: { words: 'fully shielded' },
        shielding_rate: { value: '0 1/year', tolerance: '0 1/year' },
      },
    },
    {
      kind: 'independent',
      about: 'footing of 20 Ω without ionisation: 98.4 kA flash back',
      source:
        'by hand: Re = 20 · 400/440 = 18.182 Ω; τ = 20 · 1 µs; (0.977 + 0.141) · 1200 = 1341.6 kV; 1341.6/(18.182 · 0.75) = 98.384 kA; 1/(1 + (98.384/31)^2.6) = 0.047303',
      given: {
        ...line,
        wire_impedance: '400 ohm',
        coupling: '0.25',
        footing_resistance: '20 ohm',
        span: '300 m',
      },
      expect: {
        backflash_current: { value: '98.384 kA', tolerance: '0.001 kA' },
        backflash_share: { value: '0.047303', tolerance: '0.0000005' },
      },
    },
  ];
}
