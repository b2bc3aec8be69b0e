import { commonPractice, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';

const seaLevel = recall('iec-60071-2-1996', '4.2.2, altitude correction');
const thousand = recall('iec-62271-1-2007', '2.3.2, altitude above 1000 m');

/** The factor by which external insulation must withstand more at altitude. */
export const altitudeCorrection = defineCalculation({
  name: 'altitude-correction',
  title: 'Altitude correction of external insulation',
  purpose:
    'Finds the factor by which the withstand voltage of external insulation must exceed what is needed at the reference ' +
    'altitude, because thinner air flashes over at a lower voltage. Two references are in use and give different factors.',
  answers: ['By how much must the withstand voltage of external insulation be raised at high altitude?'],
  example: `
    id: altitude-factor
    title: Altitude factor of the station
    given:
      altitude: { value: 1800 m, source: "topographic map" }
      reference: 1000-m
  `,
  givens: {
    altitude: {
      type: 'quantity',
      symbol: 'H',
      meaning: 'altitude above sea level',
      unit: 'm',
      permitted: { from: '-500 m', to: '6000 m' },
      usual: { from: '0 m', to: '2000 m', because: 'the formula was derived for altitudes of up to 2000 m' },
    },
    exponent: {
      type: 'quantity',
      symbol: 'm',
      meaning: 'exponent of the kind of voltage',
      unit: '1',
      permitted: { from: '0', to: '1' },
      default: { value: '1', basis: seaLevel },
      typical: [
        { value: '1', for: 'lightning impulse, and power frequency on clean insulation', basis: seaLevel },
        { value: '0.8', for: 'power frequency on polluted insulators of fog profile', basis: seaLevel },
        { value: '0.5', for: 'power frequency on polluted insulators', basis: seaLevel },
      ],
    },
    reference: {
      type: 'choice',
      symbol: '\\text{reference}',
      meaning: 'altitude at which the factor is 1',
      options: {
        'sea-level': 'sea level: insulation co-ordination by IEC 60071-2',
        '1000-m': '1000 m: equipment that is rated for use up to there',
      },
      default: { value: 'sea-level', basis: seaLevel },
    },
  },
  steps: {
    altitude_factor: {
      symbol: 'K_\\mathrm{a}',
      meaning: 'altitude factor',
      unit: '1',
      digits: 4,
      basis: seaLevel,
      variants: [
        {
          when: 'reference is sea-level and altitude >= 0 m',
          formula: 'exp(exponent * altitude / 8150 m)',
          note: 'referred to sea level',
        },
        { when: 'reference is sea-level', formula: '1', note: 'below sea level no correction is made' },
        {
          when: 'altitude >= 1000 m',
          formula: 'exp(exponent * (altitude - 1000 m) / 8150 m)',
          basis: thousand,
          note: 'referred to 1000 m, up to which the rated values apply',
        },
        { formula: '1', basis: thousand, note: 'up to 1000 m the rated values apply' },
      ],
    },
  },
  cautions: {
    'two-references': {
      text: 'The two references differ by the factor of 1000 m (1.13 at exponent 1): use the sea level for required withstand voltages of the co-ordination, 1000 m for the rated values of equipment; never both. Later editions of IEC 60071-2 were not seen: compare with their text.',
      basis: seaLevel,
    },
    'switching-impulse': {
      text: 'For switching impulses the exponent depends on the withstand voltage and falls below 1; take it from the curve of the standard.',
      basis: seaLevel,
    },
    'external-only': {
      text: 'The factor applies to insulation in air only. Arresters and internal insulation are not corrected by it.',
      basis: commonPractice(),
    },
  },
  evidence: [
    {
      kind: 'memory',
      about: '1000 m from sea level: 1.13',
      source: 'IEC 60071-2:1996, Annex H.1 (from memory)',
      given: { altitude: '1000 m' },
      expect: { altitude_factor: { value: '1.13', tolerance: '0.005' } },
    },
    {
      kind: 'independent',
      about: '2000 m from sea level and from 1000 m',
      source: 'exp(2000/8150) = 1.2781',
      given: { altitude: '2000 m' },
      expect: { altitude_factor: { value: '1.2781', tolerance: '0.00005' } },
    },
    {
      kind: 'published',
      about: '2000 m from 1000 m: 1.13',
      source:
        'example of IEC 62271-1:2011 on a page on switchgear, "Altitude factor(ka) from sea level for switchgear" (switchgearcontent.com, 8 May 2019)',
      given: { altitude: '2000 m', reference: '1000-m' },
      expect: {
        altitude_factor: { value: '1.13', tolerance: '0.005', because: 'the page prints three digits' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'equipment rated to 1000 m needs no correction at 400 m',
      source: 'the rated values apply up to 1000 m',
      given: { altitude: '400 m', reference: '1000-m' },
      expect: { altitude_factor: { value: '1', tolerance: '0' } },
    },
  ],
});
