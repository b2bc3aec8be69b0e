import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { ChoiceGiven, Evidence, SolverResult, SolverValues } from '../../definition/definition.ts';
import {
  DESTROYED_BY,
  ENCLOSED_STAINLESS,
  electrodesTable,
  LEAST_DIAMETERS,
  LEAST_SECTIONS,
  LEAST_THICKNESSES,
  SUITABLE,
  sectionsTable,
  sheetsTable,
  usesTable,
} from '../../tables/lps-materials.ts';

const NOT_IN_TABLE = 'not in the table';
const NOT_PERMITTED = 'not permitted';

const MATERIALS = {
  copper: 'copper, bare or tinned',
  aluminium: 'aluminium',
  'aluminium-alloy': 'aluminium alloy',
  'galvanised-steel': 'hot-dip galvanised steel',
  'stainless-steel': 'stainless steel',
  'copper-coated-steel': 'copper-coated steel',
  'bare-steel': 'bare steel, embedded in concrete',
  lead: 'lead',
  zinc: 'zinc',
  titanium: 'titanium',
} as const;

const joined: ChoiceGiven = {
  type: 'choice',
  symbol: '\\text{joined to}',
  meaning: 'metal to which the component is connected, or which it touches',
  options: MATERIALS,
};

/** Whether material, form and size of a part of a lightning protection system are those of the standard. */
export const lpsMaterials = defineCalculation({
  name: 'lps-materials',
  title: 'Materials and sizes of a lightning protection system',
  purpose:
    'Compares an air-termination conductor or rod, a down conductor, an earth electrode, a bonding conductor, or a metal ' +
    'roof that serves as air termination, with the minimum cross-sections, diameters and thicknesses of the standard, and ' +
    'judges whether the material is suitable for its environment and for the metal to which it is connected.',
  answers: [
    'Which cross-section and material must a conductor, rod or earth electrode of the lightning protection have?',
    'Which metals may touch one another?',
  ],
  example: `
    id: earth-tape
    title: Ring earth electrode, material and cross-section
    given:
      component: earth-conductor
      material: galvanised-steel
      form: tape
      section: { value: 105 mm^2, source: "delivery note: 30 mm by 3.5 mm" }
      environment: soil
      joined_to: galvanised-steel
  `,
  givens: {
    component: {
      type: 'choice',
      symbol: '\\text{component}',
      meaning: 'component of the lightning protection system',
      options: {
        conductor: 'air-termination conductor or down conductor',
        rod: 'air-termination rod or earth lead-in rod',
        'short-rod': 'air-termination rod of up to 1 m not exposed to mechanical load such as wind',
        'earth-conductor': 'earth electrode: conductor in soil or foundation',
        'earth-rod': 'earth electrode: driven rod or pipe',
        'bonding-bar': 'bonding conductor between bonding bars, or from one to the earth termination',
        'bonding-internal': 'bonding conductor from an internal metal installation to a bonding bar',
        sheet: 'metal sheet or pipe that serves as air termination',
      },
    },
    material: {
      type: 'choice',
      symbol: '\\text{material}',
      meaning: 'material of the component',
      options: MATERIALS,
    },
    form: {
      type: 'choice',
      symbol: '\\text{form}',
      meaning: 'form of the component',
      options: { tape: 'tape', round: 'solid round', stranded: 'stranded', pipe: 'pipe' },
      default: { value: 'round', basis: commonPractice('the form that is most used') },
    },
    section: {
      type: 'quantity',
      symbol: 'S',
      meaning: 'cross-section of the component',
      unit: 'mm^2',
      permitted: { above: '0 mm^2' },
      usual: {
        from: '2 mm^2',
        to: '2000 mm^2',
        because: 'conductors and rods have some mm² to hundreds of mm²',
      },
    },
    diameter: {
      type: 'quantity',
      symbol: 'd',
      meaning: 'diameter of a solid round conductor, in place of its cross-section',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: {
        from: '2.5 mm',
        to: '50 mm',
        because: 'round conductors and air-termination rods are 3 mm to some 40 mm thick',
      },
    },
    rod_diameter: {
      type: 'quantity',
      symbol: 'd_\\mathrm{r}',
      meaning: 'outer diameter of the earth rod or pipe',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: { from: '8 mm', to: '150 mm', because: 'earth rods and pipes are 12 mm to 100 mm thick' },
    },
    thickness: {
      type: 'quantity',
      symbol: 't',
      meaning: 'thickness of the metal sheet or of the wall of the pipe',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: {
        from: '0.2 mm',
        to: '30 mm',
        because: 'roofs and tanks have some tenths of a millimetre to some 20 mm',
      },
    },
    puncture: {
      type: 'choice',
      symbol: '\\text{puncture}',
      meaning: 'consequence of a puncture or hot spot of the sheet',
      options: {
        excluded: 'not acceptable: risk of fire beneath, or the sheet must stay tight',
        harmless: 'acceptable: no risk of fire, and ingress of water does no harm',
      },
      default: { value: 'excluded', basis: commonPractice('the safe side') },
    },
    enclosed: {
      type: 'choice',
      symbol: '\\text{enclosed}',
      meaning: 'whether the conductor is embedded in concrete or in contact with combustible material',
      options: { no: 'no', yes: 'in concrete, or in contact with combustible material' },
      default: { value: 'no', basis: commonPractice('conductors in the open') },
    },
    environment: {
      type: 'choice',
      symbol: '\\text{environment}',
      meaning: 'environment of the component',
      options: { air: 'in the open air', soil: 'in the soil', concrete: 'in concrete' },
    },
    joined_to: joined,
    contact: {
      type: 'choice',
      symbol: '\\text{contact}',
      meaning: 'whether moisture reaches the contact of the two metals',
      options: {
        wet: 'moisture reaches it',
        dry: 'it is dry inside the building, or sealed against moisture',
      },
      default: { value: 'wet', basis: commonPractice('the safe side') },
    },
  },
  alternatives: [{ oneOf: ['section', 'diameter'], mayBeAbsent: true }],
  steps: {
    section: {
      symbol: 'S',
      meaning: 'cross-section of the solid round conductor',
      unit: 'mm^2',
      when: 'given diameter and form is round',
      basis: derivation('a circle'),
      formula: 'pi / 4 * diameter^2',
    },
    least_section: {
      symbol: 'S_\\mathrm{min}',
      meaning: 'minimum cross-section',
      unit: 'mm^2',
      basis: sectionsTable,
      when: 'not component is earth-rod and not component is sheet',
      needs: ['component', 'material', 'form', 'enclosed'],
      solve: leastSection,
      method: 'from the table of the component, by material and form',
      says: [NOT_IN_TABLE],
    },
    section_ratio: {
      symbol: 'S/S_\\mathrm{min}',
      meaning: 'cross-section over the minimum cross-section',
      unit: '1',
      optional: true,
      when: 'not component is earth-rod and not component is sheet',
      basis: derivation('a quotient'),
      formula: 'section / least_section',
    },
    least_diameter: {
      symbol: 'd_\\mathrm{min}',
      meaning: 'minimum diameter of an earth rod',
      unit: 'mm',
      basis: electrodesTable,
      when: 'component is earth-rod',
      needs: ['material', 'form'],
      solve: (values) => {
        const found = LEAST_DIAMETERS[`${values.choice('material')} / ${values.choice('form')}`];
        return found === undefined ? { words: NOT_IN_TABLE } : found * 1e-3;
      },
      method: 'from the table, by material and form',
      says: [NOT_IN_TABLE],
    },
    least_thickness: {
      symbol: 't_\\mathrm{min}',
      meaning: 'minimum thickness of the sheet',
      unit: 'mm',
      basis: sheetsTable,
      when: 'component is sheet',
      needs: ['material', 'puncture'],
      solve: (values) => {
        const puncture = values.choice('puncture') === 'harmless' ? 'harmless' : 'excluded';
        const material = values.choice('material');
        const found = LEAST_THICKNESSES[puncture][material];
        if (found !== undefined) return found * 1e-3;
        return { words: material in LEAST_THICKNESSES.harmless ? NOT_PERMITTED : NOT_IN_TABLE };
      },
      method: 'from the table, by material and by whether a puncture is acceptable',
      says: [NOT_IN_TABLE, NOT_PERMITTED],
    },
    suits_environment: {
      symbol: 'u',
      meaning: 'the material is suitable for its environment (1 yes, 0 no)',
      unit: '1',
      digits: 1,
      basis: usesTable,
      optional: true,
      needs: ['material', 'environment'],
      solve: (values) =>
        SUITABLE[values.choice('material')]!.includes(values.choice('environment')) ? 1 : 0,
      method: 'from the table of materials and conditions of use',
    },
    suits_neighbour: {
      symbol: 'v',
      meaning: 'the metals in contact are compatible (1 yes, 0 no)',
      unit: '1',
      digits: 1,
      basis: usesTable,
      optional: true,
      needs: ['material', 'joined_to', 'contact'],
      solve: (values) => {
        const [one, other] = [values.choice('material'), values.choice('joined_to')];
        const destroys = DESTROYED_BY[one]?.includes(other) || DESTROYED_BY[other]?.includes(one);
        return destroys && values.choice('contact') === 'wet' ? 0 : 1;
      },
      method:
        'from the table: galvanised steel, zinc and aluminium beside copper, lead beside copper or stainless steel',
    },
  },
  checks: {
    section: {
      criterion: 'Cross-section against the minimum of the table',
      value: 'section',
      relation: '>=',
      limit: 'least_section',
      when: 'not component is earth-rod and not component is sheet',
      force: 'requirement',
      basis: sectionsTable,
      remedies: [
        'Lay a conductor of at least {least_section} beside the existing one, which stays in use until it is replaced connection by connection.',
      ],
    },
    diameter: {
      criterion: 'Diameter of the earth rod against the minimum of the table',
      value: 'rod_diameter',
      relation: '>=',
      limit: 'least_diameter',
      when: 'component is earth-rod',
      force: 'requirement',
      basis: electrodesTable,
      remedies: ['Drive further rods of at least {least_diameter} and connect them to the existing ones.'],
    },
    thickness: {
      criterion: 'Thickness of the sheet against the minimum of the table',
      value: 'thickness',
      relation: '>=',
      limit: 'least_thickness',
      when: 'component is sheet',
      verdictOfWords: { [NOT_PERMITTED]: false },
      force: 'requirement',
      basis: sheetsTable,
      remedies: [
        'Protect the sheet by an air termination of its own above it, and bond the sheet.',
        {
          when: 'puncture is excluded',
          text: 'Where there is no risk of fire beneath and a hole does no harm, the lower minimum thickness applies: have the owner confirm it.',
        },
      ],
    },
    environment: {
      criterion: 'Suitability of the material for its environment',
      value: 'suits_environment',
      relation: '>',
      limit: '0',
      when: 'given environment',
      force: 'requirement',
      basis: usesTable,
      remedies: [
        'Use copper, stainless steel or, where the soil permits it, hot-dip galvanised steel in soil and concrete; aluminium in the open air only.',
      ],
    },
    couple: {
      criterion: 'Compatibility of the metals in contact',
      value: 'suits_neighbour',
      relation: '>',
      limit: '0',
      when: 'given joined_to',
      force: 'requirement',
      basis: usesTable,
      remedies: [
        'Connect the two metals by a bimetallic connector that is suitable for both.',
        'Seal the joint permanently against moisture; the connection itself stays.',
      ],
    },
  },
  validity: {
    'size-of-component': {
      requires:
        '(component is sheet or not given thickness) and (component is earth-rod or not given rod_diameter) and (not component is sheet and not component is earth-rod or not given section)',
      otherwise: 'caution',
      text: 'a size is given that does not apply to this component: a sheet is judged by its thickness, an earth rod by its diameter, and everything else by its cross-section',
      basis: sectionsTable,
    },
    'diameter-of-round': {
      requires: 'not given diameter or form is round',
      otherwise: 'error',
      given: 'diameter',
      text: 'the cross-section of a tape, a pipe or a stranded conductor does not follow from a diameter',
      instead: 'its cross-section',
      basis: derivation('a circle'),
    },
    'pipe-is-electrode': {
      requires: 'not form is pipe or component is earth-rod or component is sheet',
      otherwise: 'error',
      given: 'form',
      text: 'a pipe is covered here only as a driven electrode or as a natural air termination',
      instead: "'tape', 'round' or 'stranded'",
      basis: electrodesTable,
    },
  },
  cautions: {
    'continuity-of-sheets': {
      when: 'component is sheet',
      text: 'A sheet serves as air termination only where its parts are permanently connected (brazed, welded, crimped, seamed, screwed or bolted) and no insulating material covers it; a thin coat of paint, 1 mm of asphalt or 0.5 mm of PVC are not regarded as insulation.',
      basis: recall('iec-62305-3-2010', '5.2.5'),
    },
    'mechanical-strength': {
      when: 'component is rod or component is short-rod',
      text: 'The minimum cross-section does not cover wind load: masts and long rods need a structural calculation.',
      basis: commonPractice(),
    },
    'steel-in-concrete': {
      when: 'material is galvanised-steel and (component is earth-conductor or component is earth-rod)',
      text: 'Galvanised steel in the soil that is connected to the reinforcement of foundations corrodes as if connected to copper: copper or stainless steel is suitable there.',
      basis: recall('iec-62305-3-2010', 'E.5.4.3.2 and E.5.6.2.2'),
    },
    'copper-above': {
      when: 'given joined_to and (material is copper or joined_to is copper)',
      text: 'Water that runs off copper corrodes zinc and aluminium beneath it, also where they do not touch.',
      basis: commonPractice(),
    },
    'heating-apart': {
      when: 'component is conductor and (material is stainless-steel or material is galvanised-steel)',
      text: 'At the minimum cross-section steel heats far more than copper: stainless steel by several hundred kelvin at the severest level. In contact with combustible material calculate the heating.',
      basis: recall('iec-62305-1-2010', 'Table D.3'),
    },
  },
  evidence: evidenceOfTables(),
});

