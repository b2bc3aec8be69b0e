import { commonPractice, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { USUAL } from '../../tables/usual-ranges.ts';
import { creepageDistanceEditions, specific, unified } from './creepage-distance-editions.ts';

const polluted = recall('iec-60071-2-1996', '4.2.2, exponent of polluted insulators');

/** Creepage distance of arresters and insulators by pollution, with the voltage to which it refers. */
export const creepageDistance = defineCalculation({
  name: 'creepage-distance',
  title: 'Creepage distance',
  purpose:
    'Finds the creepage distance between phase and earth that arresters and insulators need at the pollution of the site. ' +
    'The older edition refers its specific distance to the voltage between phases, the newer one to that between phase and earth.',
  answers: ['Which creepage distance does an insulator or arrester need in a polluted environment?'],
  example: `
    id: bushing-creepage
    title: Creepage distance of the bushings
    given:
      highest_voltage: 36 kV
      base: phase-phase
      pollution_class: { value: d, source: "sea at 800 m; agreed with the utility" }
      creepage: { value: 950 mm, source: "data sheet of the bushing" }
  `,
  givens: {
    highest_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{m}',
      meaning: 'highest voltage of the system',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-phase' },
      permitted: { above: '0 kV' },
      usual: USUAL.systemVoltage,
    },
    base: {
      type: 'choice',
      symbol: '\\text{base}',
      meaning: 'voltage to which the specific distance refers',
      options: {
        'phase-earth': 'between phase and earth: unified specific creepage distance (2008)',
        'phase-phase': 'between phases: specific creepage distance (1986)',
      },
      default: { value: 'phase-earth', basis: unified },
    },
    pollution_class: {
      type: 'choice',
      symbol: '\\text{pollution}',
      meaning: 'pollution of the site',
      options: {
        a: 'very light (no pollution level of the edition of 1986)',
        b: 'light',
        c: 'medium',
        d: 'heavy',
        e: 'very heavy',
      },
    },
    altitude: {
      type: 'quantity',
      symbol: 'H',
      meaning: 'altitude above sea level',
      unit: 'm',
      permitted: { from: '0 m', to: '6000 m' },
      usual: USUAL.altitude,
      default: { value: '0 m', basis: commonPractice('up to 1000 m the distance is not corrected') },
    },
    altitude_exponent: {
      type: 'quantity',
      symbol: 'm',
      meaning: 'exponent of the altitude correction beyond 1000 m',
      unit: '1',
      permitted: { from: '0', to: '1' },
      default: { value: '0.5', basis: polluted },
      typical: [{ value: '0.8', for: 'insulators of fog profile', basis: polluted }],
    },
    creepage: {
      type: 'quantity',
      symbol: '\\ell_\\mathrm{c}',
      meaning: 'creepage distance of the arrester or insulator',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: {
        from: '20 mm',
        to: '60000 mm',
        because: 'arresters and insulators of 1 kV to 1200 kV have creepage distances of some 30 mm to 40 m',
      },
    },
  },
  editions: creepageDistanceEditions,
  steps: {
    specific_creepage: {
      symbol: '\\lambda',
      meaning: 'specific creepage distance',
      unit: 'mm/kV',
      basis: unified,
      byEdition: true,
    },
    base_voltage: {
      symbol: 'U_\\mathrm{b}',
      meaning: 'voltage to which the specific distance refers',
      unit: 'kV',
      voltage: { measure: 'rms' },
      basis: unified,
      byEdition: true,
    },
    altitude_factor: {
      symbol: 'K_\\mathrm{a}',
      meaning: 'altitude factor beyond 1000 m',
      unit: '1',
      basis: polluted,
      when: 'altitude > 1000 m',
      formula: 'exp(altitude_exponent * (altitude - 1000 m) / 8150 m)',
    },
    required_creepage: {
      symbol: '\\ell_\\mathrm{req}',
      meaning: 'required creepage distance between phase and earth',
      unit: 'mm',
      basis: unified,
      digits: 4,
      byEdition: true,
    },
  },
  checks: {
    creepage: {
      criterion: 'Creepage distance of the arrester or insulator',
      value: 'creepage',
      relation: '>=',
      limit: 'required_creepage',
      force: [
        { when: 'base is phase-phase', force: 'requirement', basis: specific },
        { force: 'requirement' },
      ],
      basis: unified,
      remedies: [
        'Choose a housing or insulator with a longer creepage distance.',
        'Until it is replaced, wash it at intervals set by the operator.',
      ],
    },
  },
  cautions: {
    'no-level-of-1986': {
      when: 'base is phase-phase and pollution_class is a',
      text: 'The edition of 1986 has no level for very light pollution: its lowest is level I, 16 mm/kV. The value is that of the newer edition, referred to the voltage between phases.',
      basis: specific,
    },
    'two-bases': {
      text: 'The two bases differ by the square root of three: a specific distance of 43.3 mm/kV referred to the voltage between phase and earth is 25 mm/kV referred to that between phases. Compare data sheets on one base only.',
      basis: unified,
    },
    'profile-and-diameter': {
      text: 'Profile, material and diameter of the insulator change the required distance; corrections for them are not included.',
      basis: unified,
    },
    'altitude-by-practice': {
      when: 'altitude > 1000 m',
      text: 'The correction for altitude follows the exponent for polluted insulators; the guide itself gives none for the creepage distance.',
      basis: polluted,
    },
  },
  limiting: [
    {
      given: 'creepage',
      seek: 'smallest',
      meaning: 'smallest creepage distance that complies, other values unchanged',
    },
  ],
  evidence: [
    {
      kind: 'memory',
      about: 'the values of the two editions differ by the square root of three',
      source: 'IEC TS 60815-1:2008 (from memory): 43.3 mm/kV on 36 kV / sqrt(3) = 899.97 mm',
      given: { highest_voltage: '36 kV', pollution_class: 'd' },
      expect: { required_creepage: { value: '900 mm', tolerance: '0.5 mm' } },
    },
    {
      kind: 'memory',
      about: 'the same by the older edition',
      source: 'IEC 60815:1986 (from memory): 25 mm/kV on 36 kV',
      given: { highest_voltage: '36 kV', pollution_class: 'd', base: 'phase-phase', creepage: '900 mm' },
      expect: {
        required_creepage: { value: '900 mm', tolerance: '0 mm' },
        creepage: { verdict: 'complies' },
      },
    },
    {
      kind: 'independent',
      about: 'at 2000 m',
      source: '899.97 mm * exp(0.5 * 1000 / 8150) = 956.9 mm',
      given: { highest_voltage: '36 kV', pollution_class: 'd', altitude: '2000 m' },
      expect: { required_creepage: { value: '956.9 mm', tolerance: '0.05 mm' } },
    },
    ...(
      [
        ['b', '16'],
        ['c', '20'],
        ['d', '25'],
        ['e', '31'],
      ] as const
    ).map(([pollution_class, value]) => ({
      kind: 'memory' as const,
      about: `class ${pollution_class}: ${value} mm/kV between phases`,
      source: 'IEC 60815:1986, pollution levels I to IV (from memory)',
      given: { highest_voltage: '36 kV', pollution_class, base: 'phase-phase' },
      expect: { specific_creepage: { value: `${value} mm/kV`, tolerance: '0 mm/kV' } },
    })),
    ...(
      [
        ['a', '22.0'],
        ['b', '27.8'],
        ['c', '34.7'],
        ['d', '43.3'],
        ['e', '53.7'],
      ] as const
    ).map(([pollution_class, value]) => ({
      kind: 'memory' as const,
      about: `class ${pollution_class}: ${value} mm/kV between phase and earth`,
      source: 'IEC TS 60815-1:2008 (from memory)',
      given: { highest_voltage: '36 kV', pollution_class },
      expect: { specific_creepage: { value: `${value} mm/kV`, tolerance: '0 mm/kV' } },
    })),
    {
      kind: 'limiting-case',
      about: 'the bases differ by the square root of three, within the rounding of the tables',
      source: '53.7 mm/kV * 100 kV / sqrt(3) = 3100.4 mm',
      given: { highest_voltage: '100 kV', pollution_class: 'e', base: 'phase-phase' },
      expect: {
        required_creepage: { value: '3100.4 mm', tolerance: '1 mm', because: '53.7 mm/kV is rounded to 0.1' },
      },
    },
  ],
});
