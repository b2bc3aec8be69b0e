import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence } from '../../definition/definition.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const criticalLength = recall('iec-60364-7-712-2017', '712.443.5.101, critical length');
const continuousVoltage = recall('iec-60364-7-712-2017', '712.534.102, maximum continuous voltage');
const openCircuit = recall('iec-60364-7-712-2017', 'Annex B, maximum open-circuit voltage');
const protectionLevelRule = recall('iec-60364-7-712-2017', '712.534.102.1, voltage protection level');
const nominalDischarge = recall('iec-61643-32-2017', '9.2, nominal discharge current of class II');
const impulseTable = recall(
  'iec-61643-32-2017',
  'table of impulse currents of voltage-limiting SPDs on a structure whose lightning protection system touches the array',
);

/** Surge protective devices on the d.c. side of a photovoltaic installation: need, voltage, current, level. */
export const pvSpd = defineCalculation({
  name: 'pv-spd',
  title: 'Surge protective devices of a photovoltaic array',
  purpose:
    'Finds whether the d.c. side of a photovoltaic installation needs surge protective devices, by the length of its ' +
    'lines against the critical length, and what these must withstand: the open-circuit voltage of the coldest day, the ' +
    'short-circuit current of the array, and the surge current with or without a lightning protection system on the roof.',
  answers: [
    'Does the solar array need surge protection on the d.c. side, and of which type?',
    'Which continuous voltage must the SPD of a string have at the lowest temperature?',
  ],
  example: `
    id: pv-roof-south
    title: PV array on the south roof, SPDs at the inverter
    given:
      installation: building
      ground_flash_density: { value: 1.5 1/km^2/year, source: "lightning location service" }
      route_length: { value: 9 m, source: "measured on site, longest string" }
      lightning_protection: { value: separated, source: "drawing of the lightning protection system" }
      modules: 16
      module_voltage: { value: 49.5 V, source: "data sheet of the module, at STC" }
      temperature_coefficient: { value: -0.27 %/K, source: "data sheet of the module" }
      lowest_temperature: { value: -15 degC, source: "weather station, daylight" }
      module_current: { value: 13.9 A, source: "data sheet of the module, at STC" }
      strings: 2
      spd: present
      continuous_voltage: { value: 1100 V, source: "data sheet of the SPD" }
      short_circuit_rating: { value: 1000 A, source: "data sheet of the SPD" }
      nominal_current: { value: 15 kA, source: "data sheet of the SPD" }
      protection_level: { value: 3.6 kV, source: "data sheet of the SPD" }
      impulse_withstand: { value: 6 kV, source: "data sheet of the inverter" }
  `,
  givens: {
    installation: {
      type: 'choice',
      symbol: '\\text{installation}',
      meaning: 'kind of installation',
      options: {
        dwelling: 'on a dwelling',
        'ground-plant': 'production plant on the ground',
        building: 'on a commercial, industrial or agricultural building',
      },
    },
    ground_flash_density: {
      type: 'quantity',
      symbol: 'N_\\mathrm{g}',
      meaning: 'ground flash density at the site',
      unit: '1/km^2/year',
      permitted: { above: '0 1/km^2/year' },
      usual: {
        from: '0.05 1/km^2/year',
        to: '50 1/km^2/year',
        because: 'densities run from some hundredths in the far north to some tens in the tropics',
      },
    },
    route_length: {
      type: 'quantity',
      symbol: 'L',
      meaning: 'longest route between the inverter and the connection points of the strings',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: {
        from: '1 m',
        to: '2000 m',
        orNone: true,
        because: 'arrays lie metres to some kilometres away',
      },
    },
    lightning_protection: {
      type: 'choice',
      symbol: '\\text{LPS}',
      meaning: 'lightning protection system of the structure and its distance from the array',
      options: {
        none: 'none',
        separated: 'present, and the separation distance is kept',
        joined: 'present, and the array is bonded to it because the distance cannot be kept',
      },
    },
    lpl: {
      type: 'choice',
      symbol: '\\text{LPL}',
      meaning: 'lightning protection level of that system',
      options: { I: 'level I', II: 'level II', III: 'level III', IV: 'level IV' },
      default: { value: 'I', basis: commonPractice('the severest, where it is not known') },
    },
    down_conductors: {
      type: 'quantity',
      symbol: 'n',
      meaning: 'number of down conductors of that system',
      unit: '1',
      whole: true,
      permitted: { from: '1', to: '1000' },
      default: { value: '1', basis: commonPractice('the safe side') },
    },
    modules: {
      type: 'quantity',
      symbol: 'N_\\mathrm{s}',
      meaning: 'modules in series in a string',
      unit: '1',
      whole: true,
      permitted: { from: '1', to: '200' },
    },
    module_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{OC}',
      meaning: 'open-circuit voltage of a module at standard test conditions',
      unit: 'V',
      permitted: { above: '0 V' },
      usual: {
        from: '10 V',
        to: '300 V',
        because: 'modules have some tens of volts, thin films up to some hundred',
      },
    },
    temperature_coefficient: {
      type: 'quantity',
      symbol: '\\beta',
      meaning: 'temperature coefficient of the open-circuit voltage, as a share of it (negative)',
      unit: '%/K',
      permitted: { above: '-2 %/K', to: '0 %/K' },
      usual: { from: '-0.6 %/K', to: '-0.1 %/K', because: 'data sheets give -0.2 %/K to -0.4 %/K' },
    },
    lowest_temperature: {
      type: 'quantity',
      symbol: '\\theta_\\mathrm{min}',
      meaning: 'lowest temperature of the modules in daylight',
      unit: 'degC',
      permitted: { from: '-60 degC', to: '25 degC' },
      usual: { from: '-45 degC', to: '20 degC', because: 'from severe frost to the tropics' },
    },
    module_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{SC}',
      meaning: 'short-circuit current of a string at standard test conditions',
      unit: 'A',
      permitted: { above: '0 A' },
      usual: { from: '0.5 A', to: '30 A', because: 'modules have one ampere to some twenty' },
    },
    strings: {
      type: 'quantity',
      symbol: 'N_\\mathrm{p}',
      meaning: 'strings in parallel at the place of the SPD',
      unit: '1',
      whole: true,
      permitted: { from: '1', to: '2000' },
      default: { value: '1', basis: commonPractice('one string') },
    },
    continuous_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{CPV}',
      meaning: 'maximum continuous voltage of the SPD for its mode',
      unit: 'V',
      permitted: { above: '0 V' },
      usual: { from: '50 V', to: '2500 V', because: 'SPDs for arrays are made for 100 V to 1500 V and more' },
    },
    short_circuit_rating: {
      type: 'quantity',
      symbol: 'I_\\mathrm{SCPV}',
      meaning: 'short-circuit rating of the SPD',
      unit: 'A',
      permitted: { above: '0 A' },
      usual: {
        from: '10 A',
        to: '100 kA',
        because: 'SPDs for arrays are rated for tens of amperes to some kiloamperes',
      },
    },
    nominal_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{n}',
      meaning: 'nominal discharge current of the SPD, 8/20, for each mode',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: {
        from: '1 kA',
        to: '100 kA',
        because: 'SPDs discharge some kiloamperes to tens of kiloamperes',
      },
    },
    impulse_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{imp}',
      meaning: 'impulse current of the SPD, 10/350, for each mode',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: { from: '0.5 kA', to: '100 kA', because: 'SPDs carry impulse currents of 1 kA to 50 kA' },
    },
    protection_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{p}',
      meaning: 'voltage protection level of the SPD',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.spdLevel,
    },
    impulse_withstand: {
      type: 'quantity',
      symbol: 'U_\\mathrm{w}',
      meaning: 'impulse withstand voltage of the equipment: the lower of inverter and modules',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.lowVoltageWithstand,
    },
    second_spd: {
      type: 'choice',
      symbol: '\\text{second SPD}',
      meaning: 'a further SPD at the other end of the line, close to the array',
      options: { absent: 'none', present: 'present or planned' },
      default: { value: 'absent', basis: commonPractice('the safe side') },
    },
    spd: {
      type: 'choice',
      symbol: '\\text{SPD}',
      meaning: 'surge protective devices on the d.c. side',
      options: { absent: 'none', present: 'present or planned' },
    },
  },
  steps: {
    critical_length: {
      symbol: 'L_\\mathrm{crit}',
      meaning: 'critical length of the d.c. lines',
      unit: 'm',
      optional: true,
      rounded: 'down',
      basis: criticalLength,
      variants: [
        {
          when: 'installation is dwelling',
          formula: '115 / ground_flash_density',
          numeric: { ground_flash_density: '1/km^2/year' },
        },
        {
          when: 'installation is ground-plant',
          formula: '200 / ground_flash_density',
          numeric: { ground_flash_density: '1/km^2/year' },
        },
        { formula: '450 / ground_flash_density', numeric: { ground_flash_density: '1/km^2/year' } },
      ],
    },
    need: {
      symbol: 'm',
      meaning: 'SPDs are required on the d.c. side (1 yes, 0 no)',
      unit: '1',
      digits: 1,
      basis: criticalLength,
      variants: [
        {
          when: 'not lightning_protection is none',
          formula: '1',
          basis: recall('iec-61643-32-2017', 'structures with a lightning protection system'),
          note: 'a lightning protection system on the structure',
        },
        {
          when: 'given critical_length and given route_length and route_length < critical_length',
          formula: '0',
          note: 'the lines are shorter than the critical length',
        },
        {
          when: 'given critical_length and given route_length',
          formula: '1',
          note: 'the lines are not shorter than the critical length',
        },
        {
          formula: '1',
          note: 'without the length of the lines and the density of lightning the protection is required',
        },
      ],
    },
    provided: {
      symbol: 'v',
      meaning: 'SPDs are provided (1 yes, 0 no)',
      unit: '1',
      digits: 1,
      basis: commonPractice('as stated'),
      variants: [{ when: 'spd is present', formula: '1' }, { formula: '0' }],
    },
    open_circuit_voltage: {
      symbol: 'U_\\mathrm{OC,max}',
      meaning: 'highest open-circuit voltage of a string',
      unit: 'V',
      rounded: 'up',
      basis: openCircuit,
      variants: [
        {
          when: 'given temperature_coefficient and given lowest_temperature',
          formula:
            'modules * module_voltage * (1 + temperature_coefficient * (lowest_temperature - 25 degC))',
        },
        {
          formula: '1.2 * modules * module_voltage',
          note: 'without the temperature coefficient and the lowest temperature',
        },
      ],
    },
    short_circuit_current: {
      symbol: 'I_\\mathrm{SC,max}',
      meaning: 'highest short-circuit current that the array drives through the SPD',
      unit: 'A',
      rounded: 'up',
      optional: true,
      basis: recall('iec-60364-7-712-2017', 'Annex B, maximum short-circuit current'),
      formula: '1.25 * strings * module_current',
    },
    least_impulse_current: {
      symbol: 'I_\\mathrm{imp,min}',
      meaning: 'minimum impulse current for each mode',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: impulseTable,
      when: 'lightning_protection is joined',
      variants: [
        { when: 'lpl is I and down_conductors < 4', formula: '10 kA' },
        { when: 'lpl is I', formula: '5 kA' },
        { when: 'lpl is II and down_conductors < 4', formula: '7.5 kA' },
        { when: 'lpl is II', formula: '3.75 kA' },
        { when: 'down_conductors < 4', formula: '5 kA' },
        { formula: '2.5 kA' },
      ],
    },
    permitted_level: {
      symbol: 'U_\\mathrm{p,max}',
      meaning: 'highest permitted protection level',
      unit: 'kV',
      rounded: 'down',
      voltage: { measure: 'peak' },
      optional: true,
      basis: protectionLevelRule,
      formula: '0.8 * impulse_withstand',
    },
  },
  checks: {
    protection: {
      criterion: 'SPDs on the d.c. side where they are required',
      value: 'provided',
      relation: '>=',
      limit: 'need',
      force: 'requirement',
      basis: criticalLength,
      counts: true,
      remedies: [
        'Install SPDs on the d.c. side at the inverter, and a further one at the array where the line between is long.',
      ],
    },
    continuous_voltage: {
      criterion: 'Continuous voltage of the SPD against the highest open-circuit voltage',
      value: 'continuous_voltage',
      relation: '>=',
      limit: 'open_circuit_voltage',
      when: 'spd is present',
      force: 'requirement',
      basis: continuousVoltage,
      remedies: [
        'Use an SPD for a higher continuous voltage, and check its protection level against the equipment again.',
        'Reduce the number of modules in the string, together with the designer of the array.',
      ],
    },
    short_circuit_rating: {
      criterion: 'Short-circuit rating of the SPD against the short-circuit current of the array',
      value: 'short_circuit_rating',
      relation: '>=',
      limit: 'short_circuit_current',
      when: 'spd is present',
      force: 'requirement',
      basis: recall('iec-61643-32-2017', 'short-circuit rating'),
      remedies: [
        'Use an SPD of a higher rating, or with the disconnector that its manufacturer states for this current.',
      ],
    },
    nominal_current: {
      criterion: 'Nominal discharge current of the SPD in each mode',
      value: 'nominal_current',
      relation: '>=',
      limit: '5 kA',
      when: 'spd is present and not lightning_protection is joined',
      force: 'requirement',
      basis: nominalDischarge,
      remedies: ['Use an SPD of at least 5 kA (8/20) in each mode.'],
    },
    impulse_current: {
      criterion: 'Impulse current of the SPD against that of the table',
      value: 'impulse_current',
      relation: '>=',
      limit: 'least_impulse_current',
      when: 'spd is present and lightning_protection is joined',
      force: 'requirement',
      basis: impulseTable,
      remedies: [
        'Use an SPD that was tested with a larger impulse current (type 1).',
        'Move the array or the air termination so that the separation distance is kept; no bond may be removed while it is not.',
        { when: 'down_conductors < 4', text: 'Add down conductors, so that there are at least four.' },
      ],
    },
    protection_level: {
      criterion: 'Protection level against 80 % of the impulse withstand voltage',
      value: 'protection_level',
      relation: '<=',
      limit: 'permitted_level',
      when: 'spd is present',
      force: 'requirement',
      basis: protectionLevelRule,
      remedies: ['Use an SPD with a lower protection level whose continuous voltage still suits the string.'],
    },
    distance: {
      criterion: 'Length of the line between SPD and array without a second SPD',
      value: 'route_length',
      relation: '<=',
      limit: '10 m',
      when: 'spd is present and second_spd is absent and not (given protection_level and given impulse_withstand and protection_level <= 0.5 * impulse_withstand)',
      force: 'requirement',
      basis: protectionLevelRule,
      remedies: [
        'Install a further SPD close to the array.',
        'Use an SPD whose protection level is at most half the withstand voltage.',
      ],
    },
  },
  validity: {
    'temperature-pair': {
      requires:
        'given temperature_coefficient and given lowest_temperature or not given temperature_coefficient and not given lowest_temperature',
      otherwise: 'error',
      text: 'the temperature coefficient and the lowest temperature belong together: write both or neither',
      basis: openCircuit,
    },
    'voltage-of-part': {
      requires: 'open_circuit_voltage <= 1500 V',
      otherwise: 'caution',
      text: 'the open-circuit voltage exceeds 1500 V d.c., the limit of the low-voltage standards',
      basis: recall('iec-61643-32-2017', '1, scope'),
    },
    'levels-of-one-device': {
      requires:
        'not given protection_level or not given continuous_voltage or protection_level > continuous_voltage',
      acrossKinds: 'a protection level must exceed the d.c. voltage on the same terminals',
      otherwise: 'error',
      given: 'protection_level',
      text: 'the protection level is below the continuous voltage of the same SPD',
      instead: 'the protection level Up of the data sheet, in kV',
      basis: derivation('an SPD does not conduct at its continuous voltage'),
    },
  },
  cautions: {
    'no-lengths': {
      when: 'lightning_protection is none and not (given critical_length and given route_length)',
      text: 'The length of the lines or the density of lightning is not given, so SPDs are taken as required.',
    },
    'direct-strikes-to-plants': {
      when: 'installation is ground-plant',
      text: 'Large plants on the ground share the lightning current over many earthed rows: the current of a single SPD there follows from the tables for such plants, which are not included here.',
      basis: recall('iec-61643-32-2017', 'photovoltaic plants in the open with multiple earthing'),
    },
    'alternating-side': {
      text: 'SPDs on the d.c. side protect the inverter only together with SPDs on its a.c. side and on its data lines.',
      basis: commonPractice(),
    },
    'isolating-under-load': {
      text: 'A direct current has no zero crossing: SPD and disconnector must be made for d.c. and for the array that feeds them.',
      basis: commonPractice(),
    },
    'limiting-type': {
      when: 'lightning_protection is joined',
      text: 'The impulse currents are those of voltage-limiting SPDs; switching SPDs take a larger share, and more is required of them.',
      basis: impulseTable,
    },
    'leads-not-included': {
      when: 'given protection_level and given impulse_withstand',
      text: 'The drop along the leads of the SPD is not included in its protection level: keep them short, and judge the effective protection level with them.',
      basis: commonPractice(),
    },
    'unearthed-mode': {
      text: 'The continuous voltage is that of one mode: in Y connection two devices in series share it, and a single one may be exposed to all of it when the array has an earth fault.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'modules',
      seek: 'largest',
      meaning: 'largest number of modules in series for which the continuous voltage is sufficient',
      checks: ['continuous_voltage'],
    },
  ],
  evidence: evidenceOfArrays(),
});

