import { cite, commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';

const decoupling = recall('iec-61643-12-2008', 'coordination of two devices by a decoupling element');
const lengthRule = cite('gb-50343-2012', '5.4.3, lengths between devices, as quoted in an industry page');

/** Whether the first of two SPDs takes over before the second is overloaded. */
export const spdCoordination = defineCalculation({
  name: 'spd-coordination',
  title: 'Coordination of two surge protective devices',
  purpose:
    'Finds the inductance, or the length of line, that two surge protective devices (SPDs) one behind the other need ' +
    'between them, so that the voltage along it makes the upstream one respond before the downstream one carries ' +
    'the surge alone.',
  givens: {
    upstream_type: {
      type: 'choice',
      symbol: '\\text{upstream}',
      meaning: 'type of the upstream SPD',
      options: {
        switching: 'voltage-switching (spark gap): it must spark over',
        limiting: 'voltage-limiting (varistor): it must reach its residual voltage',
      },
    },
    upstream_voltage: {
      type: 'quantity',
      symbol: 'U_1',
      meaning: 'sparkover voltage, or residual voltage, of the upstream SPD',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
    },
    downstream_residual_voltage: {
      type: 'quantity',
      symbol: 'U_2',
      meaning: 'residual voltage of the downstream SPD at the current that it may carry',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
    },
    steepness: {
      type: 'quantity',
      symbol: 'S',
      meaning: 'steepness of the current in the line between the devices',
      unit: 'kA/us',
      permitted: { above: '0 kA/us' },
      usual: {
        to: '10 kA/us',
        because: 'the decoupling must hold for slow fronts, which are the unfavourable ones',
      },
      typical: [{ value: '0.1 kA/us', for: 'a customary figure for slow fronts', basis: commonPractice() }],
    },
    line_length: {
      type: 'quantity',
      symbol: '\\ell',
      meaning: 'length of line between the devices',
      unit: 'm',
      permitted: { from: '0 m' },
    },
    line_inductance: {
      type: 'quantity',
      symbol: "L'",
      meaning: 'inductance per length of the line, both conductors',
      unit: 'uH/m',
      permitted: { above: '0 uH/m' },
      usual: { from: '0.3 uH/m', to: '2 uH/m', because: 'pairs of a cable have about 1 µH/m' },
      default: { value: '1 uH/m', basis: recall('iec-61643-12-2008', 'about 1 µH/m for a pair of a cable') },
    },
    decoupling_inductance: {
      type: 'quantity',
      symbol: 'L_\\mathrm{d}',
      meaning: 'inductance of a decoupling element between the devices',
      unit: 'uH',
      permitted: { from: '0 uH' },
      default: { value: '0 uH', basis: commonPractice('no decoupling element') },
    },
    rule: {
      type: 'choice',
      symbol: '\\text{rule}',
      meaning: 'rule on the length of line that is judged besides',
      options: {
        none: 'no rule on lengths',
        'gb-50343': 'GB 50343: 10 m from a switching to a limiting SPD, 5 m between limiting ones',
      },
      default: { value: 'none', basis: commonPractice('lengths alone do not prove coordination') },
    },
  },
  steps: {
    required_inductance: {
      symbol: 'L_\\mathrm{req}',
      meaning: 'inductance needed between the devices',
      unit: 'uH',
      rounded: 'up',
      basis: decoupling,
      formula: 'max(0 uH, (upstream_voltage - downstream_residual_voltage) / steepness)',
      note: 'the residual voltage of the downstream device and the drop along the line together must reach the upstream voltage',
    },
    required_line_length: {
      symbol: '\\ell_\\mathrm{req}',
      meaning: 'length of line that provides it, beyond the decoupling element',
      unit: 'm',
      rounded: 'up',
      basis: decoupling,
      formula: 'max(0 m, (required_inductance - decoupling_inductance) / line_inductance)',
    },
    available_inductance: {
      symbol: 'L',
      meaning: 'inductance between the devices',
      unit: 'uH',
      basis: derivation('line and decoupling element in series'),
      optional: true,
      formula: 'line_inductance * line_length + decoupling_inductance',
    },
    reached_voltage: {
      symbol: "U_1'",
      meaning: 'voltage that reaches the upstream device',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: decoupling,
      optional: true,
      formula: 'downstream_residual_voltage + available_inductance * steepness',
    },
    rule_length: {
      symbol: '\\ell_\\mathrm{r}',
      meaning: 'length of line by the rule',
      unit: 'm',
      basis: lengthRule,
      when: 'rule is gb-50343',
      table: { by: ['upstream_type'], values: { switching: '10 m', limiting: '5 m' } },
    },
  },
  checks: {
    coordinated: {
      criterion: 'Inductance between the devices',
      value: 'available_inductance',
      relation: '>=',
      limit: 'required_inductance',
      force: 'requirement',
      basis: decoupling,
      remedies: [
        'Fit a decoupling element of the missing inductance, rated for the current of the circuit.',
        'Use devices whose maker has tested them as coordinated at this distance.',
        'Use an upstream SPD with a lower sparkover or residual voltage (a triggered gap).',
        'Move the downstream device farther along the line, where the equipment permits it.',
      ],
    },
    length_rule: {
      criterion: 'Length of line between the devices by the rule',
      value: 'line_length',
      relation: '>=',
      limit: 'rule_length',
      when: 'rule is gb-50343',
      force: 'requirement',
      basis: lengthRule,
      remedies: [
        'Fit a decoupling element in place of the missing length.',
        'The rule does not apply to devices that are coordinated by themselves: have that confirmed by their maker.',
      ],
    },
  },
  cautions: {
    'level-upstream': {
      when: 'upstream_voltage > downstream_residual_voltage and upstream_type is limiting',
      text: 'The upstream device limits at a higher voltage than the downstream one: the latter responds first and takes most of the energy until the drop along the line makes up the difference.',
      basis: commonPractice('measurements of cascaded devices'),
    },
    'slow-fronts': {
      text: 'For currents that rise more slowly than the steepness used the line decouples less: the downstream device then carries the surge, and its energy rating must be judged as well.',
      basis: decoupling,
    },
    'energy-not-judged': {
      text: 'This judges the response by voltage only; energy coordination over the whole range of currents is the matter of a test or a simulation.',
      basis: decoupling,
    },
  },
  limiting: [
    {
      given: 'line_length',
      seek: 'smallest',
      meaning: 'shortest line with which they are coordinated',
    },
    {
      given: 'steepness',
      seek: 'smallest',
      meaning: 'slowest rise for which they are coordinated',
    },
  ],
  evidence: [
    {
      kind: 'published',
      about: 'rule of lengths: 10 m from a switching to a limiting device',
      source: 'GB 50343 as quoted in an industry page: 10 m and 5 m',
      given: {
        upstream_type: 'switching',
        upstream_voltage: '2.5 kV',
        downstream_residual_voltage: '1.5 kV',
        steepness: '0.1 kA/us',
        line_length: '8 m',
        rule: 'gb-50343',
      },
      expect: {
        rule_length: { value: '10 m', tolerance: '0.5 m' },
        length_rule: { verdict: 'does not comply' },
      },
    },
    {
      kind: 'published',
      about: 'rule of lengths: 5 m between limiting devices',
      source: 'GB 50343 as quoted in an industry page: 10 m and 5 m',
      given: {
        upstream_type: 'limiting',
        upstream_voltage: '1.5 kV',
        downstream_residual_voltage: '1.5 kV',
        steepness: '0.1 kA/us',
        line_length: '5 m',
        rule: 'gb-50343',
      },
      expect: {
        rule_length: { value: '5 m', tolerance: '0.5 m' },
        length_rule: { verdict: 'complies' },
      },
    },
    {
      kind: 'independent',
      about: 'a gap of 4 kV before a varistor of 1.5 kV at 0.1 kA/µs: 25 µH, 25 m',
      source: '(4 − 1.5) kV / 0.1 kA/µs = 25 µH; at 1 µH/m 25 m, with 15 µH of decoupling 10 m',
      given: {
        upstream_type: 'switching',
        upstream_voltage: '4 kV',
        downstream_residual_voltage: '1.5 kV',
        steepness: '0.1 kA/us',
        line_length: '10 m',
        decoupling_inductance: '15 uH',
      },
      expect: {
        required_inductance: { value: '25 uH', tolerance: '0 uH' },
        required_line_length: { value: '10 m', tolerance: '0 m' },
        coordinated: { verdict: 'complies' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'an upstream device that responds at a lower voltage needs nothing between',
      source: 'its voltage is reached before the downstream device conducts',
      given: {
        upstream_type: 'switching',
        upstream_voltage: '1.3 kV',
        downstream_residual_voltage: '1.5 kV',
        steepness: '1 kA/us',
        line_length: '0 m',
      },
      expect: {
        required_inductance: { value: '0 uH', tolerance: '0 uH' },
        coordinated: { verdict: 'complies' },
      },
    },
  ],
});
