import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import {
  conductorMaterial,
  materialTable,
  meltingTemperatures,
  specificHeats,
} from '../../tables/conductor-materials.ts';
import { firstStrokeEnergy, protectionLevel, specificEnergy } from '../../tables/protection-level.ts';

const jointEnergy = recall('iec-62305-1-2010', 'D.4.1, energy in a resistance');
const jointLimit = recall('iec-62561-1-2012', 'contact resistance after the current test');

/** Heat that a lightning current leaves in a joint of given contact resistance. */
export const jointHeating = defineCalculation({
  name: 'joint-heating',
  title: 'Heating of a joint',
  purpose:
    'Finds the energy that a lightning current turns into heat in the contact resistance of a clamp or joint and, where ' +
    'the mass that takes the heat is known, its temperature rise.',
  answers: ['Does a clamp or joint withstand the lightning current?'],
  example: `
    id: clamp-heating
    title: Test joint at down conductor 3
    given:
      contact_resistance: { value: 0.6 mohm, source: "measured on site" }
      lpl: III
      share: { value: 0.44, source: "calculation of the down conductors" }
      material: steel
      mass: { value: 0.15 kg, source: "data sheet of the clamp" }
      permitted_rise: { value: 200 K, source: "data sheet of the clamp" }
  `,
  givens: {
    contact_resistance: {
      type: 'quantity',
      symbol: 'R_\\mathrm{j}',
      meaning: 'contact resistance of the joint',
      unit: 'mohm',
      permitted: { above: '0 mohm' },
      usual: {
        from: '0.01 mohm',
        to: '100 mohm',
        because:
          'clamps have tenths of a milliohm and brazed joints less; a joint of more than 100 mΩ conducts by chance and its resistance changes while current flows',
      },
    },
    lpl: protectionLevel,
    specific_energy: specificEnergy,
    share: {
      type: 'quantity',
      symbol: 'k',
      meaning: 'share of the lightning current that flows through this joint',
      unit: '1',
      permitted: { above: '0', to: '1' },
      usual: { from: '0.01', because: 'a joint of the protection system carries at least some hundredths' },
      default: { value: '1', basis: commonPractice('the joint carries the whole current') },
    },
    material: { ...conductorMaterial, meaning: 'material of the joint' },
    mass: {
      type: 'quantity',
      symbol: 'm',
      meaning: 'mass of metal that takes the heat',
      unit: 'kg',
      permitted: { above: '0 kg' },
      usual: {
        from: '0.01 kg',
        to: '10 kg',
        because: 'clamps weigh some tens of grams to kilograms (common practice)',
      },
    },
    heat_capacity: {
      type: 'quantity',
      symbol: 'C',
      meaning: 'heat capacity of what takes the heat',
      unit: 'J/K',
      permitted: { above: '0 J/K' },
      usual: {
        from: '4 J/K',
        to: '5000 J/K',
        because: 'ten grams of copper have 4 J/K, ten kilograms of steel 5 kJ/K',
      },
    },
    ambient_temperature: {
      type: 'quantity',
      symbol: '\\theta_0',
      meaning: 'temperature of the joint before the stroke',
      unit: 'degC',
      permitted: { above: '-273.15 degC', below: '658 degC' },
      usual: {
        from: '-40 degC',
        to: '80 degC',
        because: 'joints in the open lie between hard frost and strong sun (common practice)',
      },
      default: { value: '20 degC', basis: commonPractice() },
    },
    permitted_rise: {
      type: 'quantity',
      symbol: '\\Delta\\theta_\\mathrm{max}',
      meaning: 'permitted temperature rise of the joint and of what touches it',
      unit: 'K',
      permitted: { above: '0 K' },
      usual: {
        from: '5 K',
        to: '500 K',
        because:
          'paint and insulation withstand some tens of kelvin, bare metal some hundreds (common practice)',
      },
    },
  },
  alternatives: [
    { oneOf: ['lpl', 'specific_energy'] },
    { oneOf: ['mass', 'heat_capacity'], mayBeAbsent: true },
  ],
  steps: {
    specific_energy: {
      symbol: 'W/R',
      meaning: 'specific energy of the first positive stroke of the level',
      unit: 'MJ/ohm',
      basis: firstStrokeEnergy.basis,
      when: 'given lpl',
      table: { by: ['lpl'], values: firstStrokeEnergy.values },
    },
    joint_specific_energy: {
      symbol: '(W/R)_k',
      meaning: 'specific energy of the current through the joint',
      unit: 'MJ/ohm',
      basis: recall('iec-62305-1-2010', 'D.3, parameters of a share of the current'),
      formula: 'share^2 * specific_energy',
    },
    energy: {
      symbol: 'E',
      meaning: 'energy turned into heat in the joint',
      unit: 'kJ',
      basis: jointEnergy,
      formula: 'joint_specific_energy * contact_resistance',
    },
    specific_heat: {
      symbol: 'C_\\mathrm{w}',
      meaning: 'specific heat',
      unit: 'J/(kg K)',
      basis: materialTable,
      when: 'given mass',
      table: { by: ['material'], values: specificHeats },
    },
    melting_temperature: {
      symbol: '\\theta_\\mathrm{s}',
      meaning: 'melting temperature',
      unit: 'degC',
      basis: materialTable,
      optional: true,
      when: 'given mass or given heat_capacity',
      table: { by: ['material'], values: meltingTemperatures },
    },
    temperature_rise: {
      symbol: '\\Delta\\theta',
      meaning: 'temperature rise of the joint',
      unit: 'K',
      basis: derivation('all heat stays in the metal, at a specific heat that does not change'),
      optional: true,
      words: [
        {
          when: 'given mass and energy / (mass * specific_heat) >= melting_temperature - ambient_temperature',
          says: 'melts',
        },
        {
          when: 'given heat_capacity and given material and energy / heat_capacity >= melting_temperature - ambient_temperature',
          says: 'melts',
        },
      ],
      variants: [
        { when: 'given mass', formula: 'energy / (mass * specific_heat)' },
        { formula: 'energy / heat_capacity' },
      ],
    },
    contact_resistance_limit: {
      symbol: 'R_\\mathrm{j,max}',
      meaning: 'permitted contact resistance of a joint after the current test of the component standard',
      unit: 'mohm',
      basis: jointLimit,
      optional: true,
      table: {
        by: ['material'],
        values: {
          copper: '1 mohm',
          aluminium: '1 mohm',
          steel: '1 mohm',
          'stainless-steel': '2.5 mohm',
        },
      },
    },
  },
  checks: {
    contact_resistance: {
      criterion: 'Contact resistance against the limit for connection components after the current test',
      value: 'contact_resistance',
      relation: '<=',
      limit: 'contact_resistance_limit',
      force: 'requirement',
      basis: jointLimit,
      remedies: [
        'Clean the contact faces, protect them against corrosion, tighten to the stated torque and measure again.',
        'Add a second clamp or a brazed or exothermic joint in parallel; the existing connection stays.',
        'Use a connection component that was tested to the component standard for the class of current (50 kA or 100 kA).',
      ],
    },
    permitted_rise: {
      criterion: 'Temperature rise against the permitted rise of the joint and its surroundings',
      value: 'temperature_rise',
      relation: '<=',
      limit: 'permitted_rise',
      when: 'given permitted_rise or given mass or given heat_capacity',
      force: 'requirement',
      basis: commonPractice('the limit is set by insulation, fire hazard and mechanical strength'),
      verdictOfWords: { melts: false },
      remedies: [
        'Lower the contact resistance: the heat falls in proportion.',
        'Divide the current among further joints in parallel: the heat in each falls with the square of its share. Existing connections stay.',
      ],
    },
  },
  cautions: {
    'lumped-heat': {
      when: 'given mass or given heat_capacity',
      text: 'The heat is taken as spread over the whole mass. At the contact itself, where the current flows through a few spots, the metal becomes much hotter in the few hundred microseconds of the stroke.',
      basis: commonPractice(),
    },
    'resistance-changes': {
      text: 'The contact resistance is taken as constant; sparking, softening and heat change it during the stroke, and a measured value applies to the current of the measurement only.',
      basis: commonPractice(),
    },
    'no-mass': {
      when: 'not (given mass or given heat_capacity)',
      text: 'Neither the mass nor the heat capacity of the joint is given: no temperature rise is calculated.',
    },
  },
  limiting: [
    {
      given: 'contact_resistance',
      seek: 'largest',
      meaning:
        'largest contact resistance with which the permitted rise and the limit of the component standard are kept, as far as they can be judged',
      when: 'given permitted_rise',
    },
  ],
  evidence: [
    {
      kind: 'memory',
      about: 'limit of contact resistance for copper: 1 mΩ',
      source: 'IEC 62561-1:2012, contact resistance after the current test, value from memory',
      given: { contact_resistance: '1 mohm', specific_energy: '2.5 MJ/ohm', material: 'copper' },
      expect: {
        contact_resistance_limit: { value: '1 mohm', tolerance: '0 mohm' },
        contact_resistance: { verdict: 'complies' },
      },
    },
    {
      kind: 'memory',
      about: 'limit of contact resistance for stainless steel: 2.5 mΩ',
      source: 'IEC 62561-1:2012, contact resistance after the current test, value from memory',
      given: { contact_resistance: '2.6 mohm', specific_energy: '2.5 MJ/ohm', material: 'stainless-steel' },
      expect: {
        contact_resistance_limit: { value: '2.5 mohm', tolerance: '0 mohm' },
        contact_resistance: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'independent',
      about: '1 mΩ at level I: 10 kJ, which warm 0.1 kg of copper by 260 K',
      source: '10 MJ/Ω · 1 mΩ = 10 kJ; 10 000 J / (0.1 kg · 385 J/(kg K)) = 259.7 K by hand',
      given: { contact_resistance: '1 mohm', lpl: 'I', material: 'copper', mass: '0.1 kg' },
      expect: {
        energy: { value: '10 kJ', tolerance: '0 kJ' },
        temperature_rise: { value: '259.74 K', tolerance: '0.005 K' },
      },
    },
    {
      kind: 'independent',
      about: 'a joint of 10 mΩ melts where one of 1 mΩ warms by 260 K',
      source: '100 kJ / (0.1 kg · 385 J/(kg K)) = 2597 K, above the melting point of copper',
      given: { contact_resistance: '10 mohm', lpl: 'I', material: 'copper', mass: '0.1 kg' },
      expect: { temperature_rise: { words: 'melts' } },
    },
    {
      kind: 'limiting-case',
      about: 'half the current leaves a quarter of the heat',
      source: 'the specific energy goes with the square of the current',
      given: { contact_resistance: '2.5 mohm', lpl: 'I', share: '0.5' },
      expect: { energy: { value: '6.25 kJ', tolerance: '0 kJ' } },
    },
  ],
});