function evidenceOfArrays(): Evidence[] {
  return [
    {
      kind: 'independent',
      about:
        'eighteen modules of 49.5 V at -0.27 %/K down to -15 °C: 987 V; roof line of 60 m at 1.5 flashes',
      source:
        'by hand: 18 · 49.5 · (1 + 0.0027 · 40) = 987.2 V; 1.25 · 2 · 13.9 = 34.75 A; 115/1.5 = 76.7 m, from memory of the rule',
      given: {
        installation: 'dwelling',
        ground_flash_density: '1.5 1/km^2/year',
        route_length: '60 m',
        lightning_protection: 'none',
        spd: 'present',
        modules: '18',
        module_voltage: '49.5 V',
        temperature_coefficient: '-0.27 %/K',
        lowest_temperature: '-15 degC',
        module_current: '13.9 A',
        strings: '2',
        continuous_voltage: '1000 V',
        short_circuit_rating: '1000 A',
        nominal_current: '15 kA',
        protection_level: '3.8 kV',
        impulse_withstand: '6 kV',
      },
      expect: {
        critical_length: { value: '76.7 m', tolerance: '0.05 m' },
        need: { value: '0', tolerance: '0' },
        open_circuit_voltage: { value: '987.2 V', tolerance: '0.05 V' },
        short_circuit_current: { value: '34.75 A', tolerance: '0.005 A' },
        continuous_voltage: { verdict: 'complies' },
        protection_level: { verdict: 'complies' },
        distance: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'memory',
      about: 'factor 1.2 without temperatures; critical lengths of 80 m and 180 m at 2.5 flashes',
      source: 'IEC 60364-7-712:2017, 712.443.5.101 and Annex B, values from memory',
      given: {
        installation: 'building',
        ground_flash_density: '2.5 1/km^2/year',
        route_length: '200 m',
        lightning_protection: 'none',
        spd: 'present',
        modules: '20',
        module_voltage: '40 V',
        continuous_voltage: '900 V',
      },
      expect: {
        critical_length: { value: '180 m', tolerance: '0 m' },
        need: { value: '1', tolerance: '0' },
        open_circuit_voltage: { value: '960 V', tolerance: '0 V' },
        continuous_voltage: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'memory',
      about: 'array bonded to a system of level III with two down conductors: 5 kA',
      source: 'IEC 61643-32:2017, table of impulse currents, values from memory',
      given: {
        installation: 'building',
        lightning_protection: 'joined',
        spd: 'present',
        lpl: 'III',
        down_conductors: '2',
        modules: '12',
        module_voltage: '45 V',
        impulse_current: '6.25 kA',
      },
      expect: {
        least_impulse_current: { value: '5 kA', tolerance: '0 kA' },
        impulse_current: { verdict: 'complies' },
      },
    },
  ];
}
