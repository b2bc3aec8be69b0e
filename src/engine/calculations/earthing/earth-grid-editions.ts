import { recall } from '../../definition/basis.ts';
import type { Edition, Editions } from '../../definition/definition.ts';

export const sverak = recall('ieee-80-2013', '14.2, equation 57');
export const mesh = recall('ieee-80-2013', '16.5.1, mesh voltage');
export const step = recall('ieee-80-2013', '16.5.2, step voltage');
export const older = recall('ieee-80-1986', 'the same equation as in the edition of 2013');
export const stepOf1986 = recall('ieee-80-1986', 'number of parallel conductors for the step voltage');
const factorsOf1986 = recall(
  'ieee-80-1986',
  'irregularity factor and effective length; a handbook example agrees',
);

const RODS_ALONG_PERIMETER = 'rods > 0 and rod_places is perimeter';
const STEP_OF_ONE_METRE = 'over a step of 1 m, which the equation of the standard implies';

/** The equations of mesh voltage, step voltage and resistance that the editions share. */
const sharedOfMesh = {
  mesh_spacing: {
    formula: 'max(width / (conductors_along - 1), length / (conductors_across - 1))',
    note: 'the larger one gives the higher mesh voltage',
  },
  inner_factor: [
    { when: RODS_ALONG_PERIMETER, formula: '1', note: 'rods along the perimeter' },
    { formula: '1 / (2 * effective_number)^(2 / effective_number)', note: 'no rods, or few inside only' },
  ],
  depth_factor: { formula: 'sqrt(1 + depth / 1 m)', note: 'the reference depth is 1 m' },
  spacing_term: {
    formula:
      'mesh_spacing^2 / (16 * depth * conductor_diameter) + (mesh_spacing + 2 * depth)^2 / (8 * mesh_spacing * conductor_diameter) - depth / (4 * conductor_diameter)',
  },
  mesh_factor: {
    formula:
      '1 / (2 * pi) * (ln(spacing_term) + inner_factor / depth_factor * ln(8 / (pi * (2 * effective_number - 1))))',
  },
  mesh_voltage: { formula: 'resistivity * current * mesh_factor * irregularity_factor / mesh_length' },
} satisfies Edition['steps'];
const STEP_SPACING = {
  formula: 'min(width / (conductors_along - 1), length / (conductors_across - 1))',
  note: 'the smaller one gives the higher step voltage',
};
const RESISTANCE =
  'resistivity * (1 / (conductor_length + total_rod_length) + 1 / sqrt(20 * area) * (1 + 1 / (1 + depth * sqrt(20 / area))))';

const WHOLE_LENGTH = 'conductor_length + total_rod_length';

const of2013: Edition = {
  basis: mesh,
  steps: {
    ...sharedOfMesh,
    step_spacing: { ...STEP_SPACING, basis: step },
    effective_number: {
      formula:
        '2 * conductor_length / (2 * (length + width)) * sqrt(2 * (length + width) / (4 * sqrt(area)))',
      note: 'product of the two parts for a rectangle; the parts for other shapes are 1',
    },
    irregularity_factor: { formula: '0.644 + 0.148 * effective_number' },
    step_factor: {
      formula:
        '1 / pi * (1 / (2 * depth) + 1 / (step_spacing + depth) + 1 / step_spacing * (1 - 0.5^(effective_number - 2)))',
      basis: step,
    },
    mesh_length: [
      {
        when: RODS_ALONG_PERIMETER,
        formula:
          'conductor_length + (1.55 + 1.22 * rod_length / sqrt(length^2 + width^2)) * total_rod_length',
      },
      { formula: WHOLE_LENGTH },
    ],
    step_length: { formula: '0.75 * conductor_length + 0.85 * total_rod_length', basis: step },
    grid_resistance: { formula: RESISTANCE, basis: sverak },
    step_voltage: {
      formula: '1 m * resistivity * current * step_factor * irregularity_factor / step_length',
      basis: step,
      note: STEP_OF_ONE_METRE,
    },
  },
};

const of1986: Edition = {
  basis: older,
  steps: {
    ...sharedOfMesh,
    step_spacing: STEP_SPACING,
    effective_number: {
      formula: 'sqrt(conductors_along * conductors_across)',
      basis: recall('ieee-80-1986', 'equivalent number of parallel conductors'),
    },
    step_number: {
      formula: 'max(conductors_along, conductors_across)',
      basis: stepOf1986,
    },
    irregularity_factor: { formula: '0.656 + 0.172 * effective_number', basis: factorsOf1986 },
    step_irregularity_factor: { formula: '0.656 + 0.172 * step_number', basis: stepOf1986 },
    step_factor: {
      formula:
        '1 / pi * (1 / (2 * depth) + 1 / (step_spacing + depth) + 1 / step_spacing * (1 - 0.5^(step_number - 2)))',
      basis: stepOf1986,
    },
    mesh_length: [
      {
        when: RODS_ALONG_PERIMETER,
        formula: 'conductor_length + 1.15 * total_rod_length',
        basis: factorsOf1986,
      },
      { formula: WHOLE_LENGTH, basis: factorsOf1986 },
    ],
    step_length: {
      formula: 'mesh_length',
      basis: recall('ieee-80-1986', 'step voltage over the same length'),
    },
    grid_resistance: { formula: RESISTANCE },
    step_voltage: {
      formula: '1 m * resistivity * current * step_factor * step_irregularity_factor / step_length',
      basis: stepOf1986,
      note: STEP_OF_ONE_METRE,
    },
  },
};

/** What each edition of IEEE Std 80 says of a rectangular grid. */
export const earthGridEditions: Editions = {
  by: 'method',
  of: { 'ieee-80-2013': of2013, 'ieee-80-1986': of1986 },
};
