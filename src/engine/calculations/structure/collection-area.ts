import { cite, commonPractice, quote, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { QuantityGiven } from '../../definition/definition.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { drawCollectionArea } from '../../figures/collection-area-plan.ts';

const bsArea = quote(
  'bs-6651-1999',
  'collection area',
  'bs-6651-calculation-sheet',
  'effective collection area',
);
const strikePoints = cite('bouquegneau-rousseau-2014', 'summary and section I');
const gbArea = quote('gb-50057-2010', 'Annex A', 'lightning-examination-problems', 'problem 2577821');

const dimensionGiven = (symbol: string, meaning: string): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: 'm',
  permitted: { from: '0 m' },
  usual: {
    from: '1 m',
    to: '1000 m',
    orNone: true,
    because: 'structures have metres to hundreds of metres; a mast or a ridge has no width (common practice)',
  },
});

/** The block itself, the strips along its sides and the quarter circles at its corners. */
const BLOCK_AND_CORNERS =
  'length * width + 2 * collection_width * (length + width) + pi * collection_width^2';

/** Area that collects the lightning flashes of a rectangular structure, and how many a year strike it. */
export const collectionArea = defineCalculation({
  name: 'collection-area',
  title: 'Collection area and dangerous events',
  purpose:
    'Finds the area on the ground that has the same yearly number of flashes as the structure, and that number. The ' +
    'standards define the area differently, and their results must not be mixed.',
  answers: [
    'How many flashes a year strike the structure?',
    'Does the number of strikes exceed the tolerable number?',
  ],
  example: `
    id: exposure
    title: Flashes to the workshop building
    given:
      length: { value: 40 m, source: "drawing A-101" }
      width: { value: 25 m, source: "drawing A-101" }
      height: { value: 12 m, source: "drawing A-110" }
      ground_flash_density: { value: 2.5 1/km^2/year, source: "lightning location service, ten years" }
      location_factor: { value: 0.5, source: "site visit: trees and houses of like height" }
      tolerable_frequency: { value: 0.05 1/year, source: "agreed with the owner" }
  `,
  givens: {
    method: {
      type: 'choice',
      symbol: '\\text{method}',
      meaning: 'standard by which the area is found',
      options: {
        'iec-62305-2': 'IEC 62305-2: three times the height on every side',
        'nfpa-780': 'NFPA 780, edition of 2004 (from memory): three times the height on every side',
        'bs-6651': 'BS 6651 and IS 2309: once the height on every side',
        'gb-50057': 'GB 50057: the square root of H (200 m − H); from 100 m on, the height',
      },
      default: {
        value: 'iec-62305-2',
        basis: recall('iec-62305-2-2010', 'Annex A'),
      },
    },
    length: dimensionGiven('L', 'length of the structure'),
    width: dimensionGiven('W', 'width of the structure'),
    height: {
      ...dimensionGiven('H', 'height of the structure'),
      permitted: { above: '0 m' },
      usual: {
        from: '2 m',
        to: '500 m',
        because:
          'structures are at least some metres high; very high ones start upward flashes, which the area does not count',
      },
    },
    ground_flash_density: {
      type: 'quantity',
      symbol: 'N_\\mathrm{G}',
      meaning: 'lightning ground flash density',
      unit: '1/km^2/year',
      permitted: { above: '0 1/km^2/year' },
      usual: {
        from: '0.05 1/km^2/year',
        to: '70 1/km^2/year',
        because:
          'densities run from some hundredths to some tens per square kilometre and year (common practice)',
      },
    },
    thunderstorm_days: {
      type: 'quantity',
      symbol: 'T_\\mathrm{D}',
      meaning: 'thunderstorm days a year',
      unit: '1',
      permitted: { above: '0', to: '365' },
      usual: { from: '1', to: '260', because: 'maps of thunderstorm days run from some to about 200 a year' },
    },
    strike_points_per_flash: {
      type: 'quantity',
      symbol: 'n_\\mathrm{sp}',
      meaning:
        'points on the ground that a flash strikes, in the mean, where strike points are counted and not flashes',
      unit: '1',
      permitted: { from: '1', to: '5' },
      usual: {
        to: '2.5',
        because: 'a flash strikes one to two points in the mean, and 2 is proposed for risk assessments',
      },
      typical: [
        { value: '2', for: 'where the lightning location service states flashes alone', basis: strikePoints },
      ],
    },
    location_factor: {
      type: 'quantity',
      symbol: 'C_\\mathrm{D}',
      meaning: 'factor of the surroundings',
      unit: '1',
      permitted: { above: '0' },
      usual: { from: '0.25', to: '2', because: 'the standards give 0.25 to 2' },
      default: { value: '1', basis: commonPractice('an isolated structure on flat ground') },
      typical: [
        {
          value: '0.25',
          for: 'surrounded by higher objects (IEC)',
          basis: recall('iec-62305-2-2010', 'Table A.1'),
        },
        {
          value: '0.5',
          for: 'surrounded by objects as high or lower (IEC)',
          basis: recall('iec-62305-2-2010', 'Table A.1'),
        },
        {
          value: '2',
          for: 'isolated on a hilltop or knoll (IEC)',
          basis: recall('iec-62305-2-2010', 'Table A.1'),
        },
        {
          value: '1.5',
          for: 'by a river or lake, at the foot of a hill, in wet places (GB)',
          basis: recall('gb-50057-2010', 'Annex A'),
        },
      ],
    },
    tolerable_frequency: {
      type: 'quantity',
      symbol: 'N_\\mathrm{T}',
      meaning: 'tolerable yearly number of flashes without protection',
      unit: '1/year',
      permitted: { above: '0 1/year' },
      usual: {
        from: '1e-6 1/year',
        to: '1 1/year',
        because: 'tolerable frequencies run from one strike in a year to one in a million years',
      },
    },
  },
  alternatives: [{ oneOf: ['ground_flash_density', 'thunderstorm_days'], mayBeAbsent: true }],
  steps: {
    collection_width: {
      symbol: 'D',
      meaning: 'width by which the area extends beyond the structure on every side',
      unit: 'm',
      basis: recall('iec-62305-2-2010', 'Annex A, slope 1 to 3'),
      variants: [
        { when: 'method is iec-62305-2 or method is nfpa-780', formula: '3 * height' },
        {
          when: 'method is bs-6651',
          formula: 'height',
          basis: bsArea,
        },
        {
          when: 'height < 100 m',
          formula: 'sqrt(height * (200 m - height))',
          basis: recall('gb-50057-2010', 'Annex A, A.0.3'),
        },
        {
          formula: 'height',
          basis: gbArea,
          note: 'a height of 100 m or more',
        },
      ],
    },
    collection_area: {
      symbol: 'A_\\mathrm{D}',
      meaning: 'collection area',
      unit: 'm^2',
      basis: recall('iec-62305-2-2010', 'Annex A, equation A.2'),
      digits: 4,
      variants: [
        {
          when: 'method is bs-6651',
          formula: BLOCK_AND_CORNERS,
          basis: bsArea,
        },
        {
          when: 'method is nfpa-780',
          formula: BLOCK_AND_CORNERS,
          basis: recall('nfpa-780-2004', 'risk assessment, equivalent collection area'),
        },
        {
          when: 'method is gb-50057',
          formula: BLOCK_AND_CORNERS,
          basis: gbArea,
        },
        { formula: BLOCK_AND_CORNERS },
      ],
    },
    flash_density: {
      symbol: 'N_\\mathrm{g}',
      meaning: 'ground flash density from thunderstorm days',
      unit: '1/km^2/year',
      basis: recall('iec-62305-2-2010', 'Annex A, A.1'),
      optional: true,
      when: 'given thunderstorm_days',
      formula: '0.1 * thunderstorm_days',
      numeric: { thunderstorm_days: '1' },
    },
    strike_point_density: {
      symbol: 'N_\\mathrm{SG}',
      meaning: 'ground strike-point density',
      unit: '1/km^2/year',
      basis: strikePoints,
      optional: true,
      when: 'given strike_points_per_flash',
      variants: [
        { when: 'given ground_flash_density', formula: 'ground_flash_density * strike_points_per_flash' },
        { formula: 'flash_density * strike_points_per_flash' },
      ],
    },
    dangerous_events: {
      symbol: 'N_\\mathrm{D}',
      meaning: 'yearly number of flashes to the structure',
      unit: '1/year',
      basis: recall('iec-62305-2-2010', 'Annex A, equation A.4'),
      optional: true,
      variants: [
        {
          when: 'given strike_points_per_flash',
          formula: 'strike_point_density * collection_area * location_factor',
          basis: strikePoints,
          note: 'each strike point counts: a flash of two points may strike the structure with either',
        },
        {
          when: 'given ground_flash_density',
          formula: 'ground_flash_density * collection_area * location_factor',
        },
        { formula: 'flash_density * collection_area * location_factor' },
      ],
    },
    years_between_strikes: {
      symbol: 'T',
      meaning: 'mean time between strikes',
      unit: 'year',
      basis: commonPractice('inverse of the yearly number'),
      optional: true,
      formula: '1 / dangerous_events',
    },
  },
  checks: {
    tolerable_frequency: {
      criterion: 'Yearly number of strikes against the tolerable number without protection',
      value: 'dangerous_events',
      relation: '<=',
      limit: 'tolerable_frequency',
      when: 'given tolerable_frequency',
      force: 'requirement',
      basis: commonPractice(
        'the tolerable frequency is set by the authority or the standard that is applied',
      ),
      remedies: [
        'Provide a lightning protection system, its class selected by a risk assessment: it does not lower the number of strikes, but what they cause. Existing protection stays in place.',
      ],
    },
  },
  validity: {
    'height-of-method': {
      requires: 'not method is gb-50057 or height <= 200 m',
      otherwise: 'caution',
      text: 'the method does not cover structures above 200 m',
      basis: commonPractice(),
    },
  },
  cautions: {
    'one-method': {
      text: 'Areas by different standards differ ninefold for a slender structure, and more for a low one: compare this number only with limits of the same standard.',
      basis: commonPractice(),
    },
    'strike-points': {
      when: 'given strike_points_per_flash',
      text: 'Strike points are counted here, {strike_points_per_flash} to a flash, and not flashes: compare the number only with limits that count so too. A strike-point density that the lightning location service states itself is better than a factor.',
      basis: strikePoints,
    },
    'days-to-density': {
      when: 'given thunderstorm_days',
      text: 'Thunderstorm days give the flash density only roughly (0.1 per day, IEC 62305-2:2010 and GB 50057-2010; older texts use other formulas): where a lightning location system covers the site use its density.',
      basis: commonPractice(),
    },
    'rectangle-only': {
      text: 'The formula is for a rectangular block alone on flat ground; for other shapes, roof structures and hills determine the area graphically.',
      basis: recall('iec-62305-2-2010', 'Annex A, A.2.1'),
    },
  },
  figure: { caption: 'The structure within its collection area', draw: drawArea },
  evidence: [
    {
      kind: 'published',
      about: 'BS 6651: 10 m by 10 m by 12 m, 1.10 flashes per km² and year: 1032.4 m²',
      source: 'calculation sheet to BS 6651 (scribd.com/document/117483180)',
      given: {
        method: 'bs-6651',
        length: '10 m',
        width: '10 m',
        height: '12 m',
        ground_flash_density: '1.10 1/km^2/year',
      },
      expect: {
        collection_area: { value: '1032.4 m^2', tolerance: '0.05 m^2' },
        dangerous_events: { value: '1.1e-3 1/year', tolerance: '0.05e-3 1/year' },
      },
    },
    {
      kind: 'published',
      about: 'BS 6651: ridge 20 m long, 30 m high: 4027.4 m²',
      source:
        'calculation sheet to BS 6651 (scribd.com/document/117483180): pi H² + 2 L H, a block without width',
      given: { method: 'bs-6651', length: '20 m', width: '0 m', height: '30 m' },
      expect: { collection_area: { value: '4027.4 m^2', tolerance: '0.05 m^2' } },
    },
    {
      kind: 'published',
      about: 'GB 50057: 100 m by 20 m by 100 m, 48 thunderstorm days, factor 1.5: 0.057 km², 0.4104 a year',
      source: 'examination problem on lightning protection (gaojiufeng.cn, id 2577821)',
      given: {
        method: 'gb-50057',
        length: '100 m',
        width: '20 m',
        height: '100 m',
        thunderstorm_days: '48',
        location_factor: '1.5',
      },
      expect: {
        collection_area: { value: '0.057 km^2', tolerance: '0.0005 km^2' },
        dangerous_events: {
          value: '0.4104 1/year',
          tolerance: '0.0036 1/year',
          because: 'the source goes on with the area rounded to 0.057 km²',
        },
      },
    },
    {
      kind: 'independent',
      about: 'two strike points to a flash double the yearly number',
      source:
        'by hand: 12 · 30 + 6 · 9 · 42 + π · 27² = 4918.2 m²; 1.7 · 2 = 3.4 points per km² and year; 3.4 · 4918.2e-6 · 0.5 = 8.361e-3',
      given: {
        length: '30 m',
        width: '12 m',
        height: '9 m',
        ground_flash_density: '1.7 1/km^2/year',
        strike_points_per_flash: '2',
        location_factor: '0.5',
      },
      expect: {
        strike_point_density: { value: '3.4 1/km^2/year', tolerance: '0 1/km^2/year' },
        dangerous_events: { value: '8.361e-3 1/year', tolerance: '0.0005e-3 1/year' },
      },
    },
    {
      kind: 'memory',
      about: 'country house of the standard: 15 m by 20 m by 6 m, 4 flashes per km² and year',
      source: 'IEC 62305-2:2010, Annex E, country house, values from memory: 2.58e3 m², 1.03e-2 a year',
      given: { length: '15 m', width: '20 m', height: '6 m', ground_flash_density: '4 1/km^2/year' },
      expect: {
        collection_area: { value: '2.58e3 m^2', tolerance: '5 m^2' },
        dangerous_events: { value: '1.03e-2 1/year', tolerance: '0.005e-2 1/year' },
      },
    },
    {
      kind: 'memory',
      about: 'apartment house of the standard: 30 m by 20 m, 20 m high',
      source: 'IEC 62305-2:2010, Annex E, apartment house, value from memory: 1.79e4 m² at 20 m',
      given: { length: '30 m', width: '20 m', height: '20 m' },
      expect: { collection_area: { value: '1.79e4 m^2', tolerance: '50 m^2' } },
    },
    {
      kind: 'memory',
      about: 'the same apartment house, 40 m high',
      source: 'IEC 62305-2:2010, Annex E, apartment house, value from memory: 5.78e4 m² at 40 m',
      given: { length: '30 m', width: '20 m', height: '40 m' },
      expect: { collection_area: { value: '5.78e4 m^2', tolerance: '50 m^2' } },
    },
    {
      kind: 'limiting-case',
      about: 'a mast without ground plan collects within a circle of three times its height',
      source: 'pi (3 · 10 m)² = 2827.43 m²',
      given: { length: '0 m', width: '0 m', height: '10 m' },
      expect: { collection_area: { value: '2827.43 m^2', tolerance: '0.005 m^2' } },
    },
    {
      kind: 'refuted',
      about:
        'an area that leaves out the corner circles, an error once published and corrected, is not reproduced',
      source:
        'the correction to an article on NFPA 780 (csemag.com): without 9 pi H² a block of 15 m by 20 m by 6 m would have 1560 m²',
      given: { method: 'nfpa-780', length: '15 m', width: '20 m', height: '6 m' },
      expect: { collection_area: { value: '1560 m^2', tolerance: '1 m^2' } },
    },
  ],
});

function drawArea(view: FigureView): string {
  const measured = (name: string, symbol: string) => ({
    length: view.number(name),
    shown: `${symbol} = ${view.shown(name)}`,
  });
  return drawCollectionArea({
    title: `Structure of ${view.shown('length')} by ${view.shown('width')}, ${view.shown('height')} high; the area reaches ${view.shown('collection_width')} beyond it: ${view.shown('collection_area')}.`,
    length: measured('length', '*L*'),
    width: measured('width', '*W*'),
    reach: measured('collection_width', '*D*'),
    area: `*A*_{D} = ${view.shown('collection_area')}`,
    structure: `structure, ${view.shown('height')} high`,
  });
}
