import { commonPractice, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { SolverValues } from '../../definition/definition.ts';

const touchRule = recall('iec-62305-3-2010', '8.1, protection against touch voltages');
const stepRule = recall('iec-62305-3-2010', '8.2, protection against step voltages');
const surface2010 = recall('iec-62305-3-2010', '8.1, 100 kΩ within 3 m');
const surface2006 = recall('iec-62305-3-2006', '8.1, 5 kΩ m within 3 m');
const insulationRule = recall('iec-62305-3-2010', '8.1, insulation for 100 kV 1.2/50');

const PRECAUTIONS = [
  'low occupancy',
  'natural down conductors',
  'surface layer',
  'insulated down conductor',
  'equipotential mesh',
  'barriers and warning notices',
  'none',
] as const;

/** The first precaution of the standard's list that is met, with touch or step voltages in mind. */
function firstMet(values: SolverValues, against: 'touch' | 'step'): (typeof PRECAUTIONS)[number] {
  const met = (name: string) => values.number(name) === 1;
  if (met('occupancy_met')) return 'low occupancy';
  if (met('columns_met')) return 'natural down conductors';
  if (met('surface_met')) return 'surface layer';
  if (against === 'touch' && met('insulation_met')) return 'insulated down conductor';
  if (against === 'step' && met('mesh_met')) return 'equipotential mesh';
  return met('barriers_met') ? 'barriers and warning notices' : 'none';
}

/** A layer by its kind and thickness alone counts only where its resistance was not found to be too low. */
const BETTER_SURFACE = [
  {
    when: 'not given contact_resistance and not given surface_resistivity',
    text: 'Lay 5 cm of asphalt or 15 cm of gravel within 3 m of the conductor.',
  },
  {
    when: 'given contact_resistance',
    text: 'Lay a surface layer within 3 m of the conductor and measure it: its resistance must be at least 100 kΩ.',
  },
  {
    when: 'given surface_resistivity',
    text: 'Lay a surface layer with a resistivity of at least 5 kΩ m within 3 m of the conductor.',
  },
];

const NEEDS = ['occupancy_met', 'columns_met', 'surface_met', 'barriers_met'];

/** Which of the standard's precautions against touch and step voltages at a down conductor is met. */
export const touchAndStepPrecautions = defineCalculation({
  name: 'touch-and-step-precautions',
  title: 'Precautions against touch and step voltages',
  purpose:
    'Examines the precautions that the standard lists against dangerous touch and step voltages near down ' +
    'conductors outside a structure, and states which of them are met: one against touch and one against step voltages is sufficient.',
  answers: [
    'Are precautions against touch and step voltages needed where people walk beside a down conductor?',
  ],
  example: `
    id: entrance-precautions
    title: People at the entrance beside down conductor 2
    given:
      occupancy: normal
      surface: asphalt
      surface_depth: { value: 6 cm, source: "measured on site" }
  `,
  givens: {
    edition: {
      type: 'choice',
      symbol: '\\text{edition}',
      meaning: 'edition of IEC 62305-3',
      options: {
        'iec-62305-3-2010': 'edition of 2010: resistance of the surface layer of at least 100 kΩ',
        'iec-62305-3-2006': 'edition of 2006: resistivity of the surface layer of at least 5 kΩ m',
      },
      default: { value: 'iec-62305-3-2010', basis: touchRule },
    },
    occupancy: {
      type: 'choice',
      symbol: '\\text{occupancy}',
      meaning: 'presence of people within 3 m of the down conductors',
      options: {
        low: 'very low probability that people approach, or a very short stay',
        normal: 'people may be present',
      },
    },
    natural_columns: {
      type: 'quantity',
      symbol: 'n_\\mathrm{c}',
      meaning:
        'columns of the framework or reinforcement that serve as natural down conductors, reliably connected',
      unit: '1',
      whole: true,
      permitted: { from: '0' },
      usual: { to: '1000', because: 'structures have at most some hundred columns' },
      default: { value: '0', basis: commonPractice('no natural down conductors counted') },
    },
    surface: {
      type: 'choice',
      symbol: '\\text{surface}',
      meaning: 'surface of the ground within 3 m',
      options: {
        soil: 'natural soil, or concrete on it',
        asphalt: 'asphalt',
        gravel: 'gravel or crushed stone',
      },
      default: { value: 'soil', basis: commonPractice('no insulating layer counted') },
    },
    surface_depth: {
      type: 'quantity',
      symbol: 'h_\\mathrm{s}',
      meaning: 'thickness of the layer',
      unit: 'cm',
      permitted: { above: '0 cm' },
      usual: { from: '1 cm', to: '100 cm', because: 'surface layers are centimetres to decimetres thick' },
    },
    contact_resistance: {
      type: 'quantity',
      symbol: 'R_\\mathrm{s}',
      meaning: 'resistance of the surface layer, measured under an electrode of 400 cm² pressed with 500 N',
      unit: 'kohm',
      permitted: { above: '0 kohm' },
      usual: {
        from: '0.1 kohm',
        to: '100000 kohm',
        because: 'measured layers lie between wet soil and dry asphalt',
      },
    },
    surface_resistivity: {
      type: 'quantity',
      symbol: '\\rho_\\mathrm{s}',
      meaning: 'resistivity of the surface layer (edition of 2006)',
      unit: 'kohm m',
      permitted: { above: '0 kohm m' },
      usual: {
        from: '0.01 kohm m',
        to: '10000 kohm m',
        because: 'layers lie between wet soil and dry asphalt',
      },
    },
    insulation_withstand: {
      type: 'quantity',
      symbol: 'U_\\mathrm{i}',
      meaning: 'impulse withstand voltage 1.2/50 of the insulation of the exposed down conductor',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { from: '0 kV' },
      usual: {
        from: '1 kV',
        to: '500 kV',
        orNone: true,
        because:
          'insulation of down conductors withstands kilovolts to some hundreds of kilovolts, or there is none',
      },
      default: { value: '0 kV', basis: commonPractice('bare conductor') },
      typical: [{ value: '100 kV', for: 'cross-linked polyethylene of 3 mm', basis: insulationRule }],
    },
    equipotential_mesh: {
      type: 'choice',
      symbol: '\\text{mesh}',
      meaning: 'equipotential mesh or rings in the ground around the down conductors',
      options: { none: 'none', present: 'a meshed earth termination or several rings' },
      default: { value: 'none', basis: commonPractice() },
    },
    barriers: {
      type: 'choice',
      symbol: '\\text{barriers}',
      meaning: 'physical restrictions and warning notices that keep people out of 3 m',
      options: { none: 'none', present: 'barriers and warning notices' },
      default: { value: 'none', basis: commonPractice() },
    },
  },
  steps: {
    occupancy_met: {
      symbol: 'a_1',
      meaning: 'low probability of people approaching (1 met, 0 not)',
      unit: '1',
      digits: 1,
      basis: touchRule,
      variants: [{ when: 'occupancy is low', formula: '1' }, { formula: '0' }],
    },
    columns_met: {
      symbol: 'a_2',
      meaning: 'at least ten natural down conductors, reliably connected (1 met, 0 not)',
      unit: '1',
      digits: 1,
      basis: touchRule,
      variants: [{ when: 'natural_columns >= 10', formula: '1' }, { formula: '0' }],
    },
    surface_met: {
      symbol: 'a_3',
      meaning: 'surface of high resistance (1 met, 0 not)',
      unit: '1',
      digits: 1,
      basis: surface2010,
      variants: [
        {
          when: 'edition is iec-62305-3-2010 and given contact_resistance and contact_resistance >= 100 kohm',
          formula: '1',
          note: 'at least 100 kΩ',
        },
        {
          when: 'edition is iec-62305-3-2010 and given contact_resistance',
          formula: '0',
          note: 'measured below 100 kΩ: whatever the layer',
        },
        {
          when: 'edition is iec-62305-3-2006 and given surface_resistivity and surface_resistivity >= 5 kohm m',
          formula: '1',
          basis: surface2006,
          note: 'at least 5 kΩ m',
        },
        {
          when: 'edition is iec-62305-3-2006 and given surface_resistivity',
          formula: '0',
          basis: surface2006,
          note: 'below 5 kΩ m: whatever the layer',
        },
        {
          when: 'surface is asphalt and given surface_depth and surface_depth >= 5 cm',
          formula: '1',
          basis: touchRule,
          note: '5 cm of asphalt are generally sufficient',
        },
        {
          when: 'surface is gravel and given surface_depth and surface_depth >= 15 cm',
          formula: '1',
          basis: touchRule,
          note: '15 cm of gravel are generally sufficient',
        },
        { formula: '0' },
      ],
    },
    insulation_met: {
      symbol: 'a_4',
      meaning: 'insulation of the exposed down conductor for 100 kV (1 met, 0 not)',
      unit: '1',
      digits: 1,
      basis: insulationRule,
      variants: [{ when: 'insulation_withstand >= 100 kV', formula: '1' }, { formula: '0' }],
    },
    mesh_met: {
      symbol: 'a_5',
      meaning: 'equipotential mesh in the ground (1 met, 0 not)',
      unit: '1',
      digits: 1,
      basis: stepRule,
      variants: [{ when: 'equipotential_mesh is present', formula: '1' }, { formula: '0' }],
    },
    barriers_met: {
      symbol: 'a_6',
      meaning: 'barriers and warning notices (1 met, 0 not)',
      unit: '1',
      digits: 1,
      basis: touchRule,
      variants: [{ when: 'barriers is present', formula: '1' }, { formula: '0' }],
    },
    touch_precautions: {
      symbol: 'N_\\mathrm{T}',
      meaning: 'precautions against touch voltages that are met',
      unit: '1',
      digits: 1,
      basis: touchRule,
      formula: 'occupancy_met + columns_met + surface_met + insulation_met + barriers_met',
    },
    step_precautions: {
      symbol: 'N_\\mathrm{S}',
      meaning: 'precautions against step voltages that are met',
      unit: '1',
      digits: 1,
      basis: stepRule,
      formula: 'occupancy_met + columns_met + surface_met + mesh_met + barriers_met',
    },
    touch_precaution: {
      symbol: '\\text{against touch}',
      meaning: 'precaution against touch voltages that is met first in the list',
      unit: '1',
      basis: touchRule,
      needs: [...NEEDS, 'insulation_met'],
      solve: (values) => ({ choice: firstMet(values, 'touch') }),
      method: 'first in the list of the standard',
      gives: { options: PRECAUTIONS },
    },
    step_precaution: {
      symbol: '\\text{against step}',
      meaning: 'precaution against step voltages that is met first in the list',
      unit: '1',
      basis: stepRule,
      needs: [...NEEDS, 'mesh_met'],
      solve: (values) => ({ choice: firstMet(values, 'step') }),
      method: 'first in the list of the standard',
      gives: { options: PRECAUTIONS },
    },
  },
  checks: {
    touch: {
      criterion: 'At least one precaution against touch voltages',
      value: 'touch_precautions',
      relation: '>=',
      limit: '1',
      force: 'requirement',
      basis: touchRule,
      counts: true,
      remedies: [
        'Insulate the exposed part of the down conductor for 100 kV 1.2/50 (cross-linked polyethylene of at least 3 mm).',
        ...BETTER_SURFACE,
        'Keep people away by barriers and warning notices.',
      ],
    },
    step: {
      criterion: 'At least one precaution against step voltages',
      value: 'step_precautions',
      relation: '>=',
      limit: '1',
      force: 'requirement',
      basis: stepRule,
      counts: true,
      remedies: [
        'Make the ground equipotential by a meshed earth termination or further rings.',
        ...BETTER_SURFACE,
        'Keep people away by barriers and warning notices.',
      ],
    },
  },
  validity: {
    'edition-2006-layer': {
      requires: 'not (given contact_resistance and edition is iec-62305-3-2006)',
      otherwise: 'error',
      text: 'the edition of 2006 judges the resistivity of the surface layer: give surface_resistivity',
      basis: surface2006,
    },
    'edition-2010-layer': {
      requires: 'not (given surface_resistivity and edition is iec-62305-3-2010)',
      otherwise: 'error',
      text: 'the edition of 2010 judges the resistance of the surface layer: give contact_resistance',
      basis: surface2010,
    },
  },
  cautions: {
    'layer-not-measured': {
      when: 'surface_met = 1 and not (given contact_resistance or given surface_resistivity)',
      text: 'The layer is counted by its kind and thickness, without a measurement: it must be kept in that state, also when the surface is renewed.',
      basis: touchRule,
    },
    'thickness-missing': {
      when: 'not surface is soil and not (given surface_depth or given contact_resistance or given surface_resistivity)',
      text: 'The thickness of the layer is not given: the layer is not counted.',
    },
    'insulation-against-step': {
      when: 'insulation_met = 1 and step_precautions = 0',
      text: 'The insulation of the down conductor is no precaution against step voltages.',
      basis: stepRule,
    },
    'columns-joined': {
      when: 'columns_met = 1',
      text: 'The columns count only where their electrical continuity is assured.',
      basis: touchRule,
    },
  },
  evidence: [
    {
      kind: 'memory',
      about: 'a surface layer of 100 kΩ suffices in the edition of 2010',
      source: 'IEC 62305-3:2010, 8.1, value from memory: 100 kΩ within 3 m',
      given: { occupancy: 'normal', contact_resistance: '100 kohm' },
      expect: {
        touch_precaution: { choice: 'surface layer' },
        step_precaution: { choice: 'surface layer' },
        touch: { verdict: 'complies' },
      },
    },
    {
      kind: 'memory',
      about: 'insulation for 100 kV protects against touch, not against step',
      source: 'IEC 62305-3:2010, 8.1, values from memory: 100 kV 1.2/50, 3 mm',
      given: { occupancy: 'normal', insulation_withstand: '100 kV' },
      expect: {
        touch_precaution: { choice: 'insulated down conductor' },
        step_precaution: { choice: 'none' },
        touch: { verdict: 'complies' },
        step: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'memory',
      about: 'the edition of 2006 requires 5 kΩ m',
      source: 'IEC 62305-3:2006, 8.1, value from memory',
      given: { edition: 'iec-62305-3-2006', occupancy: 'normal', surface_resistivity: '4.9 kohm m' },
      expect: { touch_precaution: { choice: 'none' }, touch: { verdict: 'does-not-comply' } },
    },
    {
      kind: 'memory',
      about: '5 cm of asphalt or 15 cm of gravel generally suffice',
      source: 'IEC 62305-3:2010, 8.1, values from memory',
      given: { occupancy: 'normal', surface: 'gravel', surface_depth: '15 cm' },
      expect: { step_precaution: { choice: 'surface layer' }, step: { verdict: 'complies' } },
    },
    {
      kind: 'memory',
      about: 'ten interconnected columns suffice, nine do not',
      source: 'IEC 62305-3:2010, 8.1, value from memory',
      given: { occupancy: 'normal', natural_columns: '9' },
      expect: { touch_precaution: { choice: 'none' } },
    },
  ],
});
