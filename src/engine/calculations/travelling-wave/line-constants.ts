import { cite, commonPractice, derivation } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';

const constants = cite('naidu-kamaraju', 'Example 8.1');
const coaxial = cite('power-system-transients', 'coaxial cable');
const geometry = derivation('field of round conductors without losses, far from others');

/** Surge impedance and velocity of a line, from its constants per length or from its geometry. */
export const lineConstants = defineCalculation({
  name: 'line-constants',
  title: 'Surge impedance and velocity of a line',
  purpose:
    'Finds surge impedance and velocity of a line or cable without losses, from inductance and capacitance per length ' +
    'or from the geometry of its conductors.',
  answers: ['What are the surge impedance and velocity of a line or cable?'],
  example: `
    id: feeder-constants
    title: Surge impedance of the overhead feeder
    given:
      kind: overhead
      radius: { value: 6.8 mm, source: "data sheet of the conductor" }
      height: { value: 9.5 m, source: "line profile, mean over the span" }
      line_length: 4.2 km
  `,
  givens: {
    inductance: {
      type: 'quantity',
      symbol: "L'",
      meaning: 'inductance per length',
      unit: 'uH/m',
      permitted: { above: '0 uH/m' },
      usual: {
        from: '0.1 uH/m',
        to: '5 uH/m',
        because: 'cables have some tenths of a µH/m, overhead lines 1 to 2 µH/m',
      },
    },
    capacitance: {
      type: 'quantity',
      symbol: "C'",
      meaning: 'capacitance per length',
      unit: 'pF/m',
      permitted: { above: '0 pF/m' },
      usual: {
        to: '2000 pF/m',
        because: 'overhead lines have some 10 pF/m, cables hundreds',
      },
    },
    kind: {
      type: 'choice',
      symbol: '\\text{line}',
      meaning: 'geometry of the line',
      options: {
        overhead: 'one conductor above earth',
        'two-wire': 'two equal conductors side by side, go and return: the constants are those of the loop',
        coaxial: 'a core within a screen',
      },
    },
    radius: {
      type: 'quantity',
      symbol: 'r',
      meaning: 'radius of the conductor, or of the core',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: {
        from: '0.5 mm',
        to: '500 mm',
        because: 'conductors are millimetres thick, bundles act like some decimetres',
      },
    },
    height: {
      type: 'quantity',
      symbol: 'h',
      meaning: 'height of the conductor above earth',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '0.1 m', to: '100 m', because: 'conductors hang metres to tens of metres high' },
    },
    spacing: {
      type: 'quantity',
      symbol: 'D',
      meaning: 'distance between the axes of the two conductors',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: { from: '1 mm', to: '20000 mm', because: 'conductors lie millimetres to metres apart' },
    },
    outer_radius: {
      type: 'quantity',
      symbol: 'R',
      meaning: 'inner radius of the screen',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: { from: '1 mm', to: '1000 mm', because: 'screens of cables measure millimetres to decimetres' },
    },
    permittivity: {
      type: 'quantity',
      symbol: '\\varepsilon_\\mathrm{r}',
      meaning: 'relative permittivity of the insulation between the conductors',
      unit: '1',
      permitted: { from: '1' },
      usual: { to: '10', because: 'insulations of cables have 2 to 6' },
      default: { value: '1', basis: commonPractice('air') },
      typical: [
        { value: '2.3', for: 'polyethylene', basis: commonPractice() },
        { value: '3.5', for: 'impregnated paper', basis: commonPractice() },
      ],
    },
    internal_inductance: {
      type: 'choice',
      symbol: '\\text{internal}',
      meaning: 'inductance of the field within the conductors',
      options: {
        'left-out': 'neglected: at surges the current flows on the surface',
        included: 'included: low frequency',
      },
      default: { value: 'left-out', basis: commonPractice('surges') },
    },
    line_length: {
      type: 'quantity',
      symbol: '\\ell',
      meaning: 'length of the line',
      unit: 'km',
      permitted: { above: '0 km' },
      usual: {
        from: '0.001 km',
        to: '2000 km',
        because: 'lines are metres to some thousand kilometres long',
      },
    },
  },
  alternatives: [{ oneOf: ['inductance', 'kind'] }, { oneOf: ['capacitance', 'kind'] }],
  steps: {
    inductance: {
      symbol: "L'",
      meaning: 'inductance per length',
      unit: 'uH/m',
      basis: geometry,
      when: 'given kind',
      variants: [
        {
          when: 'kind is overhead and internal_inductance is included',
          formula: '4e-7 H/m * pi / (2 * pi) * (ln(2 * height / radius) + 1 / 4)',
        },
        { when: 'kind is overhead', formula: '4e-7 H/m * pi / (2 * pi) * ln(2 * height / radius)' },
        {
          when: 'kind is two-wire and internal_inductance is included',
          formula: '4e-7 H/m * pi / pi * (acosh(spacing / (2 * radius)) + 1 / 4)',
        },
        { when: 'kind is two-wire', formula: '4e-7 H/m * pi / pi * acosh(spacing / (2 * radius))' },
        {
          when: 'kind is coaxial and internal_inductance is included',
          formula: '4e-7 H/m * pi / (2 * pi) * (ln(outer_radius / radius) + 1 / 4)',
          basis: coaxial,
          note: 'the field within the core; that within the screen is neglected',
        },
        {
          when: 'kind is coaxial',
          formula: '4e-7 H/m * pi / (2 * pi) * ln(outer_radius / radius)',
          basis: coaxial,
        },
      ],
    },
    capacitance: {
      symbol: "C'",
      meaning: 'capacitance per length',
      unit: 'pF/m',
      basis: geometry,
      when: 'given kind',
      variants: [
        {
          when: 'kind is overhead',
          formula: '2 * pi * 8.8541878e-12 F/m * permittivity / ln(2 * height / radius)',
        },
        {
          when: 'kind is two-wire',
          formula: 'pi * 8.8541878e-12 F/m * permittivity / acosh(spacing / (2 * radius))',
        },
        {
          when: 'kind is coaxial',
          formula: '2 * pi * 8.8541878e-12 F/m * permittivity / ln(outer_radius / radius)',
          basis: coaxial,
        },
      ],
    },
    conductor_inductance: {
      symbol: "L'_1",
      meaning: 'inductance per length of each of the two conductors',
      unit: 'uH/m',
      basis: derivation('each conductor has half of the inductance of the loop'),
      when: 'kind is two-wire',
      formula: 'inductance / 2',
      note: 'textbooks on power lines usually give this one; the inductance above is that of the loop',
    },
    conductor_capacitance: {
      symbol: "C'_1",
      meaning: 'capacitance per length of each of the two conductors against the plane midway between them',
      unit: 'pF/m',
      basis: derivation('two capacitances in series, each twice that between the conductors'),
      when: 'kind is two-wire',
      formula: '2 * capacitance',
    },
    surge_impedance: {
      symbol: 'Z',
      meaning: 'surge impedance (of two wires: between them)',
      unit: 'ohm',
      basis: constants,
      formula: 'sqrt(inductance / capacitance)',
    },
    velocity: {
      symbol: 'v',
      meaning: 'velocity of waves',
      unit: 'm/us',
      basis: constants,
      formula: '1 / sqrt(inductance * capacitance)',
    },
    travel_time: {
      symbol: 'T',
      meaning: 'travelling time over the length of the line',
      unit: 'us',
      basis: constants,
      optional: true,
      formula: 'line_length / velocity',
    },
  },
  validity: {
    'high-conductor': {
      requires: 'not kind is overhead or height >= 10 * radius',
      otherwise: 'error',
      text: 'the formula is valid for a conductor high above earth: at least ten radii',
      basis: geometry,
    },
    'separate-wires': {
      requires: 'not kind is two-wire or spacing > 2 * radius',
      otherwise: 'error',
      text: 'the conductors would touch: the distance between their axes must exceed their diameter',
      basis: geometry,
    },
    'screen-outside-core': {
      requires: 'not kind is coaxial or outer_radius > radius',
      otherwise: 'error',
      text: 'the screen is outside the core: outer_radius must exceed radius',
      basis: geometry,
    },
    'faster-than-light': {
      requires: 'velocity <= 303 m/us',
      otherwise: 'error',
      text: 'these constants give a wave faster than light: check their units',
      basis: derivation('no wave is faster than light; 1 % is left for constants that were rounded'),
    },
    'rounded-constants': {
      requires: 'velocity <= 300 m/us',
      otherwise: 'caution',
      text: 'these constants give a wave a little faster than light, as rounded constants may',
      basis: derivation('no wave is faster than light'),
    },
  },
  cautions: {
    lossless: {
      text: 'Losses, corona and the resistance of the earth are neglected: they flatten a surge on its way.',
      basis: commonPractice(),
    },
    'internal-inductance': {
      when: 'internal_inductance is included and given kind',
      text: 'With the internal inductance the constants apply at low frequency; surges travel slightly faster, with a slightly lower surge impedance.',
    },
  },
  evidence: [
    {
      kind: 'published',
      about: 'coaxial cable, 5 mm in 15 mm, permittivity 4',
      source: 'collection of solved problems, Power System Transients, Example 1',
      given: { kind: 'coaxial', radius: '5 mm', outer_radius: '15 mm', permittivity: '4' },
      expect: {
        inductance: { value: '0.220 uH/m', tolerance: '0.0005 uH/m' },
        capacitance: {
          value: '200 pF/m',
          tolerance: '5 pF/m',
          because: 'printed as 0.20 nF/m; 202.5 pF/m is within half its last digit',
        },
        velocity: { value: '150 m/us', tolerance: '0.5 m/us' },
        surge_impedance: {
          value: '32.96 ohm',
          tolerance: '0.03 ohm',
          because: 'the source rounds the velocity of light to 300 m/us, which is 0.07 % high',
        },
      },
    },
    {
      kind: 'published',
      about: 'line of 400 km with 1.26 mH/km and 0.009 µF/km',
      source: 'Naidu, Kamaraju, High Voltage Engineering, Example 8.1',
      given: { inductance: '1.26 mH/km', capacitance: '0.009 uF/km', line_length: '400 km' },
      expect: {
        surge_impedance: { value: '374.2 ohm', tolerance: '0.05 ohm' },
        velocity: { value: '300 m/us', tolerance: '5 m/us', because: 'printed as 3.0e5 km/s' },
        travel_time: { value: '1.35 ms', tolerance: '0.005 ms' },
      },
    },
    {
      kind: 'published',
      about: 'line with 0.5 mH/km and 0.12 µF/km',
      source: 'Bird, Electrical Circuit Theory and Technology, chapter 44, Example 8, p. 879',
      given: { inductance: '0.5 mH/km', capacitance: '0.12 uF/km' },
      expect: {
        surge_impedance: { value: '64.55 ohm', tolerance: '0.005 ohm' },
        velocity: { value: '129.09944 m/us', tolerance: '0.000005 m/us' },
      },
    },
    {
      kind: 'published',
      about: 'coaxial cable of 0.3 cm and 1.02 cm, permittivity 2.25',
      source: 'Stanley, Jeffords, Electronic Communications: Principles and Systems, Example 14.6.1, p. 479',
      given: { kind: 'coaxial', radius: '1.5 mm', outer_radius: '5.1 mm', permittivity: '2.25' },
      expect: {
        inductance: { value: '244.8 nH/m', tolerance: '0.05 nH/m' },
        velocity: { value: '200 m/us', tolerance: '0.5 m/us' },
        surge_impedance: {
          value: '48.951 ohm',
          tolerance: '0.035 ohm',
          because: 'the source rounds the velocity of light to 300 m/us, which is 0.07 % high',
        },
      },
    },
    {
      kind: 'published',
      about: 'core of 10 mm in 25 mm, permittivity 3, 7.5 km, with internal inductance: 1.75 mH and 1.37 µF',
      source: 'Bird, Electrical Circuit Theory and Technology, chapter 40, Example 18, p. 745',
      given: {
        kind: 'coaxial',
        radius: '10 mm',
        outer_radius: '25 mm',
        permittivity: '3',
        internal_inductance: 'included',
      },
      expect: {
        inductance: {
          value: '0.2333 uH/m',
          tolerance: '0.0007 uH/m',
          because: 'printed for 7.5 km: 1.75 mH',
        },
        capacitance: { value: '182.67 pF/m', tolerance: '0.67 pF/m', because: 'printed for 7.5 km: 1.37 µF' },
      },
    },
    {
      kind: 'published',
      about: 'two wires of 10 mm diameter 0.8 m apart, with internal inductance',
      source: 'Bird, Electrical Circuit Theory and Technology, chapter 40, Example 20, p. 748',
      given: { kind: 'two-wire', radius: '5 mm', spacing: '0.8 m', internal_inductance: 'included' },
      expect: {
        inductance: { value: '2.13 mH/km', tolerance: '0.005 mH/km' },
        capacitance: { value: '5.48 nF/km', tolerance: '0.005 nF/km' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'each of two wires is a wire above the plane midway between them',
      source:
        'image method: a wire 0.4 m above a plane, 5 mm in radius, has 0.2 µH/m · ln 160 = 1.01503 µH/m',
      given: { kind: 'two-wire', radius: '5 mm', spacing: '0.8 m' },
      expect: {
        conductor_inductance: {
          value: '1.01503 uH/m',
          tolerance: '0.00001 uH/m',
          because: 'the logarithm is that of a thin wire',
        },
        conductor_capacitance: { value: '10.9617 pF/m', tolerance: '0.0002 pF/m', because: 'likewise' },
      },
    },
    {
      kind: 'refuted',
      about: 'two wires of 3 mm diameter 10 mm apart: the logarithmic approximation is 1.1 % high',
      source: 'Blake, Electronic Communication Systems, Example 14.2, p. 462: 227.399 Ω',
      given: { kind: 'two-wire', radius: '1.5 mm', spacing: '10 mm' },
      expect: { surge_impedance: { value: '227.399 ohm', tolerance: '0.5 ohm' } },
    },
    {
      kind: 'independent',
      about: 'the same two wires by the exact form',
      source: 'by hand: 119.917 Ω · acosh(10 mm/3 mm) = 224.7 Ω',
      given: { kind: 'two-wire', radius: '1.5 mm', spacing: '10 mm' },
      expect: { surge_impedance: { value: '224.7 ohm', tolerance: '0.05 ohm' } },
    },
  ],
});