function leastSection(values: SolverValues): SolverResult {
  const [component, material] = [values.choice('component'), values.choice('material')];
  const form = values.choice('form');
  const enclosed =
    component === 'conductor' && material === 'stainless-steel' && values.choice('enclosed') === 'yes'
      ? ENCLOSED_STAINLESS[form]
      : undefined;
  const found = enclosed ?? LEAST_SECTIONS[`${component} / ${material} / ${form}`];
  return found === undefined ? { words: NOT_IN_TABLE } : found * 1e-6;
}

function evidenceOfTables(): Evidence[] {
  const rows: readonly (readonly [component: string, material: string, form: string, least: string])[] = [
    ['conductor', 'copper', 'round', '50'],
    ['conductor', 'aluminium', 'tape', '70'],
    ['conductor', 'stainless-steel', 'stranded', '70'],
    ['rod', 'galvanised-steel', 'round', '176'],
  ];
  const source = (table: string) => `IEC 62305-3:2010, ${table}, values from memory`;
  return [
    ...rows.map(
      ([component, material, form, least]): Evidence => ({
        kind: 'memory',
        about: `${component} of ${material}, ${form}: ${least} mm²`,
        source: source('Table 6'),
        given: { component, material, form, section: `${least} mm^2` },
        expect: {
          least_section: { value: `${least} mm^2`, tolerance: '0 mm^2' },
          section: { verdict: 'complies' },
        },
      }),
    ),
    {
      kind: 'memory',
      about: 'strip of galvanised steel in the soil: 90 mm², joined to copper',
      source: source('Tables 5 and 7'),
      given: {
        component: 'earth-conductor',
        material: 'galvanised-steel',
        form: 'tape',
        section: '90 mm^2',
        environment: 'soil',
        joined_to: 'copper',
      },
      expect: {
        section: { verdict: 'complies' },
        environment: { verdict: 'complies' },
        couple: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'memory',
      about: 'copper-coated rod of 14 mm',
      source: source('Table 7'),
      given: { component: 'earth-rod', material: 'copper-coated-steel', rod_diameter: '14 mm' },
      expect: { diameter: { verdict: 'complies' } },
    },
    {
      kind: 'independent',
      about: 'round conductor of 8 mm has 50.27 mm²',
      source: 'by hand: π 4²',
      given: { component: 'conductor', material: 'aluminium', diameter: '8 mm', environment: 'air' },
      expect: {
        section_ratio: { value: '1.0053', tolerance: '0.00005' },
        section: { verdict: 'complies' },
      },
    },
    {
      kind: 'memory',
      about: 'bond of 16 mm² of copper between bars, 6 mm² to an installation',
      source: source('Tables 8 and 9'),
      given: { component: 'bonding-bar', material: 'copper', form: 'stranded', section: '6 mm^2' },
      expect: {
        least_section: { value: '16 mm^2', tolerance: '0 mm^2' },
        section: { verdict: 'does-not-comply' },
      },
    },
    ...(
      [
        ['harmless', '0.5 mm', 'complies'],
        ['excluded', '4 mm', 'does-not-comply'],
      ] as const
    ).map(
      ([puncture, least, verdict]): Evidence => ({
        kind: 'published',
        about: `hangar roof of galvanised steel, 1.8 mm, puncture ${puncture}: at least ${least}`,
        source:
          'answered question "Can I use roof as a lightning rod?" on the web pages of a supplier, which gives these thicknesses by the Russian instruction 153 and not by IEC 62305-3',
        given: {
          component: 'sheet',
          material: 'galvanised-steel',
          form: 'tape',
          thickness: '1.8 mm',
          puncture,
        },
        expect: {
          least_thickness: { value: least, tolerance: '0 mm' },
          thickness: { verdict },
        },
      }),
    ),
    {
      kind: 'memory',
      about: 'aluminium roof of 0.7 mm: pierced harmlessly, or not at all',
      source: source('Table 3'),
      given: {
        component: 'sheet',
        material: 'aluminium',
        form: 'tape',
        thickness: '0.7 mm',
        puncture: 'harmless',
      },
      expect: {
        least_thickness: { value: '0.65 mm', tolerance: '0 mm' },
        thickness: { verdict: 'complies' },
      },
    },
  ];
}
