import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { QuantityGiven } from '../../definition/definition.ts';
import { USUAL } from '../../tables/usual-ranges.ts';
import { drawEarthGrid } from './draw-earth-grid.ts';
import { earthGridEditions, mesh, older, step, stepOf1986, sverak } from './earth-grid-editions.ts';
import { earthGridEvidence } from './earth-grid-evidence.ts';

/** Conductors and rods as straight pieces at one potential, with their images: eight grids with rods of a tenth to three diagonals. */
const fieldComputation = derivation('field computation of grids with and without rods, piece by piece');
/** How the simplified equations were compared with computed grids. */
const comparison = recall('ieee-80-2013', '16.5, comparison of the equations with computed grids');

const sizeGiven = (symbol: string, meaning: string, usual: QuantityGiven['usual']): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: 'm',
  permitted: { above: '0 m' },
  ...(usual ? { usual } : {}),
});

const sides = {
  from: '3 m',
  to: '500 m',
  because: 'grids of substations have sides of some metres to hundreds of metres (common practice)',
};

const countGiven = (symbol: string, meaning: string): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: '1',
  whole: true,
  permitted: { from: '2', to: '100' },
});

/** Resistance, potential rise, mesh and step voltage of a rectangular earth grid by IEEE Std 80. */
export const earthGrid = defineCalculation({
  name: 'earth-grid',
  title: 'Earth grid of a substation',
  purpose:
    'Finds the resistance of a rectangular earth grid in uniform soil, its potential rise at the current that it ' +
    'carries, and the mesh and step voltages that occur, by the equations of IEEE Std 80 in the edition that is chosen.',
  answers: [
    'Which mesh and step voltages does the earth grid of a substation have?',
    'How many meshes and rods does the grid need?',
  ],
  example: `
    id: station-grid
    title: Earth grid of the station
    given:
      resistivity: { value: 400 ohm m, source: "four-electrode readings" }
      current: { value: 1908 A, source: "current of the grid at an earth fault" }
      length: { value: 70 m, source: "layout drawing" }
      width: { value: 70 m, source: "layout drawing" }
      conductors_along: 11
      conductors_across: 11
      depth: { value: 0.5 m, source: "drawing E-320" }
      conductor_diameter: { value: 0.01 m, source: "drawing E-320" }
      rods: 20
      rod_length: { value: 7.5 m, source: "drawing E-320" }
      touch_limit: { value: 838 V, source: "tolerable voltages, body of 70 kg" }
      step_limit: { value: 2687 V, source: "tolerable voltages, body of 70 kg" }
  `,
  givens: {
    method: {
      type: 'choice',
      symbol: '\\text{method}',
      meaning: 'edition of IEEE Std 80',
      options: {
        'ieee-80-2013': 'IEEE Std 80-2013 (and 2000)',
        'ieee-80-1986': 'IEEE Std 80-1986: other irregularity factor and effective length',
      },
      default: { value: 'ieee-80-2013', basis: mesh },
    },
    resistivity: {
      type: 'quantity',
      symbol: '\\rho',
      meaning: 'resistivity of the soil',
      unit: 'ohm m',
      permitted: { above: '0 ohm m' },
      usual: USUAL.soilResistivity,
    },
    current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{G}',
      meaning: 'current from the grid into the soil',
      unit: 'A',
      voltage: { measure: 'rms' },
      permitted: { above: '0 A' },
      usual: {
        from: '10 A',
        to: '100 kA',
        because:
          'earth faults of substations drive tens of amperes to tens of kiloamperes into the soil (common practice)',
      },
    },
    length: sizeGiven('L_\\mathrm{x}', 'length of the grid', sides),
    width: sizeGiven('L_\\mathrm{y}', 'width of the grid', sides),
    conductors_along: countGiven('n_\\mathrm{x}', 'number of conductors that run along the length'),
    conductors_across: countGiven('n_\\mathrm{y}', 'number of conductors that run across it'),
    depth: {
      type: 'quantity',
      symbol: 'h',
      meaning: 'depth of burial',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '0.3 m', to: '1.5 m', because: 'grids lie 0.3 to 1.5 m deep (common practice)' },
    },
    conductor_diameter: {
      type: 'quantity',
      symbol: 'd',
      meaning: 'diameter of the grid conductors',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '4 mm',
        to: '50 mm',
        because: 'grid conductors are some millimetres to centimetres thick (common practice)',
      },
    },
    rods: {
      type: 'quantity',
      symbol: 'n_\\mathrm{R}',
      meaning: 'number of rods',
      unit: '1',
      whole: true,
      permitted: { from: '0' },
      usual: { to: '500', because: 'grids have at most some hundreds of rods (common practice)' },
      default: { value: '0', basis: commonPractice('a grid without rods') },
    },
    rod_length: sizeGiven('L_\\mathrm{r}', 'length of each rod', {
      from: '1 m',
      to: '30 m',
      because: 'rods are driven some metres deep, tens of metres where they are bored (common practice)',
    }),
    rod_places: {
      type: 'choice',
      symbol: '\\text{rods}',
      meaning: 'position of the rods',
      options: {
        perimeter: 'along the perimeter or at the corners',
        inside: 'few and inside the grid only',
      },
      default: { value: 'perimeter', basis: commonPractice('rods are placed where they are most effective') },
    },
    touch_limit: {
      type: 'quantity',
      symbol: 'E_\\mathrm{touch}',
      meaning: 'tolerable touch voltage',
      unit: 'V',
      voltage: { measure: 'rms' },
      permitted: { above: '0 V' },
      usual: {
        from: '30 V',
        to: '5 kV',
        because:
          'tolerable voltages for the duration of a fault are some tens to some thousands of volts (common practice)',
      },
    },
    step_limit: {
      type: 'quantity',
      symbol: 'E_\\mathrm{step}',
      meaning: 'tolerable step voltage',
      unit: 'V',
      voltage: { measure: 'rms' },
      permitted: { above: '0 V' },
      usual: {
        from: '30 V',
        to: '20 kV',
        because:
          'tolerable voltages for the duration of a fault are some tens to some thousands of volts (common practice)',
      },
    },
  },
  editions: earthGridEditions,
  steps: {
    area: {
      symbol: 'A',
      meaning: 'area of the grid',
      unit: 'm^2',
      basis: derivation('a rectangle'),
      formula: 'length * width',
    },
    conductor_length: {
      symbol: 'L_\\mathrm{C}',
      meaning: 'length of all horizontal conductors',
      unit: 'm',
      basis: derivation('conductors along and across the rectangle'),
      formula: 'conductors_along * length + conductors_across * width',
    },
    total_rod_length: {
      symbol: 'L_\\mathrm{R}',
      meaning: 'length of all rods',
      unit: 'm',
      basis: derivation('number times length'),
      variants: [
        { when: 'rods > 0', formula: 'rods * rod_length' },
        { formula: '0 m', note: 'no rods' },
      ],
    },
    mesh_spacing: {
      symbol: 'D',
      meaning: 'distance between parallel conductors, the larger of the two directions',
      unit: 'm',
      basis: mesh,
      byEdition: true,
    },
    step_spacing: {
      symbol: "D'",
      meaning: 'distance between parallel conductors, the smaller of the two directions',
      unit: 'm',
      basis: step,
      byEdition: true,
    },
    effective_number: {
      symbol: 'n',
      meaning: 'number of parallel conductors of the equivalent square grid',
      unit: '1',
      digits: 3,
      basis: mesh,
      byEdition: true,
    },
    step_number: {
      symbol: "n'",
      meaning: 'number of parallel conductors for the step voltage',
      unit: '1',
      digits: 1,
      basis: stepOf1986,
      byEdition: true,
      note: 'the larger one of the two directions, not the mean used for the mesh voltage',
    },
    irregularity_factor: {
      symbol: 'K_\\mathrm{i}',
      meaning: 'factor of irregularity',
      unit: '1',
      digits: 4,
      basis: mesh,
      byEdition: true,
    },
    step_irregularity_factor: {
      symbol: "K_\\mathrm{i}'",
      meaning: 'factor of irregularity for the step voltage',
      unit: '1',
      digits: 4,
      basis: stepOf1986,
      byEdition: true,
    },
    inner_factor: {
      symbol: 'K_\\mathrm{ii}',
      meaning: 'factor that corrects the inner conductors on the corner mesh',
      unit: '1',
      basis: mesh,
      byEdition: true,
    },
    depth_factor: {
      symbol: 'K_\\mathrm{h}',
      meaning: 'factor of the depth of burial',
      unit: '1',
      digits: 4,
      basis: mesh,
      byEdition: true,
    },
    spacing_term: {
      symbol: 'a_\\mathrm{m}',
      meaning: 'term of spacing, depth and conductor in the geometrical factor',
      unit: '1',
      digits: 4,
      basis: mesh,
      byEdition: true,
    },
    mesh_factor: {
      symbol: 'K_\\mathrm{m}',
      meaning: 'geometrical factor of the mesh voltage',
      unit: '1',
      basis: mesh,
      byEdition: true,
    },
    step_factor: {
      symbol: 'K_\\mathrm{s}',
      meaning: 'geometrical factor of the step voltage',
      unit: '1/m',
      basis: step,
      byEdition: true,
    },
    mesh_length: {
      symbol: 'L_\\mathrm{M}',
      meaning: 'effective length for the mesh voltage',
      unit: 'm',
      basis: mesh,
      byEdition: true,
    },
    step_length: {
      symbol: 'L_\\mathrm{S}',
      meaning: 'effective length for the step voltage',
      unit: 'm',
      basis: step,
      byEdition: true,
    },
    grid_resistance: {
      symbol: 'R_\\mathrm{g}',
      meaning: 'resistance of the grid against remote earth',
      unit: 'ohm',
      basis: sverak,
      byEdition: true,
    },
    potential_rise: {
      symbol: 'V_\\mathrm{GPR}',
      meaning: 'potential rise of the grid',
      unit: 'V',
      voltage: { measure: 'rms' },
      basis: derivation('current times resistance'),
      formula: 'current * grid_resistance',
    },
    mesh_voltage: {
      symbol: 'E_\\mathrm{m}',
      meaning: 'mesh voltage: highest touch voltage within a mesh',
      unit: 'V',
      voltage: { measure: 'rms' },
      basis: mesh,
      byEdition: true,
    },
    step_voltage: {
      symbol: 'E_\\mathrm{s}',
      meaning: 'highest step voltage',
      unit: 'V',
      voltage: { measure: 'rms' },
      basis: step,
      byEdition: true,
    },
  },
  checks: {
    touch_safety: {
      criterion: 'Mesh voltage against the tolerable touch voltage',
      value: 'mesh_voltage',
      relation: '<=',
      limit: 'touch_limit',
      force: [
        { when: 'method is ieee-80-1986', force: 'requirement', basis: older },
        { force: 'requirement' },
      ],
      basis: mesh,
      remedies: [
        'Space the conductors more closely, above all at the edges and corners.',
        'Add rods along the perimeter.',
        'Raise the limit: a surface layer of crushed rock, or a faster clearing of the fault.',
        'Divert part of the current through earth wires and cable screens of the lines; existing connections stay.',
      ],
    },
    step_safety: {
      criterion: 'Step voltage against the tolerable step voltage',
      value: 'step_voltage',
      relation: '<=',
      limit: 'step_limit',
      force: [
        { when: 'method is ieee-80-1986', force: 'requirement', basis: older },
        { force: 'requirement' },
      ],
      basis: step,
      remedies: [
        'Bury the outer conductors deeper, or grade the edge by further ones.',
        'Raise the limit: extend the surface layer beyond the edge of the grid, or clear the fault faster.',
        'Keep people away from the edge by a fence, whose own earthing must be designed.',
      ],
    },
  },
  validity: {
    depth: {
      requires: 'depth >= 0.25 m and depth <= 2.5 m',
      otherwise: 'error',
      text: 'the equations are valid for depths of 0.25 m to 2.5 m',
      basis: mesh,
    },
    'conductor-diameter': {
      requires: 'conductor_diameter < 0.25 * depth',
      otherwise: 'error',
      text: 'the equations are valid for conductors thinner than a quarter of their depth',
      basis: mesh,
    },
    'spacing-checked': {
      requires: 'step_spacing > 2.5 m',
      otherwise: 'caution',
      text: 'the equations were checked for conductors more than 2.5 m apart; for closer ones they may underestimate the mesh voltage: in a grid with a spacing of 2 m they gave four fifths of the value of a field computation',
      basis: mesh,
    },
    'widest-spacing-checked': {
      requires: 'mesh_spacing <= 22.5 m',
      otherwise: 'caution',
      text: 'the equations were checked for conductors at most 22.5 m apart',
      basis: comparison,
    },
    'area-checked': {
      requires: 'area >= 6.25 m^2 and area <= 10000 m^2',
      otherwise: 'caution',
      text: 'the equations were checked for grids of 6.25 m² to 10 000 m²',
      basis: comparison,
    },
    'conductors-checked': {
      requires: 'effective_number <= 25 and max(conductors_along, conductors_across) <= 41',
      otherwise: 'caution',
      text: 'the equations were checked for up to 25 parallel conductors of the equivalent square grid, and for up to 40 meshes a side',
      basis: mesh,
    },
    'long-rods': {
      requires: 'rods = 0 or rod_length <= 0.5 * sqrt(length^2 + width^2)',
      otherwise: 'caution',
      text: 'the rods are longer than half the diagonal of the grid: longer than those for which the equations were compared; take the voltages as estimates',
      basis: fieldComputation,
    },
    'rods-beyond-diagonal': {
      requires:
        'method is ieee-80-1986 or rods = 0 or not rod_places is perimeter or rod_length <= sqrt(length^2 + width^2)',
      otherwise: 'error',
      text: 'the rods are longer than the diagonal of the grid: the effective length of this edition then grows with the square of their length, and the mesh voltage falls below that of a field computation',
      basis: fieldComputation,
    },
    'most-of-rods': {
      requires: 'rods = 0 or total_rod_length <= 2 * conductor_length',
      otherwise: 'caution',
      text: 'the rods have more than twice the length of all horizontal conductors: the equations were made for grids with rods and may not apply where the rods predominate',
      basis: commonPractice(),
    },
    'square-meshes': {
      requires: 'mesh_spacing <= 1.1 * step_spacing',
      otherwise: 'caution',
      text: 'the equations were made for square meshes, and these are not square: the larger spacing is used for the mesh voltage and the smaller one for the step voltage, which is an estimate',
      basis: mesh,
    },
    'meshes-too-narrow': {
      requires: 'mesh_spacing <= 3 * step_spacing',
      otherwise: 'caution',
      text: 'the meshes are more than three times as long as wide: with the larger spacing the mesh voltage is overestimated, by half and more in the grids compared with a field computation; carry out a field computation before the grid is changed on this result',
      basis: fieldComputation,
    },
    'single-mesh': {
      requires: 'conductors_along > 2 or conductors_across > 2',
      otherwise: 'caution',
      text: 'a ring with a single mesh: with rods the equations underestimate the mesh voltage, by a tenth for short rods and a third for rods as long as the diagonal, compared with a field computation',
      basis: fieldComputation,
    },
    'positive-mesh-factor': {
      requires: 'mesh_factor > 0',
      otherwise: 'error',
      text: 'the geometrical factor of the mesh voltage is not positive: the grid is denser than the equation covers',
      basis: mesh,
    },
  },
  cautions: {
    'rods-not-counted': {
      when: 'given rod_length and rods = 0',
      text: 'A length of rods is given but no number of rods: the grid is computed without rods.',
    },
    'uniform-soil': {
      text: 'The soil is taken as uniform. In layers the resistance and above all the surface voltages differ: measure, and use a method for two layers.',
      basis: commonPractice(),
    },
    'low-rise': {
      when: 'given touch_limit and potential_rise <= touch_limit',
      text: 'The potential rise itself does not exceed the tolerable touch voltage: the standard then asks for no further analysis inside the grid; transferred potentials remain to be judged.',
      basis: recall('ieee-80-2013', '16.4, step 5'),
    },
    'step-of-1986': {
      when: 'method is ieee-80-1986',
      text: 'The step voltage of this edition is below that of field computations for some square grids, by up to a quarter in those that were compared; that of the edition of 2013 by up to a twentieth.',
      basis: fieldComputation,
    },
    'transferred-potential': {
      text: 'Metal that leaves the grid transfers its potential rise of {potential_rise}: pipes, cable screens, communication lines and rails need measures of their own.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'current',
      seek: 'largest',
      meaning: 'largest current for which the mesh and step voltages are tolerable, other values unchanged',
    },
  ],
  figure: { caption: 'The grid in plan and section', draw: drawEarthGrid },
  evidence: earthGridEvidence,
});
