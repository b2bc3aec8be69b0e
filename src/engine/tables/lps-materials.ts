import { recall } from '../definition/basis.ts';

/** Tables of IEC 62305-3:2010, from memory: sections in mm², diameters and thicknesses in mm. */
export const sectionsTable = recall(
  'iec-62305-3-2010',
  'Table 6 for conductors and rods in air, Table 7 for electrodes, Tables 8 and 9 for bonding',
);
export const electrodesTable = recall('iec-62305-3-2010', 'Table 7');
export const sheetsTable = recall('iec-62305-3-2010', 'Table 3');
export const usesTable = recall('iec-62305-3-2010', 'Table 5, materials and conditions of use');

type Values = Readonly<Record<string, number>>;

/** Least sections in mm² by component, material and form. */
export const LEAST_SECTIONS: Values = {
  ...formsOf('conductor / copper', { tape: 50, round: 50, stranded: 50 }),
  ...formsOf('conductor / aluminium', { tape: 70, round: 50, stranded: 50 }),
  ...formsOf('conductor / aluminium-alloy', { tape: 50, round: 50, stranded: 50 }),
  ...formsOf('conductor / galvanised-steel', { tape: 50, round: 50, stranded: 50 }),
  ...formsOf('conductor / copper-coated-steel', { tape: 50, round: 50 }),
  ...formsOf('conductor / stainless-steel', { tape: 50, round: 50, stranded: 70 }),
  ...ofMaterials(['copper', 'aluminium-alloy', 'galvanised-steel', 'stainless-steel'], {
    rod: 176,
    'short-rod': 70,
  }),
  ...formsOf('earth-conductor / copper', { tape: 50, round: 50, stranded: 50 }),
  ...formsOf('earth-conductor / galvanised-steel', { tape: 90, round: 78 }),
  ...formsOf('earth-conductor / bare-steel', { tape: 75, round: 78, stranded: 70 }),
  ...formsOf('earth-conductor / copper-coated-steel', { tape: 90, round: 50 }),
  ...formsOf('earth-conductor / stainless-steel', { tape: 100, round: 78 }),
  ...bonding('bonding-bar', { copper: 16, aluminium: 25, steel: 50 }),
  ...bonding('bonding-internal', { copper: 6, aluminium: 10, steel: 16 }),
};

/** Stainless steel in concrete or against what burns: larger sections in mm². */
export const ENCLOSED_STAINLESS: Values = { tape: 75, round: 78 };

/** Least diameters of earth rods in mm. */
export const LEAST_DIAMETERS: Values = {
  'copper / round': 15,
  'copper / pipe': 20,
  'galvanised-steel / round': 14,
  'galvanised-steel / pipe': 25,
  'copper-coated-steel / round': 14,
  'stainless-steel / round': 15,
};

/** Least thicknesses in mm of sheets that may be pierced and of those that may not. */
export const LEAST_THICKNESSES: Readonly<Record<'harmless' | 'excluded', Values>> = {
  harmless: {
    lead: 2,
    'stainless-steel': 0.5,
    'galvanised-steel': 0.5,
    titanium: 0.5,
    copper: 0.5,
    aluminium: 0.65,
    zinc: 0.7,
  },
  excluded: { 'stainless-steel': 4, 'galvanised-steel': 4, titanium: 4, copper: 5, aluminium: 7 },
};

/** Where a material serves. */
export const SUITABLE: Readonly<Record<string, readonly string[]>> = {
  copper: ['air', 'soil', 'concrete'],
  'copper-coated-steel': ['air', 'soil', 'concrete'],
  'galvanised-steel': ['air', 'soil', 'concrete'],
  'stainless-steel': ['air', 'soil', 'concrete'],
  'bare-steel': ['concrete'],
  aluminium: ['air'],
  'aluminium-alloy': ['air'],
  lead: ['air', 'soil'],
  zinc: ['air'],
  titanium: ['air'],
};

/** By what a material is destroyed where both touch and it is wet. */
export const DESTROYED_BY: Readonly<Record<string, readonly string[]>> = {
  'galvanised-steel': ['copper', 'copper-coated-steel'],
  'bare-steel': ['copper', 'copper-coated-steel'],
  aluminium: ['copper', 'copper-coated-steel'],
  'aluminium-alloy': ['copper', 'copper-coated-steel'],
  zinc: ['copper', 'copper-coated-steel'],
  lead: ['copper', 'copper-coated-steel', 'stainless-steel'],
};

function formsOf(of: string, forms: Values): Values {
  return Object.fromEntries(Object.entries(forms).map(([form, section]) => [`${of} / ${form}`, section]));
}

function ofMaterials(materials: readonly string[], components: Values): Values {
  return Object.fromEntries(
    Object.entries(components).flatMap(([component, section]) =>
      materials.map((material) => [`${component} / ${material} / round`, section]),
    ),
  );
}

/** Of bonding conductors the form does not matter, and steel is steel. */
function bonding(
  component: string,
  sections: Readonly<Record<'copper' | 'aluminium' | 'steel', number>>,
): Values {
  const materials: Values = {
    copper: sections.copper,
    aluminium: sections.aluminium,
    'aluminium-alloy': sections.aluminium,
    'galvanised-steel': sections.steel,
    'stainless-steel': sections.steel,
    'bare-steel': sections.steel,
  };
  return Object.fromEntries(
    Object.entries(materials).flatMap(([material, section]) =>
      ['tape', 'round', 'stranded'].map((form) => [`${component} / ${material} / ${form}`, section]),
    ),
  );
}
