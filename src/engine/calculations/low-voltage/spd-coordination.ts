import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const decoupling = recall('iec-61643-12-2008', 'coordination of two devices by a decoupling element');
const lengthRule = recall('gb-50343-2012', '5.4.3, lengths between devices');
const slowFront = recall('iec-62305-4-2010', 'Annex C, coordination at the least steepness of 0.1 kA/µs');

/** Whether the voltage between two SPDs makes the first respond, at the front given and at a slow one. */
export const spdCoordination = defineCalculation({
  name: 'spd-coordination',
  title: 'Coordination of two surge protective devices',
  purpose:
    'Finds the inductance, or the length of line, that two surge protective devices (SPDs) in cascade need ' +
    'between them, so that the voltage along it makes the upstream one respond before the downstream one carries ' +
    'the surge alone. It compares voltages, at the steepness given and at a slow front; it is no proof of energy coordination.',
  answers: [
    'Does the upstream one of two SPDs in cascade respond before the downstream one carries the surge alone?',
    'How much cable, or which inductance, is needed between them?',
  ],
  example: `
    id: coordination-db-01
    title: SPDs of the main board and of board DB-01
    given:
      upstream_type: switching
      upstream_voltage: { value: 2.5 kV, source: "data sheet of the SPD, sparkover 1.2/50" }
      downstream_residual_voltage: { value: 1.2 kV, source: "data sheet of the SPD, at 5 kA" }
      steepness: { value: 0.1 kA/us, source: "slow front of a first stroke" }
      line_length: { value: 20 m, source: "cable schedule" }
      downstream_spread: 10 %
  `,
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
      usual: USUAL.spdLevel,
    },
    downstream_residual_voltage: {
      type: 'quantity',
      symbol: 'U_2',
      meaning: 'residual voltage of the downstream SPD at the current that it may carry',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.spdLevel,
    },
    steepness: {
      type: 'quantity',
      symbol: 'S',
      meaning: 'steepness of the current in the line between the devices',
      unit: 'kA/us',
      permitted: { above: '0 kA/us' },
      usual: {
        from: '0.01 kA/us',
        to: '10 kA/us',
        because: 'slow fronts of some 0.1 kA/µs are the unfavourable ones for the decoupling',
      },
      typical: [{ value: '0.1 kA/us', for: 'the usual value for slow fronts', basis: commonPractice() }],
    },
    line_length: {
      type: 'quantity',
      symbol: '\\ell',
      meaning: 'length of line between the devices',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: USUAL.circuitLength,
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
      usual: {
        from: '0.5 uH',
        to: '1000 uH',
        orNone: true,
        because: 'decoupling elements have some microhenries to some ten microhenries',
      },
      default: { value: '0 uH', basis: commonPractice('no decoupling element') },
    },
    downstream_spread: {
      type: 'quantity',
      symbol: '\\delta',
      meaning: 'part by which the actual residual voltage of the downstream SPD may be below the stated one',
      unit: '%',
      permitted: { from: '0 %', below: '100 %' },
      usual: {
        from: '5 %',
        to: '40 %',
        because: 'varistor voltages spread by 10 %, and a stated level is an upper bound',
      },
      default: { value: '10 %', basis: commonPractice('varistor voltages spread by 10 %') },
    },
    slow_steepness: {
      type: 'quantity',
      symbol: 'S_0',
      meaning: 'steepness of the slow front for which the coordination is judged as well',
      unit: 'kA/us',
      permitted: { above: '0 kA/us' },
      usual: {
        from: '0.01 kA/us',
        to: '0.1 kA/us',
        because: 'the standard requires 0.1 kA/µs (from memory)',
      },
      default: { value: '0.1 kA/us', basis: slowFront },
    },
    rule: {
      type: 'choice',
      symbol: '\\text{rule}',
      meaning: 'additional rule on the length of line',
      options: {
        none: 'no rule on lengths',
        'gb-50343': 'GB 50343: 10 m from a switching to a limiting SPD, 5 m between limiting ones',
      },
      default: { value: 'none', basis: commonPractice('lengths alone do not prove coordination') },
    },
  },
  steps: {
    least_downstream_voltage: {
      symbol: 'U_{2,\\mathrm{min}}',
      meaning: 'lowest residual voltage of the downstream SPD',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: derivation('the spread is taken from the stated residual voltage'),
      formula: '(1 - downstream_spread) * downstream_residual_voltage',
    },
    required_inductance: {
      symbol: 'L_\\mathrm{req}',
      meaning: 'inductance needed between the devices at the steepness given',
      unit: 'uH',
      rounded: 'up',
      basis: decoupling,
      formula: 'max(0 uH, (upstream_voltage - least_downstream_voltage) / steepness)',
      note: 'the residual voltage of the downstream device and the drop along the line together must reach the upstream voltage',
    },
    slow_front_inductance: {
      symbol: 'L_\\mathrm{req,0}',
      meaning: 'inductance needed between the devices at the slow front',
      unit: 'uH',
      rounded: 'up',
      basis: slowFront,
      formula: 'max(0 uH, (upstream_voltage - least_downstream_voltage) / slow_steepness)',
    },
    required_line_length: {
      symbol: '\\ell_\\mathrm{req}',
      meaning: 'length of line that provides the larger of the two, beyond the decoupling element',
      unit: 'm',
      rounded: 'up',
      basis: decoupling,
      formula:
        'max(0 m, (max(required_inductance, slow_front_inductance) - decoupling_inductance) / line_inductance)',
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
      meaning: 'voltage that reaches the upstream device at the slower of the two fronts',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: decoupling,
      optional: true,
      formula: 'least_downstream_voltage + available_inductance * min(steepness, slow_steepness)',
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
      criterion: 'Inductance between the devices against that with which the upstream device responds',
      value: 'available_inductance',
      relation: '>=',
      limit: 'required_inductance',
      competing: [
        {
          meaning: 'the slow front',
          value: 'available_inductance',
          limit: 'slow_front_inductance',
        },
      ],
      force: 'requirement',
      basis: decoupling,
      remedies: [
        'Fit a decoupling element of the missing inductance, rated for the current of the circuit.',
        'Use devices whose manufacturer has tested their energy coordination at this distance.',
        'Use an upstream SPD with a lower sparkover or residual voltage (a triggered gap).',
        'Move the downstream device farther along the line, where the equipment permits it.',
      ],
    },
    length_rule: {
      criterion: 'Length of line between the devices against the rule',
      value: 'line_length',
      relation: '>=',
      limit: 'rule_length',
      when: 'rule is gb-50343',
      force: 'requirement',
      basis: lengthRule,
      remedies: [
        'Fit a decoupling element in place of the missing length.',
        'By the rule, devices with built-in energy coordination need no minimum length: have that confirmed by their manufacturer.',
      ],
    },
  },
  cautions: {
    'level-upstream': {
      when: 'upstream_voltage > least_downstream_voltage and upstream_type is limiting',
      text: 'The upstream device may limit at a higher voltage than the downstream one: the latter then responds first and takes most of the energy until the drop along the line makes up the difference.',
      basis: commonPractice('measurements of cascaded devices'),
    },
    'slow-fronts': {
      when: 'upstream_voltage > least_downstream_voltage',
      text: 'For currents that rise more slowly than the slower of the two fronts the line decouples less: the downstream device then carries the surge, and its energy rating must be judged as well.',
      basis: decoupling,
    },
    'energy-not-judged': {
      text: 'Voltages alone are compared here. That the devices are coordinated in energy over the range of currents is shown by a test or a simulation of the manufacturer, not by this comparison.',
      basis: decoupling,
    },
  },
  limiting: [
    {
      given: 'line_length',
      seek: 'smallest',
      meaning: 'shortest line with which the upstream device responds, other values unchanged',
    },
    {
      given: 'steepness',
      seek: 'smallest',
      meaning: 'slowest rise at which the upstream device responds',
    },
  ],
  evidence: [
    {
      kind: 'memory',
      about: 'rule of lengths: 10 m from a switching to a limiting device',
      source: 'GB 50343-2012, 5.4.3: 10 m and 5 m (from memory)',
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
        length_rule: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'memory',
      about: 'rule of lengths: 5 m between limiting devices',
      source: 'GB 50343-2012, 5.4.3: 10 m and 5 m (from memory)',
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
      about: 'a gap of 4 kV before a varistor of 1.5 kV without spread at 0.1 kA/µs: 25 µH, 25 m',
      source: '(4 − 1.5) kV / 0.1 kA/µs = 25 µH; at 1 µH/m 25 m, with 15 µH of decoupling 10 m',
      given: {
        upstream_type: 'switching',
        upstream_voltage: '4 kV',
        downstream_residual_voltage: '1.5 kV',
        steepness: '0.1 kA/us',
        line_length: '10 m',
        decoupling_inductance: '15 uH',
        downstream_spread: '0 %',
      },
      expect: {
        required_inductance: { value: '25 uH', tolerance: '0 uH' },
        required_line_length: { value: '10 m', tolerance: '0 m' },
        coordinated: { verdict: 'complies' },
      },
    },
    {
      kind: 'independent',
      about: 'a line that suffices for a steep front fails at the slow one',
      source: '(3 − 0.9 · 1.2) kV = 1.92 kV: 0.384 µH at 5 kA/µs, 19.2 µH at 0.1 kA/µs, against 0.8 µH',
      given: {
        upstream_type: 'switching',
        upstream_voltage: '3 kV',
        downstream_residual_voltage: '1.2 kV',
        steepness: '5 kA/us',
        line_length: '0.8 m',
      },
      expect: {
        required_inductance: { value: '0.384 uH', tolerance: '1e-9 uH' },
        slow_front_inductance: { value: '19.2 uH', tolerance: '1e-9 uH' },
        coordinated: { verdict: 'does-not-comply' },
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
