import { quote, recall } from '../../definition/basis.ts';
import type { Edition, Editions } from '../../definition/definition.ts';

const bsRod = quote('bs-7430-2011', 'resistance of a rod or pipe', 'bs-7430-calculation-sheet', 'one rod');
const bsGroup = quote('bs-7430-2011', 'rods in parallel', 'bs-7430-calculation-sheet', 'rods in parallel');
const bsStrip = recall('bs-7430-2011', 'resistance of a strip or round conductor');
const bsPlate = recall('bs-7430-2011', 'resistance of a plate');
const is1987 = recall('is-3043-1987', '9.2.1');
const is2018 = recall('is-3043-2018', 'resistance of electrodes');
const dwight = recall('ieee-142-2007', 'table of electrode formulas, after Dwight');
const ieeeGroup = recall('ieee-142-2007', 'multiplying factors for multiple rods');
const ieee80 = recall('ieee-80-2013', '14.2, simplified formula after Sverak');

const IS_ROD = 'kind is rod or kind is pipe';
const IS_ROUND_STRIP = 'kind is strip and cross_section is round';
const ROD = 'resistivity / (2 * pi * length) * (ln(8 * length / diameter) - 1)';
const ROD_IEEE = 'resistivity / (2 * pi * length) * (ln(4 * length / (diameter / 2)) - 1)';
const ROD_IS = 'resistivity / (2 * pi * length) * ln(4 * length / diameter)';
const STRIP_IS = 'resistivity / (2 * pi * length) * ln(2 * length^2 / (depth * width))';
const STRIP_IS_ROUND = 'resistivity / (2 * pi * length) * ln(2 * length^2 / (depth * 2 * diameter))';
const PLATE = { when: 'kind is plate', formula: 'resistivity / 4 * sqrt(pi / plate_area)' };

const DROPPED =
  'the factor 100 of the standard, for lengths in centimetres, is dropped: lengths enter with their units';
const TWICE = 'twice the diameter stands for the width';
const WHOLE_LENGTH =
  'written with the whole length L and the depth h in place of half the length and twice the depth';
const TO_IMAGE = 'written with the depth h in place of half the distance to the image';

/** Rods in a line together, of BS 7430, with one rod alone by whichever edition. */
const SPACING_RATIO = { formula: 'resistivity / (2 * pi * rod_resistance * spacing)', basis: bsGroup };
const GROUP = {
  when: 'given group_factor',
  formula: 'rod_resistance * (1 + group_factor * spacing_ratio) / count',
  basis: bsGroup,
};

const bs2011: Edition = {
  basis: bsRod,
  steps: {
    rod_resistance: { formula: ROD },
    spacing_ratio: SPACING_RATIO,
    plate_area: { formula: 'length * width', basis: bsPlate, note: 'one face' },
    resistance: [
      { when: IS_ROD, formula: ROD },
      GROUP,
      {
        when: IS_ROUND_STRIP,
        formula: 'resistivity / (2 * pi * length) * ln(length^2 / (1.83 * depth * diameter))',
        basis: bsStrip,
      },
      {
        when: 'kind is strip',
        formula: 'resistivity / (2 * pi * length) * ln(length^2 / (1.36 * depth * width))',
        basis: bsStrip,
      },
      { ...PLATE, basis: bsPlate },
    ],
  },
};

const isOf1987: Edition = {
  basis: is1987,
  steps: {
    rod_resistance: { formula: ROD_IS, note: DROPPED },
    spacing_ratio: SPACING_RATIO,
    plate_area: { formula: '2 * length * width', note: 'both faces' },
    resistance: [
      { when: IS_ROD, formula: ROD_IS, note: DROPPED },
      GROUP,
      { when: IS_ROUND_STRIP, formula: STRIP_IS_ROUND, note: `${TWICE}; ${DROPPED}` },
      { when: 'kind is strip', formula: STRIP_IS, note: DROPPED },
      PLATE,
    ],
  },
};

const isOf2018: Edition = {
  basis: is2018,
  steps: {
    rod_resistance: { formula: ROD },
    spacing_ratio: SPACING_RATIO,
    plate_area: { formula: '2 * length * width', note: 'both faces' },
    resistance: [
      { when: IS_ROD, formula: ROD },
      GROUP,
      { when: IS_ROUND_STRIP, formula: STRIP_IS_ROUND, note: TWICE },
      { when: 'kind is strip', formula: STRIP_IS },
      PLATE,
    ],
  },
};

const ieee142: Edition = {
  basis: dwight,
  steps: {
    rod_resistance: { formula: ROD_IEEE },
    plate_area: { formula: 'length * width', note: 'one face' },
    disc_radius: { formula: 'sqrt(plate_area / pi)' },
    resistance: [
      { when: IS_ROD, formula: ROD_IEEE },
      {
        when: 'given multiplying_factor',
        formula: 'multiplying_factor * rod_resistance / count',
        basis: ieeeGroup,
      },
      {
        when: IS_ROUND_STRIP,
        formula:
          'resistivity / (2 * pi * length) * (ln(4 * length / diameter) + ln(length / depth) - 2 ' +
          '+ 2 * depth / length - (depth / length)^2 + (depth / length)^4 / 2)',
        note: WHOLE_LENGTH,
      },
      {
        when: 'kind is strip',
        formula:
          'resistivity / (2 * pi * length) * (ln(2 * length / width) ' +
          '+ (width^2 - pi * width * thickness) / (2 * (width + thickness)^2) ' +
          '+ ln(length / depth) - 1 + 2 * depth / length - (depth / length)^2 + (depth / length)^4 / 2)',
        note: WHOLE_LENGTH,
      },
      {
        when: 'kind is plate and orientation is horizontal',
        formula:
          'resistivity / (8 * disc_radius) + resistivity / (8 * pi * depth) ' +
          '* (1 - 7 / 48 * (disc_radius / depth)^2 + 33 / 640 * (disc_radius / depth)^4)',
        note: TO_IMAGE,
      },
      {
        when: 'kind is plate',
        formula:
          'resistivity / (8 * disc_radius) + resistivity / (8 * pi * depth) ' +
          '* (1 + 7 / 96 * (disc_radius / depth)^2 + 99 / 5120 * (disc_radius / depth)^4)',
        note: TO_IMAGE,
      },
      {
        when: 'kind is ring',
        formula:
          'resistivity / (2 * pi^2 * ring_diameter) * (ln(8 * ring_diameter / diameter) + ln(2 * ring_diameter / depth))',
        note: TO_IMAGE,
      },
    ],
  },
};

const ieeeOf2013: Edition = {
  basis: ieee80,
  steps: {
    resistance: {
      when: 'kind is grid',
      formula:
        'resistivity * (1 / total_length + 1 / sqrt(20 * area) * (1 + 1 / (1 + depth * sqrt(20 / area))))',
    },
  },
};

/** What each standard and edition says of the resistance of an electrode. */
export const earthElectrodeEditions: Editions = {
  by: 'method',
  of: {
    'bs-7430-2011': bs2011,
    'is-3043-1987': isOf1987,
    'is-3043-2018': isOf2018,
    'ieee-142': ieee142,
    'ieee-80': ieeeOf2013,
  },
};
