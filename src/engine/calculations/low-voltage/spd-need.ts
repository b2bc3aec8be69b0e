import { commonPractice, quote, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence, QuantityGiven } from '../../definition/definition.ts';

const rule = recall('iec-60364-4-44-2018', '443.4, overvoltage control');
const riskLevel = quote(
  'bs-7671-2018',
  '443.5, calculated risk level',
  'utility-connection-questions',
  'section 443 of BS 7671',
);
const environmentFactor = quote(
  'iec-60364-4-44-2018',
  'Table 443.1, calculation of fenv',
  'risk-level-page',
  'Table 443.1',
);
const unknownLengths = recall('iec-60364-4-44-2018', '443.5, lengths that are not known');
const olderRule = recall('iec-60364-4-44-2007', '443.3.2.1');
const systemOnStructure = recall(
  'iec-60364-5-53-2015',
  '534.4.1, structure with a lightning protection system',
);

const stretch = (symbol: string, meaning: string): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: 'km',
  permitted: { from: '0 km', to: '1 km' },
  default: { value: '0 km', basis: commonPractice('none of this kind') },
});

/** Whether an installation must have surge protective devices, by the consequence of their absence or by the risk level. */
export const spdNeed = defineCalculation({
  name: 'spd-need',
  title: 'Need for surge protective devices',
  purpose:
    'Finds whether a low-voltage installation must be protected against transient overvoltages of atmospheric origin or ' +
    'from switching: by what a failure would cause, else by the calculated risk level, which compares the kind and ' +
    'length of the supplying lines and the density of lightning with a fixed level.',
  answers: [
    'Are surge protective devices required here, and by which clause?',
    'When may surge protection be omitted?',
  ],
  example: `
    id: spd-need-workshop
    title: Need for SPDs, workshop building
    given:
      consequence: business
      lightning_protection_system: { value: absent, source: "survey of the roof" }
      environment: rural
      ground_flash_density: { value: 2.5 1/km^2/year, source: "lightning location service, ten years" }
      lv_overhead: { value: 0.3 km, source: "utility's network plan" }
      lv_cable: { value: 0.2 km, source: "utility's network plan" }
      hv_overhead: { value: 0.5 km, source: "utility's network plan" }
      spd: { value: present, source: "survey of the main board" }
  `,
  givens: {
    edition: {
      type: 'choice',
      symbol: '\\text{edition}',
      meaning: 'edition of the rule',
      options: {
        'iec-60364-4-44-2018':
          'IEC 60364-4-44 as amended in 2015 and 2018: consequence, else calculated risk level',
        'iec-60364-4-44-2007': 'IEC 60364-4-44:2007: overhead line and thunderstorm days',
      },
      default: { value: 'iec-60364-4-44-2018', basis: rule },
    },
    consequence: {
      type: 'choice',
      symbol: '\\text{consequence}',
      meaning: 'what an overvoltage would affect',
      options: {
        life: 'human life: safety services, medical care',
        'public-service': 'public services or cultural heritage: loss of a service, data centres, museums',
        business: 'commercial or industrial activity: hotels, banks, industry, farms',
        'many-people': 'many people in one place: large buildings, offices, schools',
        other: 'none of these: single dwellings and the like',
      },
    },
    lightning_protection_system: {
      type: 'choice',
      symbol: '\\text{LPS}',
      meaning: 'external lightning protection system on the structure',
      options: { absent: 'none', present: 'present or planned' },
    },
    environment: {
      type: 'choice',
      symbol: '\\text{environment}',
      meaning: 'where the supplying line runs',
      options: { rural: 'rural or suburban', urban: 'urban' },
      default: { value: 'rural', basis: commonPractice('the safe side') },
    },
    adjustment_factor: {
      type: 'quantity',
      symbol: 'F',
      meaning: 'coefficient that a country may specify for dwellings',
      unit: '1',
      permitted: { from: '1', to: '3' },
      default: { value: '1', basis: environmentFactor },
    },
    ground_flash_density: {
      type: 'quantity',
      symbol: 'N_\\mathrm{g}',
      meaning: 'ground flash density at the line and the structure',
      unit: '1/km^2/year',
      permitted: { above: '0 1/km^2/year' },
      usual: {
        from: '0.05 1/km^2/year',
        to: '50 1/km^2/year',
        because: 'densities run from some hundredths in the far north to some tens in the tropics',
      },
    },
    thunderstorm_days: {
      type: 'quantity',
      symbol: 'T_\\mathrm{d}',
      meaning: 'thunderstorm days in a year, where no density is known',
      unit: '1',
      permitted: { above: '0', to: '366' },
      usual: { from: '1', to: '220', because: 'maps of thunderstorm days run from 1 to some 200' },
    },
    lv_overhead: stretch('L_\\mathrm{PAL}', 'length of low-voltage overhead line'),
    lv_cable: stretch('L_\\mathrm{PCL}', 'length of low-voltage underground cable'),
    hv_overhead: stretch('L_\\mathrm{PAH}', 'length of high-voltage overhead line'),
    hv_cable: stretch('L_\\mathrm{PCH}', 'length of high-voltage underground cable'),
    end_of_lengths: {
      type: 'choice',
      symbol: '\\text{end}',
      meaning: 'what is at the end of the given lengths',
      options: {
        unknown: 'the network continues, and its kind up to 1 km is not known',
        'protective-device': 'at an overvoltage protective device in the network, or at its end',
      },
      default: { value: 'unknown', basis: unknownLengths },
    },
    spd: {
      type: 'choice',
      symbol: '\\text{SPD}',
      meaning: 'surge protective devices at the origin of the installation',
      options: { absent: 'none', present: 'present or planned' },
    },
  },
  alternatives: [{ oneOf: ['ground_flash_density', 'thunderstorm_days'], mayBeAbsent: true }],
  steps: {
    ground_flash_density: {
      symbol: 'N_\\mathrm{g}',
      meaning: 'ground flash density from the thunderstorm days',
      unit: '1/km^2/year',
      when: 'given thunderstorm_days',
      basis: recall('iec-62305-2-2010', 'Annex A, A.1'),
      formula: '0.1 * thunderstorm_days',
      numeric: { thunderstorm_days: '1' },
    },
    known_length: {
      symbol: 'L_\\mathrm{k}',
      meaning: 'length of the lines that are known',
      unit: 'km',
      basis: riskLevel,
      formula: 'lv_overhead + lv_cable + hv_overhead + hv_cable',
    },
    unknown_length: {
      symbol: 'L_\\mathrm{u}',
      meaning: 'length up to 1 km that is not known and counts as low-voltage overhead line',
      unit: 'km',
      basis: unknownLengths,
      variants: [
        { when: 'end_of_lengths is unknown', formula: '1 km - known_length' },
        { formula: '0 km', note: 'the lengths end at a protective device' },
      ],
    },
    assessment_length: {
      symbol: 'L_\\mathrm{P}',
      meaning: 'length for the assessment of the risk',
      unit: 'km',
      when: 'edition is iec-60364-4-44-2018',
      basis: riskLevel,
      formula: '2 * (lv_overhead + unknown_length) + lv_cable + 0.4 * hv_overhead + 0.2 * hv_cable',
    },
    environmental_factor: {
      symbol: 'f_\\mathrm{env}',
      meaning: 'factor of the environment',
      unit: '1',
      when: 'edition is iec-60364-4-44-2018',
      basis: environmentFactor,
      variants: [
        { when: 'environment is urban', formula: '850 * adjustment_factor' },
        { formula: '85 * adjustment_factor' },
      ],
    },
    risk_level: {
      symbol: '\\mathrm{CRL}',
      meaning: 'calculated risk level',
      unit: '1',
      when: 'edition is iec-60364-4-44-2018',
      rounded: 'down',
      optional: true,
      basis: riskLevel,
      words: [{ when: 'assessment_length = 0 km', says: 'no line' }],
      formula: 'environmental_factor / (assessment_length * ground_flash_density)',
      numeric: {
        environmental_factor: '1',
        assessment_length: 'km',
        ground_flash_density: '1/km^2/year',
      },
    },
    need: {
      symbol: 'n',
      meaning: 'surge protective devices are required (1 yes, 0 no)',
      unit: '1',
      digits: 1,
      basis: rule,
      variants: [
        {
          when: 'lightning_protection_system is present',
          formula: '1',
          basis: systemOnStructure,
          note: 'a lightning protection system sends part of the current into the lines',
        },
        {
          when: 'edition is iec-60364-4-44-2007 and lv_overhead + unknown_length = 0 km',
          formula: '0',
          basis: olderRule,
          note: 'no overhead line in the low-voltage supply',
        },
        {
          when: 'edition is iec-60364-4-44-2007 and given ground_flash_density and ground_flash_density <= 2.5 1/km^2/year',
          formula: '0',
          basis: olderRule,
          note: 'no more than 25 thunderstorm days a year, or 2.5 flashes per km²',
        },
        {
          when: 'edition is iec-60364-4-44-2007',
          formula: '1',
          basis: olderRule,
          note: 'an overhead line, and more than 25 thunderstorm days a year or their number not known',
        },
        {
          when: 'not consequence is other',
          formula: '1',
          note: 'by what an overvoltage would affect, whatever the risk level',
        },
        {
          when: 'given risk_level and risk_level >= 1000',
          formula: '0',
          note: 'the calculated risk level is not below 1000',
        },
        {
          when: 'given risk_level',
          formula: '1',
          note: 'the calculated risk level is below 1000',
        },
        {
          formula: '1',
          note: 'without a calculated risk level the protection is required',
        },
      ],
    },
    provided: {
      symbol: 'm',
      meaning: 'surge protective devices are provided (1 yes, 0 no)',
      unit: '1',
      digits: 1,
      optional: true,
      basis: commonPractice('as stated'),
      when: 'given spd',
      variants: [{ when: 'spd is present', formula: '1' }, { formula: '0' }],
    },
  },
  checks: {
    protection: {
      criterion: 'Surge protective devices where they are required',
      value: 'provided',
      relation: '>=',
      limit: 'need',
      force: [
        { when: 'edition is iec-60364-4-44-2007', force: 'requirement', basis: olderRule },
        { force: 'requirement' },
      ],
      basis: rule,
      counts: true,
      remedies: [
        'Install surge protective devices at the origin of the installation, selected for its system and duty, with short leads.',
        {
          when: 'lightning_protection_system is present',
          text: 'On a structure with a lightning protection system they are tested with an impulse current (type 1), for the share of the lightning current that they carry.',
        },
      ],
    },
  },
  validity: {
    'first-kilometre': {
      requires: 'known_length <= 1 km',
      otherwise: 'error',
      text: 'the lengths add up to more than 1 km: only the first kilometre from the installation counts',
      basis: riskLevel,
    },
  },
  cautions: {
    'dwelling-exempted': {
      when: 'consequence is other and edition is iec-60364-4-44-2018 and need = 1',
      text: 'For a single dwelling where the value of installation and equipment does not justify the protection, countries may exempt the owner from the rule; the rules of the country decide.',
      basis: recall('bs-7671-2018', '443.4'),
    },
    'no-risk-level': {
      when: 'consequence is other and edition is iec-60364-4-44-2018 and not given ground_flash_density',
      text: 'No density of lightning is given, so no risk level is calculated and the protection is required.',
      basis: rule,
    },
    'not-covered': {
      text: 'The rule covers the installation, not the contents: equipment of high value, telecommunication lines, and structures with a danger of explosion may need protection where the rule requires none. A risk assessment to IEC 62305-2 may require more, and its requirements apply.',
      basis: commonPractice(),
    },
    'country-rules': {
      text: 'National rules modify this one: the levels, exemptions and density maps of the country and the requirements of the insurer take precedence.',
      basis: commonPractice(),
    },
    'unknown-as-overhead': {
      when: 'unknown_length > 0 km and edition is iec-60364-4-44-2018',
      text: '{unknown_length} up to the first kilometre are not known and count as low-voltage overhead line, the least favourable kind.',
      basis: unknownLengths,
    },
  },
  evidence: evidenceOfNeed(),
});

