import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence } from '../../definition/definition.ts';
import {
  earthingConductorEditions,
  enMinimum,
  enThermal,
  iecAdiabatic,
  iecEarthing,
  ieeeThermal,
} from './earthing-conductor-editions.ts';

/** Sections in mm² in which conductors are made. IEC 60228, from memory. */
const MADE_SECTIONS = [
  1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300, 400, 500, 630, 800, 1000,
];

/** Cross-section of an earthing or protective conductor that carries an earth fault current until it is cleared. */
export const earthingConductor = defineCalculation({
  name: 'earthing-conductor',
  title: 'Cross-section of an earthing or protective conductor',
  purpose:
    'Finds the cross-section that an earthing or protective conductor needs so that an earth fault does not heat it beyond ' +
    'what its joints, its insulation and its surroundings withstand, adds an allowance for corrosion, and compares it with the ' +
    'minimum cross-section for mechanical strength and corrosion, by the standard that is chosen.',
  answers: ['Which cross-section must an earthing conductor or protective conductor have?'],
  example: `
    id: station-earthing-conductor
    title: Earthing conductor of the transformer
    given:
      material: copper
      use: earthing
      current: { value: 8 kA, source: "short-circuit study" }
      duration: { value: 0.5 s, source: "protection study" }
      initial_temperature: 30 degC
      final_temperature: { value: 200 degC, source: "bare copper, visible" }
      section: { value: 50 mm^2, source: "measured on site" }
  `,
  givens: {
    method: {
      type: 'choice',
      symbol: '\\text{method}',
      meaning: 'standard by which the conductor is dimensioned',
      options: {
        'iec-60364-5-54': 'IEC 60364-5-54:2011: adiabatic equation, low-voltage installations',
        'en-50522': 'EN 50522:2010: earthing of installations above 1 kV',
        'ieee-80-2000': 'IEEE Std 80-2000: earthing conductors of substations',
      },
      default: { value: 'iec-60364-5-54', basis: iecAdiabatic },
    },
    material: {
      type: 'choice',
      symbol: '\\text{material}',
      meaning: 'material of the conductor',
      options: {
        copper: 'copper, annealed',
        'copper-hard-drawn': 'copper, hard-drawn (IEEE Std 80 alone)',
        'copper-clad-steel-40': 'copper-clad steel, 40 % conductivity (IEEE Std 80 alone)',
        'copper-clad-steel-30': 'copper-clad steel, 30 % conductivity (IEEE Std 80 alone)',
        aluminium: 'aluminium',
        steel: 'mild steel',
        'galvanised-steel': 'zinc-coated steel (IEEE Std 80 alone)',
        'stainless-steel': 'stainless steel 304 (IEEE Std 80 alone)',
      },
    },
    use: {
      type: 'choice',
      symbol: '\\text{use}',
      meaning: 'use of the conductor, for its minimum cross-section',
      options: {
        earthing: 'earthing conductor, protected against corrosion',
        'earthing-with-lightning': 'earthing conductor to which a lightning protection system is joined',
        'buried-unprotected': 'earthing conductor bare in the soil, without protection against corrosion',
        'protective-guarded': 'protective conductor outside a cable, guarded against damage',
        'protective-open': 'protective conductor outside a cable, not guarded against damage',
      },
      default: { value: 'earthing', basis: commonPractice('the connection to the electrode') },
    },
    current: {
      type: 'quantity',
      symbol: 'I',
      meaning: 'earth fault current through this conductor, symmetrical',
      unit: 'kA',
      voltage: { measure: 'rms' },
      permitted: { above: '0 kA' },
      usual: {
        from: '0.01 kA',
        to: '100 kA',
        because: 'earth faults drive tens of amperes to tens of kiloamperes (common practice)',
      },
    },
    decrement_factor: {
      type: 'quantity',
      symbol: 'D_\\mathrm{f}',
      meaning: 'decrement factor, for the direct component of the current',
      unit: '1',
      permitted: { from: '1' },
      usual: { to: '1.75', because: 'a fully offset current has √3 times its symmetrical r.m.s. value' },
      default: {
        value: '1',
        basis: commonPractice('the direct component counts little over some tenths of a second'),
      },
    },
    duration: {
      type: 'quantity',
      symbol: 't',
      meaning: 'duration of the fault, with that of the back-up protection where it counts',
      unit: 's',
      permitted: { above: '0 s' },
      usual: {
        from: '0.02 s',
        to: '3 s',
        because: 'no switch clears a fault in less than a period, and back-up protection in at most 3 s',
      },
      typical: [
        { value: '1 s', for: 'conductors of substations, with back-up protection', basis: commonPractice() },
      ],
    },
    initial_temperature: {
      type: 'quantity',
      symbol: '\\theta_\\mathrm{i}',
      meaning: 'temperature of the conductor before the fault',
      unit: 'degC',
      permitted: { from: '-50 degC', to: '200 degC' },
      usual: {
        from: '-20 degC',
        to: '90 degC',
        because: 'conductors without load have the temperature of their surroundings',
      },
      typical: [
        { value: '20 degC', for: 'EN 50522', basis: enThermal },
        {
          value: '30 degC',
          for: 'protective conductors outside cables',
          basis: recall('iec-60364-5-54-2011', 'Table A.54.2'),
        },
        {
          value: '40 degC',
          for: 'IEEE Std 80',
          basis: recall('ieee-80-2000', '11.3.1.1, ambient temperature of the table of constants'),
        },
      ],
    },
    final_temperature: {
      type: 'quantity',
      symbol: '\\theta_\\mathrm{f}',
      meaning: 'permitted temperature of conductor, joints and surroundings at the end of the fault',
      unit: 'degC',
      permitted: { from: '50 degC', to: '1500 degC' },
      usual: {
        from: '120 degC',
        to: '1083 degC',
        because: 'insulation withstands some 140 °C and more, and copper melts at 1083 °C',
      },
      typical: [
        {
          value: '160 degC',
          for: 'insulation of PVC, up to 300 mm²',
          basis: recall('iec-60364-5-54-2011', 'Table A.54.2'),
        },
        {
          value: '200 degC',
          for: 'bare, where nothing combustible is near',
          basis: recall('iec-60364-5-54-2011', 'Table A.54.6'),
        },
        { value: '300 degC', for: 'bare conductors, EN 50522', basis: enThermal },
        {
          value: '250 degC',
          for: 'bolted and pressed joints, IEEE Std 80',
          basis: recall('ieee-80-2000', '11.3.3'),
        },
      ],
    },
    corrosion_allowance: {
      type: 'quantity',
      symbol: 'c',
      meaning: 'allowance for corrosion over the life of the conductor, as a share of the cross-section',
      unit: '%',
      permitted: { from: '0 %', to: '200 %' },
      usual: {
        from: '1 %',
        to: '60 %',
        orNone: true,
        because: 'steel in soil is given an addition of some tenths of its section (common practice)',
      },
      default: { value: '0 %', basis: commonPractice('a conductor that does not corrode, or is guarded') },
    },
    utility_minimum: {
      type: 'quantity',
      symbol: 'S_\\mathrm{u}',
      meaning: 'minimum cross-section required by the utility or the project',
      unit: 'mm^2',
      permitted: { from: '0 mm^2' },
      usual: {
        from: '1.5 mm^2',
        to: '1500 mm^2',
        orNone: true,
        because: 'conductors of installations have 1.5 mm² to some 1000 mm²',
      },
      default: { value: '0 mm^2', basis: commonPractice('no requirement') },
    },
    section: {
      type: 'quantity',
      symbol: 'S',
      meaning: 'cross-section of the conductor',
      unit: 'mm^2',
      permitted: { above: '0 mm^2' },
      usual: {
        from: '1.5 mm^2',
        to: '1500 mm^2',
        because: 'conductors of installations have 1.5 mm² to some 1000 mm²',
      },
    },
  },
  editions: earthingConductorEditions,
  steps: {
    reciprocal_coefficient: {
      symbol: '\\beta',
      meaning: 'reciprocal of the temperature coefficient of the resistance at 0 °C',
      unit: 'K',
      digits: 4,
      basis: iecAdiabatic,
      byEdition: true,
    },
    temperature_coefficient: {
      symbol: '\\alpha_\\mathrm{r}',
      meaning: 'temperature coefficient of the resistance at 20 °C',
      unit: '1/K',
      basis: ieeeThermal,
      when: 'method is ieee-80-2000',
      byEdition: true,
    },
    heat_capacity: {
      symbol: 'Q_\\mathrm{c}',
      meaning: 'heat capacity for the volume',
      unit: 'MJ/(m^3 K)',
      basis: iecAdiabatic,
      when: 'not method is en-50522',
      byEdition: true,
    },
    resistivity: {
      symbol: '\\rho_{20}',
      meaning: 'resistivity at 20 °C',
      unit: 'nohm m',
      digits: 5,
      basis: iecAdiabatic,
      when: 'not method is en-50522',
      byEdition: true,
    },
    heat_constant: {
      symbol: 'K^2',
      meaning: 'constant of the heating of the material',
      unit: 'A^2 s/mm^4',
      digits: 5,
      basis: iecAdiabatic,
      byEdition: true,
    },
    temperature_ratio: {
      symbol: 'q_\\theta',
      meaning: 'resistance at the end of the fault, as a multiple of that at its beginning',
      unit: '1',
      digits: 4,
      basis: derivation('resistance that changes linearly with the temperature'),
      formula:
        '(final_temperature - 0 degC + reciprocal_coefficient) / (initial_temperature - 0 degC + reciprocal_coefficient)',
    },
    k_factor: {
      symbol: 'k',
      meaning: 'factor k of the conductor, in A √s/mm²',
      unit: '1',
      digits: 4,
      basis: derivation('the constant and the temperatures in the form in which tables state them'),
      formula: 'sqrt(heat_constant * ln(temperature_ratio))',
      numeric: { heat_constant: 'A^2 s/mm^4', temperature_ratio: '1' },
    },
    thermal_section: {
      symbol: 'S_\\mathrm{th}',
      meaning: 'cross-section that the fault heats to the final temperature',
      unit: 'mm^2',
      rounded: 'up',
      basis: derivation('all heat stays in the metal, whose resistance rises linearly with the temperature'),
      formula: 'current * decrement_factor * sqrt(duration / (heat_constant * ln(temperature_ratio)))',
    },
    corroded_section: {
      symbol: "S_\\mathrm{th}'",
      meaning: 'thermal cross-section with the allowance for corrosion',
      unit: 'mm^2',
      rounded: 'up',
      basis: commonPractice('the cross-section that is left at the end of its life must withstand the fault'),
      formula: 'thermal_section * (1 + corrosion_allowance)',
    },
    least_section: {
      symbol: 'S_\\mathrm{min}',
      meaning: 'minimum cross-section for mechanical strength and corrosion',
      unit: 'mm^2',
      basis: iecEarthing,
      byEdition: true,
    },
    required_section: {
      symbol: 'S_\\mathrm{req}',
      meaning: 'required cross-section',
      unit: 'mm^2',
      rounded: 'up',
      basis: derivation('the largest of the cross-sections required by heat, strength and the utility'),
      formula: 'max(corroded_section, least_section, utility_minimum)',
    },
    made_section: {
      symbol: 'S_\\mathrm{n}',
      meaning: 'next standard cross-section',
      unit: 'mm^2',
      basis: commonPractice('the series of IEC 60228, from memory'),
      needs: ['required_section'],
      solve: (values) => {
        const required = values.number('required_section') * 1e6;
        const made = MADE_SECTIONS.find((section) => section >= required * (1 - 1e-9));
        return made === undefined ? { words: 'beyond the series' } : made * 1e-6;
      },
      method:
        'the smallest cross-section of the series 1.5, 2.5, 4, 6, 10, 16 ... 1000 mm² that is not below the required one',
      says: ['beyond the series'],
    },
    permitted_current: {
      symbol: 'I_\\mathrm{perm}',
      meaning: 'symmetrical current that the conductor withstands for the duration, at the end of its life',
      unit: 'kA',
      rounded: 'down',
      voltage: { measure: 'rms' },
      optional: true,
      basis: derivation('the equation of the cross-section solved for the current'),
      formula:
        'section / (1 + corrosion_allowance) * sqrt(heat_constant * ln(temperature_ratio) / duration) / decrement_factor',
    },
  },
  checks: {
    section: {
      criterion: 'Cross-section against that required by heating, strength, corrosion and the utility',
      value: 'section',
      relation: '>=',
      limit: 'required_section',
      force: [
        { when: 'method is en-50522', force: 'requirement', basis: enMinimum },
        { when: 'method is ieee-80-2000', force: 'requirement', basis: ieeeThermal },
        { force: 'requirement' },
      ],
      basis: iecAdiabatic,
      remedies: [
        'Lay a larger conductor, or a second one in parallel beside it that takes its share; the existing one stays connected.',
        {
          when: 'corroded_section > section',
          text: 'Clear the fault faster: the thermal cross-section falls with the square root of the duration.',
        },
        {
          when: 'corroded_section > section',
          text: 'Use joints and surroundings that withstand a higher temperature, where the standard permits it.',
        },
        {
          when: 'corrosion_allowance > 0 and corroded_section > section',
          text: 'Use a material that corrodes less in this soil, considering galvanic corrosion with other metals.',
        },
      ],
    },
  },
  validity: {
    adiabatic: {
      requires: 'duration <= 5 s',
      otherwise: 'error',
      given: 'duration',
      text: 'the equation neglects all loss of heat, which is valid for faults of up to 5 s',
      instead: 'a duration of at most 5 s; for longer currents use the continuous rating of the conductor',
      basis: iecAdiabatic,
    },
    'hotter-at-the-end': {
      requires: 'final_temperature > initial_temperature',
      otherwise: 'error',
      given: 'final_temperature',
      text: 'the temperature at the end of the fault must exceed that before it',
      basis: derivation('a current heats'),
    },
    'solid-metal': {
      requires:
        '(not material is aluminium or final_temperature <= 657 degC) and (not material is galvanised-steel or final_temperature <= 419 degC) and (material is steel or material is stainless-steel or final_temperature <= 1083 degC)',
      otherwise: 'error',
      given: 'final_temperature',
      text: 'the metal melts below this temperature: copper and its cladding at 1083 °C, aluminium at 657 °C, the zinc of coated steel at 419 °C',
      basis: ieeeThermal,
    },
    'material-of-standard': {
      requires: 'method is ieee-80-2000 or material is copper or material is aluminium or material is steel',
      otherwise: 'error',
      given: 'material',
      text: 'the standard gives no constants for this material here: IEC 60364-5-54 and EN 50522 cover copper, aluminium and steel',
      basis: iecAdiabatic,
    },
    'short-fault': {
      requires: 'duration >= 0.1 s',
      otherwise: 'caution',
      text: 'for a fault shorter than 0.1 s the direct component of the current and the energy that a limiting device lets through decide: compare k²S² with the let-through energy that its manufacturer states',
      basis: recall('iec-60364-5-54-2011', '543.1.2'),
    },
  },
  cautions: {
    'no-least-section': {
      when: 'least_section = 0 mm^2 and utility_minimum = 0 mm^2',
      text: 'No minimum cross-section for strength and corrosion is known here for this use and material: only the heating is judged. The rules of the country and of the utility apply in addition.',
      basis: commonPractice(),
    },
    'joint-temperature': {
      when: 'final_temperature > 250 degC',
      text: 'Bolted and pressed joints generally withstand no more than 250 °C to 350 °C: a final temperature of {final_temperature} needs joints that are brazed or welded, or tested for it.',
      basis: recall('ieee-80-2000', '11.3.3'),
    },
    'divided-current': {
      text: 'The current is that through this conductor. Where several share it, the largest share counts, with one of them missing if that can happen.',
      basis: commonPractice(),
    },
    'aluminium-in-soil': {
      when: 'material is aluminium',
      text: 'Aluminium corrodes in soil and in concrete: it must not be used for buried conductors.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'section',
      seek: 'smallest',
      meaning: 'smallest sufficient cross-section, other values unchanged',
    },
    {
      given: 'current',
      seek: 'largest',
      meaning: 'largest fault current for which the cross-section suffices',
    },
    { given: 'duration', seek: 'largest', meaning: 'longest duration for which the cross-section suffices' },
  ],
  evidence: evidenceOfSections(),
});

