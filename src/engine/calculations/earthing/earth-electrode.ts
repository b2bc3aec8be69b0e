import { commonPractice, derivation, quote, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { USUAL } from '../../tables/usual-ranges.ts';
import { drawEarthElectrode } from './draw-earth-electrode.ts';
import { earthElectrodeEditions } from './earth-electrode-editions.ts';
import { earthElectrodeEvidence } from './earth-electrode-evidence.ts';

const bsRod = quote('bs-7430-2011', 'resistance of a rod or pipe', 'bs-7430-calculation-sheet', 'one rod');
const bsGroup = quote('bs-7430-2011', 'rods in parallel', 'bs-7430-calculation-sheet', 'rods in parallel');
const bsPlate = recall('bs-7430-2011', 'resistance of a plate');
const is1987 = recall('is-3043-1987', '9.2.1');
const dwight = recall('ieee-142-2007', 'table of electrode formulas, after Dwight');
const ieeeGroup = recall('ieee-142-2007', 'multiplying factors for multiple rods');
const ieee80 = recall('ieee-80-2013', '14.2, simplified formula after Sverak');

const isRod = '(kind is rod or kind is pipe)';
/** Without the number of rods the step is asked for, and that it is missing is told. */
const hasFactor =
  '(not given count or count <= 4 or count = 8 or count = 12 or count = 16 or count = 20 or count = 24)';

/** Factors for rods in a straight line at equal spacing, by their number. */
const LINE_FACTORS: ReadonlyMap<number, number> = new Map([
  [2, 1.0],
  [3, 1.66],
  [4, 2.15],
  [5, 2.54],
  [6, 2.87],
  [7, 3.15],
  [8, 3.39],
  [9, 3.61],
  [10, 3.81],
]);
/** Factors on R/n for rods spaced by their own length, by their number. */
const GROUP_FACTORS: ReadonlyMap<number, number> = new Map([
  [2, 1.16],
  [3, 1.29],
  [4, 1.36],
  [8, 1.68],
  [12, 1.8],
  [16, 1.92],
  [20, 2.0],
  [24, 2.16],
]);

/** Resistance of an earth electrode against remote earth in uniform soil, by the standard that is chosen. */
export const earthElectrode = defineCalculation({
  name: 'earth-electrode',
  title: 'Resistance of an earth electrode',
  purpose:
    'Finds the resistance of an earth electrode against remote earth in soil of uniform resistivity, by the formulas ' +
    'of the standard that is chosen. Standards and editions differ; the note names the one it used.',
  answers: [
    'What is the resistance to earth of a rod, plate, strip, ring or grid?',
    'How many rods does it take, and how long must they be?',
  ],
  example: `
    id: rods-at-pole
    title: Three rods at the riser pole
    given:
      kind: rods-in-line
      resistivity: { value: 80 ohm m, source: "four-electrode readings" }
      length: { value: 3 m, source: "drawing E-310" }
      diameter: { value: 20 mm, source: "drawing E-310" }
      count: { value: 3, source: "drawing E-310" }
      spacing: { value: 4 m, source: "drawing E-310" }
      required_resistance: { value: 15 ohm, source: "rules of the utility" }
  `,
  givens: {
    kind: {
      type: 'choice',
      symbol: '\\text{electrode}',
      meaning: 'kind of electrode',
      options: {
        rod: 'a vertical rod',
        pipe: 'a vertical pipe',
        'rods-in-line': 'equal vertical rods in a straight line at equal spacing, interconnected',
        strip: 'a horizontal strip or round conductor, buried straight',
        plate: 'a buried plate',
        ring: 'a buried ring of round conductor',
        grid: 'a buried grid of conductors, with or without rods',
      },
    },
    method: {
      type: 'choice',
      symbol: '\\text{method}',
      meaning: 'standard whose formulas are used',
      options: {
        'bs-7430-2011': 'BS 7430:2011: rod, pipe, rods in line, strip, plate',
        'is-3043-1987': 'IS 3043:1987: rod, pipe, rods in line, strip, plate',
        'is-3043-2018': 'IS 3043:2018: rod, pipe, rods in line, strip, plate',
        'ieee-142': 'IEEE Std 142: rod, pipe, rods in line, strip, plate, ring',
        'ieee-80': 'IEEE Std 80: grid',
      },
      default: { value: 'bs-7430-2011', basis: bsRod },
    },
    resistivity: {
      type: 'quantity',
      symbol: '\\rho',
      meaning: 'resistivity of the soil',
      unit: 'ohm m',
      permitted: { above: '0 ohm m' },
      usual: USUAL.soilResistivity,
      typical: [
        { value: '20 ohm m', for: 'marshy ground', basis: commonPractice() },
        { value: '100 ohm m', for: 'loam or clay', basis: commonPractice() },
        { value: '1000 ohm m', for: 'dry sand or gravel', basis: commonPractice() },
      ],
    },
    length: {
      type: 'quantity',
      symbol: 'L',
      meaning: 'length in the soil: of one rod or pipe, of the strip, or the longer side of the plate',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.3 m',
        to: '300 m',
        because: 'plates are seldom smaller, and what is longer than this does not act as one electrode',
      },
    },
    diameter: {
      type: 'quantity',
      symbol: 'd',
      meaning: 'diameter of rod, pipe or round conductor',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: {
        from: '5 mm',
        to: '200 mm',
        because: 'rods, pipes and conductors of earth electrodes are of this size',
      },
    },
    count: {
      type: 'quantity',
      symbol: 'n',
      meaning: 'number of rods',
      unit: '1',
      whole: true,
      permitted: { from: '2', to: '24' },
    },
    spacing: {
      type: 'quantity',
      symbol: 's',
      meaning: 'distance between neighbouring rods',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.5 m',
        to: '100 m',
        because: 'nearer rods act as one, and rods further apart are electrodes of their own',
      },
    },
    cross_section: {
      type: 'choice',
      symbol: '\\text{section}',
      meaning: 'cross-section of the horizontal conductor',
      options: { flat: 'flat strip', round: 'round conductor' },
      default: { value: 'flat', basis: commonPractice('a flat strip') },
    },
    width: {
      type: 'quantity',
      symbol: 'w',
      meaning: 'width of the strip, or the shorter side of the plate',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: {
        from: '10 mm',
        to: '2000 mm',
        because: 'strips and plates of earth electrodes are of this size',
      },
    },
    thickness: {
      type: 'quantity',
      symbol: 't',
      meaning: 'thickness of the strip',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: {
        from: '1 mm',
        to: '20 mm',
        because: 'strips of earth electrodes are of this thickness',
      },
    },
    depth: {
      type: 'quantity',
      symbol: 'h',
      meaning: 'depth of burial, of a plate to its middle',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.3 m',
        to: '5 m',
        because: 'shallower electrodes dry out and freeze, deeper ones are seldom dug',
      },
    },
    orientation: {
      type: 'choice',
      symbol: '\\text{plate}',
      meaning: 'position of the plate in the soil',
      options: { vertical: 'vertical', horizontal: 'horizontal' },
      default: { value: 'vertical', basis: commonPractice('plates are set vertically in their pit') },
    },
    ring_diameter: {
      type: 'quantity',
      symbol: 'D',
      meaning: 'diameter of the ring',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '2 m',
        to: '200 m',
        because: 'rings lie around a mast, a building or a small site',
      },
    },
    area: {
      type: 'quantity',
      symbol: 'A',
      meaning: 'area that the grid covers',
      unit: 'm^2',
      permitted: { above: '0 m^2' },
      usual: {
        from: '4 m^2',
        to: '250000 m^2',
        because: 'grids reach from a small hut to a large substation',
      },
    },
    total_length: {
      type: 'quantity',
      symbol: 'L_\\mathrm{T}',
      meaning: 'length of all buried conductors of the grid together, with its rods',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '8 m',
        to: '100000 m',
        because: 'grids reach from a small hut to a large substation',
      },
    },
    required_resistance: {
      type: 'quantity',
      symbol: 'R_\\mathrm{req}',
      meaning: 'greatest permitted resistance of the electrode',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: {
        from: '0.05 ohm',
        to: '1000 ohm',
        because: 'codes and utilities require values between these',
      },
      typical: [{ value: '10 ohm', for: 'lightning protection, at low frequency', basis: commonPractice() }],
    },
  },
  editions: earthElectrodeEditions,
  steps: {
    rod_resistance: {
      symbol: 'R_1',
      meaning: 'resistance of one rod alone',
      unit: 'ohm',
      basis: bsRod,
      when: 'kind is rods-in-line',
      byEdition: true,
    },
    spacing_ratio: {
      symbol: '\\alpha',
      meaning: 'ratio of the radius of the hemisphere of equal resistance to the spacing',
      unit: '1',
      basis: bsGroup,
      when: 'kind is rods-in-line',
      byEdition: true,
    },
    group_factor: {
      symbol: '\\lambda',
      meaning: 'factor of rods in a line',
      unit: '1',
      basis: recall('bs-7430-2011', 'table of factors for rods in a line'),
      when: 'given spacing_ratio and (not given count or count <= 10)',
      needs: ['count'],
      method: 'from the table of the clause, by the number of rods',
      solve: (values) => LINE_FACTORS.get(values.number('count')) ?? Number.NaN,
    },
    multiplying_factor: {
      symbol: 'F',
      meaning: 'multiplying factor on the resistance of the same number of independent rods',
      unit: '1',
      basis: ieeeGroup,
      when: `kind is rods-in-line and method is ieee-142 and ${hasFactor}`,
      needs: ['count'],
      method: 'from the table of multiplying factors, by the number of rods',
      solve: (values) => GROUP_FACTORS.get(values.number('count')) ?? Number.NaN,
      note: 'the factors apply to rods spaced by their own length, and are on the safe side for wider spacing',
    },
    plate_area: {
      symbol: 'A',
      meaning: 'area of the plate as the formula counts it',
      unit: 'm^2',
      basis: bsPlate,
      when: 'kind is plate',
      byEdition: true,
    },
    disc_radius: {
      symbol: 'a',
      meaning: 'radius of the disc of equal area that represents the plate',
      unit: 'm',
      basis: dwight,
      when: 'kind is plate',
      byEdition: true,
    },
    resistance: {
      symbol: 'R',
      meaning: 'resistance of the electrode against remote earth',
      unit: 'ohm',
      basis: bsRod,
      byEdition: true,
    },
  },
  checks: {
    required_resistance: {
      criterion: 'Resistance of the electrode against the required resistance',
      value: 'resistance',
      relation: '<=',
      limit: 'required_resistance',
      force: 'requirement',
      basis: commonPractice('value set by the project, the utility or the code that applies'),
      remedies: [
        {
          when: `${isRod} or kind is rods-in-line`,
          text: 'Drive the rods deeper where moister or better conducting layers lie below: depth helps more than thickness.',
        },
        {
          when: isRod,
          text: 'Add rods in a line, spaced by at least their own length and joined to the existing electrode, which stays connected.',
        },
        {
          when: 'kind is rods-in-line and not method is ieee-142',
          text: 'Add rods, or space them more widely; the existing ones stay connected.',
        },
        {
          when: 'kind is rods-in-line and method is ieee-142',
          text: 'Add rods; the existing ones stay connected.',
        },
        {
          when: 'kind is strip or kind is plate or kind is ring or kind is grid',
          text: 'Add rods or further buried conductor, joined to the existing electrode, which stays connected.',
        },
      ],
    },
  },
  validity: {
    'grid-by-ieee-80': {
      requires: 'not kind is grid or method is ieee-80',
      otherwise: 'error',
      text: 'a grid is calculated by IEEE Std 80: write method: ieee-80',
      basis: ieee80,
    },
    'ieee-80-grid-only': {
      requires: 'not method is ieee-80 or kind is grid',
      otherwise: 'error',
      text: 'IEEE Std 80 applies to grids only: for this kind of electrode write another method',
      basis: ieee80,
    },
    'ring-method': {
      requires: 'not kind is ring or method is ieee-142 or method is ieee-80',
      otherwise: 'error',
      text: 'a ring is calculated by IEEE Std 142: write method: ieee-142',
      basis: dwight,
    },
    'rods-in-table': {
      requires: 'not kind is rods-in-line or method is ieee-142 or count <= 10',
      otherwise: 'error',
      text: 'the table of factors for rods in a line ends at 10 rods',
      basis: bsGroup,
    },
    'rods-with-factor': {
      requires: `not (kind is rods-in-line and method is ieee-142) or ${hasFactor}`,
      otherwise: 'error',
      text: 'the table of multiplying factors covers 2, 3, 4, 8, 12, 16, 20 and 24 rods',
      basis: ieeeGroup,
    },
    'factor-spacing': {
      requires: 'not (kind is rods-in-line and method is ieee-142) or spacing >= length',
      otherwise: 'error',
      text: 'the multiplying factors apply to rods spaced by at least their own length',
      basis: ieeeGroup,
    },
    'rods-hinder': {
      requires: 'not kind is rods-in-line or method is ieee-142 or spacing >= length',
      otherwise: 'caution',
      text: 'rods closer together than their own length influence each other more than the formula allows for',
      basis: bsGroup,
    },
    'rods-apart': {
      requires: 'spacing_ratio <= 0.5',
      otherwise: 'error',
      text: 'the formula for rods in parallel is valid where the hemispheres of equal resistance of neighbouring rods do not overlap: rods spaced by at least twice their radius (the spacing ratio at most 0.5)',
      basis: derivation('nearer rods would be given more resistance together than one of them has alone'),
    },
    'slender-rod': {
      requires: `not (${isRod} or kind is rods-in-line) or length >= 10 * diameter`,
      otherwise: 'error',
      text: 'the formula is valid for slender rods and pipes: a length of at least ten diameters',
      basis: derivation('the formula takes the current to leave evenly along the axis of a thin rod'),
    },
    'long-strip': {
      requires: 'not kind is strip or length >= 4 * depth',
      otherwise: 'error',
      text: 'the formula is valid for a strip that is long against its depth: at least four times',
      basis: derivation('terms in the ratio of depth to length are cut off'),
    },
    'thin-strip-conductor': {
      requires: 'not (kind is strip and cross_section is round) or length >= 100 * diameter',
      otherwise: 'error',
      text: 'the formula is valid for a thin conductor: a length of at least a hundred diameters',
      basis: derivation('the formula takes the current to leave evenly along the axis of a thin conductor'),
    },
    'narrow-strip': {
      requires: 'not (kind is strip and cross_section is flat) or length >= 20 * width',
      otherwise: 'error',
      text: 'the formula is valid for a narrow strip: a length of at least twenty widths',
      basis: derivation('the formula takes the current to leave evenly along the axis of a narrow strip'),
    },
    'strip-thickness': {
      requires:
        'not (kind is strip and cross_section is flat and method is ieee-142) or thickness <= width / 8',
      otherwise: 'error',
      text: 'the formula for a strip is valid for a thickness of at most one eighth of its width',
      basis: dwight,
    },
    'wide-ring': {
      requires: 'not kind is ring or ring_diameter >= 50 * diameter and ring_diameter >= 4 * depth',
      otherwise: 'error',
      text: 'the formula is valid for a ring of thin conductor that is wide against its depth: at least four times',
      basis: dwight,
    },
    'deep-plate': {
      requires: 'not (kind is plate and method is ieee-142) or depth >= disc_radius',
      otherwise: 'error',
      text: 'the series of the formula is valid for a depth of at least the radius of the disc of equal area',
      basis: dwight,
    },
    'grid-depth': {
      requires: 'not kind is grid or depth >= 0.25 m and depth <= 2.5 m',
      otherwise: 'error',
      text: 'the formula for a grid is valid for depths from 0.25 m to 2.5 m',
      basis: ieee80,
    },
    'grid-conductors': {
      requires: 'not kind is grid or total_length >= 4 * sqrt(area)',
      otherwise: 'error',
      text: 'the conductors of a grid must reach at least once around its area',
      basis: derivation('a square of this area has a perimeter of four times the square root of the area'),
    },
  },
  cautions: {
    'uniform-soil': {
      text: 'The soil is taken as uniform; layers, seasons, frost and drought change the resistance. Measure it on site, with the electrode disconnected only under the permit of those responsible.',
      basis: commonPractice(),
    },
    'low-frequency': {
      text: 'The resistance applies at power frequency. At lightning currents ionisation of the soil lowers it, while the inductance of a long electrode and of the lead to it raises the impedance during the front: a low resistance far away does not protect.',
      basis: commonPractice(),
    },
    'edition-of-is-3043': {
      when: `method is is-3043-1987 and (${isRod} or kind is rods-in-line)`,
      text: 'The edition of 1987 has ln(4L/d) where BS 7430 and the edition of 2018 have ln(8L/d) − 1: its bracket is larger by 0.31, on the safe side. An amendment of 2006 replaced the formulas of this clause.',
      basis: is1987,
    },
    'group-by-bs': {
      when: 'kind is rods-in-line and (method is is-3043-1987 or method is is-3043-2018)',
      text: 'One rod follows IS 3043; the joint action of the rods in a line follows BS 7430.',
      basis: bsGroup,
    },
    'plate-faces': {
      when: 'kind is plate and not method is ieee-142',
      text: 'BS 7430 counts one face of the plate, IS 3043 both: the same plate has 1.41 times the resistance by BS 7430. The depth does not enter.',
      basis: is1987,
    },
  },
  limiting: [
    {
      given: 'length',
      seek: 'smallest',
      meaning:
        'shortest length of each electrode with which the required resistance is met, other values unchanged',
      when: `${isRod} or kind is strip or kind is rods-in-line and not method is ieee-142`,
    },
    {
      given: 'resistivity',
      seek: 'largest',
      meaning:
        'highest resistivity of the soil with which the required resistance is met, other values unchanged',
    },
    {
      given: 'total_length',
      seek: 'smallest',
      meaning:
        'least length of conductor in the grid with which the required resistance is met, other values unchanged',
    },
  ],
  figure: { caption: 'The electrode in the soil', draw: drawEarthElectrode },
  evidence: earthElectrodeEvidence,
});
