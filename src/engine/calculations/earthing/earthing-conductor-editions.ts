import { quote, recall } from '../../definition/basis.ts';
import type { Edition, EditionFormula, Editions } from '../../definition/definition.ts';

export const iecAdiabatic = recall('iec-60364-5-54-2011', '543.1.2 and Annex A');
const iecConstants = recall('iec-60364-5-54-2011', 'Annex A, Table A.54.1');
const iecCopper = quote(
  'iec-60364-5-54-2011',
  'constants of copper',
  'short-circuit-slides',
  'example of a copper conductor of 95 mm²',
);
export const iecEarthing = recall('iec-60364-5-54-2011', '542.3.1 and Table 54.1');
const iecProtective = recall('iec-60364-5-54-2011', '543.1.3');
export const enThermal = recall('en-50522-2010', 'Annex D, equation D.1 and Table D.1');
export const enMinimum = recall('en-50522-2010', '5.2.2, least sections of earthing conductors');
export const ieeeThermal = recall('ieee-80-2000', '11.3.1, equation 37 and Table 1');

/** A value for each material that the edition knows. The last goes without condition: what is not known is refused. */
function byMaterial(values: Readonly<Record<string, string>>): EditionFormula[] {
  const entries = Object.entries(values);
  return entries.map(([material, formula], index) =>
    index === entries.length - 1 ? { formula } : { when: `material is ${material}`, formula },
  );
}

const BARE_IN_SOIL: EditionFormula[] = [
  { when: 'use is buried-unprotected and material is copper', formula: '25 mm^2', basis: iecEarthing },
  { when: 'use is buried-unprotected and material is steel', formula: '50 mm^2', basis: iecEarthing },
];

const iec2011: Edition = {
  basis: iecAdiabatic,
  steps: {
    reciprocal_coefficient: [
      { when: 'material is copper', formula: '234.5 K', basis: iecCopper },
      ...byMaterial({ aluminium: '228 K', steel: '202 K' }).map((each) => ({ ...each, basis: iecConstants })),
    ],
    heat_capacity: [
      { when: 'material is copper', formula: '3.45 MJ/(m^3 K)', basis: iecCopper },
      ...byMaterial({ aluminium: '2.5 MJ/(m^3 K)', steel: '3.8 MJ/(m^3 K)' }).map((each) => ({
        ...each,
        basis: iecConstants,
      })),
    ],
    resistivity: [
      { when: 'material is copper', formula: '17.241 nohm m', basis: iecCopper },
      ...byMaterial({ aluminium: '28.264 nohm m', steel: '138 nohm m' }).map((each) => ({
        ...each,
        basis: iecConstants,
      })),
    ],
    heat_constant: {
      formula: 'heat_capacity * (reciprocal_coefficient + 20 K) / resistivity',
      note: 'the square of the constant K of the standard',
    },
    least_section: [
      ...BARE_IN_SOIL,
      { when: 'use is earthing and material is copper', formula: '6 mm^2', basis: iecEarthing },
      { when: 'use is earthing and material is steel', formula: '50 mm^2', basis: iecEarthing },
      {
        when: 'use is earthing-with-lightning and material is copper',
        formula: '16 mm^2',
        basis: iecEarthing,
      },
      {
        when: 'use is earthing-with-lightning and material is steel',
        formula: '50 mm^2',
        basis: iecEarthing,
      },
      { when: 'use is protective-guarded and material is copper', formula: '2.5 mm^2', basis: iecProtective },
      { when: 'use is protective-open and material is copper', formula: '4 mm^2', basis: iecProtective },
      {
        when: '(use is protective-guarded or use is protective-open) and material is aluminium',
        formula: '16 mm^2',
        basis: iecProtective,
      },
      { formula: '0 mm^2', note: 'no minimum cross-section is known here for this use and material' },
    ],
  },
};

const en2010: Edition = {
  basis: enThermal,
  steps: {
    reciprocal_coefficient: byMaterial({ copper: '234.5 K', aluminium: '228 K', steel: '202 K' }),
    heat_constant: byMaterial({
      copper: '226^2 * 1 A^2 s/mm^4',
      aluminium: '148^2 * 1 A^2 s/mm^4',
      steel: '78^2 * 1 A^2 s/mm^4',
    }).map((each) => ({ ...each, note: 'the square of the constant K of the standard' })),
    least_section: byMaterial({ copper: '16 mm^2', aluminium: '35 mm^2', steel: '50 mm^2' }).map((each) => ({
      ...each,
      basis: enMinimum,
    })),
  },
};

const ieee2000: Edition = {
  basis: ieeeThermal,
  steps: {
    reciprocal_coefficient: byMaterial({
      copper: '234 K',
      'copper-hard-drawn': '242 K',
      'copper-clad-steel-40': '245 K',
      'copper-clad-steel-30': '245 K',
      aluminium: '228 K',
      steel: '605 K',
      'galvanised-steel': '293 K',
      'stainless-steel': '749 K',
    }),
    temperature_coefficient: byMaterial({
      copper: '0.00393 1/K',
      'copper-hard-drawn': '0.00381 1/K',
      'copper-clad-steel-40': '0.00378 1/K',
      'copper-clad-steel-30': '0.00378 1/K',
      aluminium: '0.00403 1/K',
      steel: '0.0016 1/K',
      'galvanised-steel': '0.0032 1/K',
      'stainless-steel': '0.0013 1/K',
    }),
    heat_capacity: byMaterial({
      copper: '3.42 MJ/(m^3 K)',
      'copper-hard-drawn': '3.42 MJ/(m^3 K)',
      'copper-clad-steel-40': '3.85 MJ/(m^3 K)',
      'copper-clad-steel-30': '3.85 MJ/(m^3 K)',
      aluminium: '2.56 MJ/(m^3 K)',
      steel: '3.28 MJ/(m^3 K)',
      'galvanised-steel': '3.93 MJ/(m^3 K)',
      'stainless-steel': '4.03 MJ/(m^3 K)',
    }),
    resistivity: byMaterial({
      copper: '17.2 nohm m',
      'copper-hard-drawn': '17.8 nohm m',
      'copper-clad-steel-40': '44 nohm m',
      'copper-clad-steel-30': '58.6 nohm m',
      aluminium: '28.6 nohm m',
      steel: '159 nohm m',
      'galvanised-steel': '201 nohm m',
      'stainless-steel': '720 nohm m',
    }),
    heat_constant: {
      formula: 'heat_capacity / (temperature_coefficient * resistivity)',
      note: 'the factor 10⁻⁴ of the guide, for heat per cubic centimetre and resistivity in µΩ cm, is dropped: quantities enter with their units',
    },
    least_section: { formula: '0 mm^2', note: 'the guide gives no minimum cross-section' },
  },
};

/** What each standard says of the heat that an earthing conductor withstands, and of its minimum cross-section. */
export const earthingConductorEditions: Editions = {
  by: 'method',
  of: { 'iec-60364-5-54': iec2011, 'en-50522': en2010, 'ieee-80-2000': ieee2000 },
};