function evidenceOfSections(): Evidence[] {
  const factors: readonly (readonly [material: string, from: string, to: string, k: string])[] = [
    ['copper', '30', '160', '143'],
    ['copper', '30', '250', '176'],
    ['copper', '30', '200', '159'],
    ['aluminium', '30', '160', '95'],
    ['aluminium', '30', '250', '116'],
    ['steel', '30', '160', '52'],
    ['steel', '30', '250', '64'],
  ];
  /** Sections in mm² for 1 kA and 1 s from 40 °C: the constants Kf of the guide, in kcmil, times 0.5067 mm². */
  const fusing: readonly (readonly [material: string, to: string, constant: number])[] = [
    ['copper', '1083', 7],
    ['copper-hard-drawn', '1083', 7.06],
    ['copper-clad-steel-40', '1083', 10.45],
    ['aluminium', '657', 12.12],
    ['steel', '1500', 15.95],
    ['galvanised-steel', '419', 28.96],
    ['stainless-steel', '1400', 30.05],
  ];
  return [
    {
      kind: 'published',
      about: 'copper of 95 mm² from 90 °C to 250 °C in 1 s: K = 225.669, 13.6 kA',
      source:
        'lecture slides on permissible short-circuit currents, example of 95 mm² (studylib.net/doc/25320408)',
      given: {
        material: 'copper',
        current: '10 kA',
        duration: '1 s',
        initial_temperature: '90 degC',
        final_temperature: '250 degC',
        section: '95 mm^2',
      },
      expect: {
        permitted_current: { value: '13.6 kA', tolerance: '0.05 kA' },
        heat_constant: {
          value: '50926.5 A^2 s/mm^4',
          tolerance: '0.5 A^2 s/mm^4',
          because: '225.669², the constant being printed to six digits',
        },
      },
    },
    {
      kind: 'published',
      about: 'steel, 18.9 kA for 3 s from 50 °C to 250 °C: 548 mm²',
      source:
        'earth-mat sizing note with the constants 3.8e-3, 138e-6 and 202 of steel (scribd.com/document/335677056)',
      given: {
        material: 'steel',
        use: 'buried-unprotected',
        current: '18.9 kA',
        duration: '3 s',
        initial_temperature: '50 degC',
        final_temperature: '250 degC',
      },
      expect: { thermal_section: { value: '548 mm^2', tolerance: '0.5 mm^2' } },
    },
    ...factors.map(
      ([material, from, to, k]): Evidence => ({
        kind: 'memory',
        about: `k of ${material} from ${from} °C to ${to} °C: ${k}`,
        source: 'IEC 60364-5-54:2011, Tables A.54.2 to A.54.6, values from memory',
        given: {
          material,
          current: '1 kA',
          duration: '1 s',
          initial_temperature: `${from} degC`,
          final_temperature: `${to} degC`,
        },
        expect: {
          k_factor: { value: k, tolerance: '0.6', because: 'the table is rounded to whole numbers' },
        },
      }),
    ),
    ...fusing.map(
      ([material, to, constant]): Evidence => ({
        kind: 'memory',
        about: `IEEE Std 80: constant ${constant} of ${material} at ${to} °C`,
        source: 'IEEE Std 80-2000, Table 2, values from memory',
        given: {
          method: 'ieee-80-2000',
          material,
          current: '1 kA',
          duration: '1 s',
          initial_temperature: '40 degC',
          final_temperature: `${to} degC`,
        },
        expect: {
          thermal_section: {
            value: `${(constant * 0.506707).toFixed(4)} mm^2`,
            tolerance: `${(constant * 0.506707 * 0.006).toFixed(4)} mm^2`,
            because: 'the constants of the materials are rounded, and steel counts to 1510 °C in the guide',
          },
        },
      }),
    ),
    {
      kind: 'independent',
      about: 'EN 50522, galvanised earth strip of steel: 12.5 kA for 0.7 s from 20 °C to 300 °C',
      source:
        'by hand: k = 78 √ln(502/222) = 70.4562; 12 500 √0.7 / 70.4562 = 148.436; with 25 % for corrosion 185.545',
      given: {
        method: 'en-50522',
        material: 'steel',
        current: '12.5 kA',
        duration: '0.7 s',
        initial_temperature: '20 degC',
        final_temperature: '300 degC',
        corrosion_allowance: '25 %',
        section: '200 mm^2',
      },
      expect: {
        k_factor: { value: '70.4562', tolerance: '0.00005' },
        thermal_section: { value: '148.436 mm^2', tolerance: '0.0005 mm^2' },
        corroded_section: { value: '185.545 mm^2', tolerance: '0.0005 mm^2' },
        section: { verdict: 'complies' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'a rise by one kelvin: the heat of the resistance at 50 °C alone',
      source:
        'then S² = I² t ρ/Q with ρ at 50 °C: 17.241e-9 · 284.5/254.5 = 19.273e-9; √(19.273e-9 / 3.45e6) · 1000 = 74.743 mm²',
      given: {
        material: 'copper',
        current: '1 kA',
        duration: '1 s',
        initial_temperature: '49.5 degC',
        final_temperature: '50.5 degC',
      },
      expect: { thermal_section: { value: '74.743 mm^2', tolerance: '0.0005 mm^2' } },
    },
  ];
}