function evidenceOfNeed(): Evidence[] {
  const dwelling = {
    consequence: 'other',
    lightning_protection_system: 'absent',
    end_of_lengths: 'protective-device',
  };
  const source = 'BS 7671:2018, examples of the calculated risk level after section 443, values from memory';
  return [
    {
      kind: 'memory',
      about: 'rural, 0.4 km of low-voltage and 0.6 km of high-voltage overhead line, 1 flash: 81.7, required',
      source,
      given: {
        ...dwelling,
        ground_flash_density: '1 1/km^2/year',
        lv_overhead: '0.4 km',
        hv_overhead: '0.6 km',
        spd: 'present',
      },
      expect: {
        assessment_length: { value: '1.04 km', tolerance: '0 km' },
        risk_level: { value: '81.7', tolerance: '0.05' },
        need: { value: '1', tolerance: '0' },
        protection: { verdict: 'complies' },
      },
    },
    {
      kind: 'memory',
      about: 'rural, 0.4 km of low-voltage and 0.6 km of high-voltage cable, 0.6 flashes: 272.4, required',
      source,
      given: {
        ...dwelling,
        ground_flash_density: '0.6 1/km^2/year',
        lv_cable: '0.4 km',
        hv_cable: '0.6 km',
        spd: 'absent',
      },
      expect: {
        risk_level: { value: '272.4', tolerance: '0.05' },
        protection: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'memory',
      about: 'urban, the same cables, 0.5 flashes: 3269, not required',
      source,
      given: {
        ...dwelling,
        environment: 'urban',
        ground_flash_density: '0.5 1/km^2/year',
        lv_cable: '0.4 km',
        hv_cable: '0.6 km',
        spd: 'absent',
      },
      expect: {
        risk_level: { value: '3269', tolerance: '0.5' },
        need: { value: '0', tolerance: '0' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'nothing is known of the line: 1 km of low-voltage overhead line is taken',
      source: 'the worst case of the network operator (videos.nienetworks.co.uk): 85 / (2 · 0.7) = 60.7',
      given: {
        consequence: 'other',
        lightning_protection_system: 'absent',
        ground_flash_density: '0.7 1/km^2/year',
      },
      expect: {
        assessment_length: { value: '2 km', tolerance: '0 km' },
        risk_level: { value: '60.7', tolerance: '0.05' },
      },
    },
    {
      kind: 'memory',
      about: 'edition of 2007: overhead line and 30 thunderstorm days',
      source: 'IEC 60364-4-44:2007, 443.3.2.1, limit of 25 days from memory',
      given: {
        ...dwelling,
        edition: 'iec-60364-4-44-2007',
        thunderstorm_days: '30',
        lv_overhead: '0.2 km',
        spd: 'absent',
      },
      expect: {
        need: { value: '1', tolerance: '0' },
        protection: { verdict: 'does-not-comply' },
      },
    },
  ];
}
