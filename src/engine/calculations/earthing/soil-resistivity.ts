import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { SolutionOutcome, StepValues } from '../../definition/definition.ts';
import { fitTwoLayers } from '../../physics/fit-two-layers.ts';
import { discRatio } from '../../physics/two-layer-soil.ts';
import { drawSoundingCurve } from './draw-sounding-curve.ts';
import { evidenceOfSoundings } from './soil-resistivity-evidence.ts';

const fourPoint = recall('ieee-81-2012', '7.2.4, four-point method, equal and unequal spacing');
const twoLayers = recall('sunde-1949', 'chapter 2, apparent resistivity on soil of two layers');
const rodInLayers = recall('ieee-80-2013', '14.4, apparent resistivity of a rod through two layers');
const fitted = derivation(
  'least squares of the relative deviations of the two-layer curve from the readings',
);

/** Below so many different places of the electrodes three unknowns cannot be found and judged. */
const LEAST_PLACES = 4;
const TOO_FEW = 'too few spacings';

/** Resistivity of the soil from four-electrode readings, and the two layers that fit them. */
export const soilResistivity = defineCalculation({
  name: 'soil-resistivity',
  title: 'Resistivity of the soil from four-electrode readings',
  purpose:
    'Turns the readings of a four-electrode survey into apparent resistivities, with the depth of the pins counted, finds ' +
    'their mean, and fits soil of two horizontal layers to them, with what remains between curve and readings. From the ' +
    'layers it finds the resistivity that counts for a rod of a given length and for a grid of a given area.',
  answers: ['What are the resistivity and the layers of the soil, by a four-electrode (Wenner) measurement?'],
  example: `
    id: soil-readings
    title: Four-electrode readings beside the station
    given:
      readings:
        - { spacing: 1 m, resistance: 27.7 ohm }
        - { spacing: 2 m, resistance: 11.9 ohm }
        - { spacing: 4 m, resistance: 3.78 ohm }
        - { spacing: 8 m, resistance: 1.10 ohm }
        - { spacing: 16 m, resistance: 0.464 ohm }
      earthing_extent: { value: 15 m, source: "layout drawing, diagonal of the grid" }
      rod_length: 6 m
  `,
  givens: {
    arrangement: {
      type: 'choice',
      symbol: '\\text{arrangement}',
      meaning: 'distances of the four electrodes in line',
      options: {
        equal: 'equal distances',
        unequal: 'current electrodes further out than the potential electrodes are apart',
      },
      default: { value: 'equal', basis: fourPoint },
    },
    readings: {
      type: 'rows',
      index: 'i',
      least: 1,
      meaning: 'readings, one row for each place of the electrodes',
      columns: {
        spacing: {
          type: 'quantity',
          symbol: 'a_i',
          meaning: 'distance between the two potential electrodes',
          unit: 'm',
          permitted: { above: '0 m' },
          usual: {
            from: '0.1 m',
            to: '300 m',
            because: 'surveys run from decimetres to some hundred metres',
          },
        },
        outer_spacing: {
          type: 'quantity',
          symbol: 'c_i',
          meaning:
            'distance between each current electrode and the potential electrode next to it, where it is another one',
          unit: 'm',
          permitted: { from: '0 m' },
          usual: {
            from: '0.1 m',
            to: '500 m',
            orNone: true,
            because: 'surveys run from decimetres to some hundred metres',
          },
          default: { value: '0 m', basis: commonPractice('the distances are equal') },
        },
        resistance: {
          type: 'quantity',
          symbol: 'R_i',
          meaning: 'reading: voltage between the inner electrodes over the current',
          unit: 'ohm',
          permitted: { above: '0 ohm' },
          usual: {
            from: '0.002 ohm',
            to: '20 kohm',
            because: 'instruments read from milliohms, and rock between close pins has some kilohms',
          },
        },
        pin_depth: {
          type: 'quantity',
          symbol: 'b_i',
          meaning: 'depth of the electrodes in the soil',
          unit: 'm',
          permitted: { from: '0 m' },
          usual: {
            from: '1 cm',
            to: '1 m',
            orNone: true,
            because: 'pins are driven some centimetres to decimetres deep',
          },
          default: { value: '0 m', basis: commonPractice('pins that are short against their distances') },
        },
      },
    },
    permitted_residual: {
      type: 'quantity',
      symbol: '\\varepsilon_\\mathrm{perm}',
      meaning: 'residual of the fit up to which two layers are accepted as a model of the soil',
      unit: '%',
      permitted: { above: '0 %', to: '100 %' },
      usual: { from: '1 %', to: '30 %', because: 'readings in the field scatter by some per cent' },
      default: { value: '10 %', basis: commonPractice('readings in the field scatter by some per cent') },
    },
    earthing_extent: {
      type: 'quantity',
      symbol: 'D',
      meaning: 'largest extent of the earthing system to be designed, such as the diagonal of its grid',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '1 m', to: '1000 m', because: 'earthing systems measure metres to hundreds of metres' },
    },
    rod_length: {
      type: 'quantity',
      symbol: 'L_\\mathrm{r}',
      meaning: 'length of a rod for which the resistivity is sought',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '1 m',
        to: '50 m',
        because: 'rods are driven some metres deep, and bored tens of metres',
      },
    },
    rod_top: {
      type: 'quantity',
      symbol: 'h',
      meaning: 'depth of the upper end of the rod',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: { from: '0.1 m', to: '3 m', orNone: true, because: 'rods begin at the surface or at a grid' },
      default: { value: '0 m', basis: commonPractice('a rod from the surface') },
    },
    grid_area: {
      type: 'quantity',
      symbol: 'A',
      meaning: 'area of a grid or ring for which the resistivity is sought',
      unit: 'm^2',
      permitted: { above: '0 m^2' },
      usual: {
        from: '4 m^2',
        to: '250000 m^2',
        because: 'grids have sides of some metres to hundreds of metres',
      },
    },
  },
  solutions: {
    fit: {
      needs: ['near', 'far', 'apparent_resistivity'],
      solve: fit,
      pointsOfRanges: 40,
    },
  },
  steps: {
    near: {
      symbol: 'r_{1,i}',
      meaning: 'distance from a current electrode to the next potential electrode',
      unit: 'm',
      over: 'readings',
      basis: fourPoint,
      variants: [
        { when: 'arrangement is equal', formula: 'readings.spacing' },
        { formula: 'readings.outer_spacing' },
      ],
    },
    far: {
      symbol: 'r_{2,i}',
      meaning: 'distance from a current electrode to the other potential electrode',
      unit: 'm',
      over: 'readings',
      basis: fourPoint,
      formula: 'near + readings.spacing',
    },
    apparent_resistivity: {
      symbol: '\\rho_{\\mathrm{a},i}',
      meaning: 'apparent resistivity',
      unit: 'ohm m',
      over: 'readings',
      digits: 4,
      basis: fourPoint,
      formula:
        '2 * pi * readings.resistance / (1 / near - 1 / far + 1 / sqrt(near^2 + 4 * readings.pin_depth^2) - 1 / sqrt(far^2 + 4 * readings.pin_depth^2))',
      note: 'with equal distances it is the formula of Wenner; the electrodes count as points at the depth of their tips',
    },
    mean_resistivity: {
      symbol: '\\bar{\\rho}',
      meaning: 'mean of the apparent resistivities',
      unit: 'ohm m',
      basis: recall('ieee-80-2013', '13.4.1, uniform soil: arithmetic mean of the apparent resistivities'),
      formula: 'sum(apparent_resistivity over readings) / count(readings.spacing)',
    },
    spread: {
      symbol: 's',
      meaning: 'largest over smallest apparent resistivity',
      unit: '1',
      basis: commonPractice(),
      formula: 'max(apparent_resistivity) / min(apparent_resistivity)',
    },
    largest_distance: {
      symbol: 'r_\\mathrm{max}',
      meaning: 'largest distance from a current electrode to the next potential electrode',
      unit: 'm',
      basis: derivation('the depth that a reading reaches grows with it'),
      formula: 'max(near)',
    },
    upper_resistivity: {
      symbol: '\\rho_1',
      meaning: 'resistivity of the upper layer',
      unit: 'ohm m',
      basis: fitted,
      resultOf: 'fit',
      method: 'the two layers for which the sum of the squares of the relative deviations is least',
      says: [TOO_FEW],
    },
    lower_resistivity: {
      symbol: '\\rho_2',
      meaning: 'resistivity of the lower layer',
      unit: 'ohm m',
      basis: fitted,
      resultOf: 'fit',
      method: 'of the same fit',
      says: [TOO_FEW],
    },
    layer_thickness: {
      symbol: 'H',
      meaning: 'thickness of the upper layer',
      unit: 'm',
      basis: fitted,
      resultOf: 'fit',
      method: 'of the same fit',
      says: [TOO_FEW],
    },
    reflection_factor: {
      symbol: 'K',
      meaning: 'reflection factor',
      unit: '1',
      basis: twoLayers,
      formula: '(lower_resistivity - upper_resistivity) / (lower_resistivity + upper_resistivity)',
    },
    residual: {
      symbol: '\\varepsilon',
      meaning: 'residual: root of the mean square of the relative deviations of the curve from the readings',
      unit: '%',
      basis: fitted,
      resultOf: 'fit',
      method: 'of the same fit: √(Σ((ρ computed − ρ measured)/ρ measured)²/N)',
      says: [TOO_FEW],
    },
    rod_resistivity: {
      symbol: '\\rho_\\mathrm{r}',
      meaning: 'resistivity that counts for the rod',
      unit: 'ohm m',
      basis: rodInLayers,
      when: 'given rod_length',
      variants: [
        {
          when: 'rod_top + rod_length <= layer_thickness',
          formula: 'upper_resistivity',
          note: 'the rod ends in the upper layer',
        },
        {
          when: 'rod_top >= layer_thickness',
          formula: 'lower_resistivity',
          note: 'the rod lies in the lower layer',
        },
        {
          formula:
            'rod_length / ((layer_thickness - rod_top) / upper_resistivity + (rod_top + rod_length - layer_thickness) / lower_resistivity)',
        },
      ],
    },
    grid_resistivity: {
      symbol: '\\rho_\\mathrm{g}',
      meaning: 'resistivity of uniform soil in which a plate of this area would have the same resistance',
      unit: 'ohm m',
      basis: derivation('a round plate on the surface and its images in the boundary of the layers'),
      when: 'given grid_area',
      needs: ['upper_resistivity', 'lower_resistivity', 'layer_thickness', 'grid_area'],
      solve: (values) => {
        const [upper, lower] = [values.number('upper_resistivity'), values.number('lower_resistivity')];
        const layers = {
          reflection: (lower - upper) / (lower + upper),
          thickness: values.number('layer_thickness'),
        };
        return upper * discRatio(layers, Math.sqrt(values.number('grid_area') / Math.PI));
      },
      method:
        'ρ₁ (1 + 2 Σ Kⁿ φ(2 n H)) over n = 1, 2, 3 ..., with the mean φ of the potential that an equal plate causes at that distance',
    },
  },
  checks: {
    fit_quality: {
      criterion: 'Residual of the two-layer fit against the permitted residual',
      value: 'residual',
      relation: '<=',
      limit: 'permitted_residual',
      force: 'recommendation',
      basis: commonPractice(),
      remedies: [
        'Repeat readings that deviate from the curve: loose pins, buried metal and induced voltages falsify them.',
        'Measure along a second line across the first, and at further spacings.',
        'Where three layers or more show, take the least favourable of the resistivities for the design, or compute with more layers.',
      ],
    },
    reach: {
      criterion: 'Largest distance of the survey against the extent of the earthing system',
      value: 'largest_distance',
      relation: '>=',
      limit: 'earthing_extent',
      when: 'given earthing_extent',
      force: 'recommendation',
      basis: commonPractice('the soil counts to a depth of about the extent of the electrode'),
      remedies: [
        'Measure at larger spacings, up to the extent of the earthing system.',
        'Where there is no room, take the resistivity of the largest spacing, with a margin, for the soil below.',
      ],
    },
  },
  validity: {
    'equal-distances': {
      requires: 'arrangement is unequal or readings.outer_spacing = 0 m',
      over: 'readings',
      otherwise: 'error',
      given: 'readings.outer_spacing',
      text: 'with equal distances the spacing alone is written: row {rows} has an outer spacing as well',
      instead: "leave it out, or write 'arrangement: unequal'",
      basis: fourPoint,
    },
    'unequal-distances': {
      requires: 'arrangement is equal or readings.outer_spacing > 0 m',
      over: 'readings',
      otherwise: 'error',
      given: 'readings.outer_spacing',
      text: 'with unequal distances row {rows} needs the distance of the current electrodes too',
      instead: 'the distance from each current electrode to the potential electrode next to it',
      basis: fourPoint,
    },
    'point-electrodes': {
      requires: 'readings.pin_depth <= 0.2 * near',
      over: 'readings',
      otherwise: 'caution',
      text: 'the pins of row {rows} are deeper than a fifth of their distance: they are no point electrodes, and the resistivity is an estimate',
      basis: commonPractice(),
    },
    'range-of-spacings': {
      requires: 'max(far) >= 5 * min(near)',
      otherwise: 'caution',
      text: 'the spacings are close together: they give information on one depth only, and other layers fit as well',
      basis: commonPractice(),
    },
    'contrast-within-search': {
      requires:
        'lower_resistivity <= 1000 * upper_resistivity and upper_resistivity <= 1000 * lower_resistivity',
      otherwise: 'caution',
      text: 'the fit has run to the end of its range of contrasts, a thousand to one: the resistivity of the lower layer is a bound, not a value',
      basis: fitted,
    },
    'boundary-in-reach': {
      requires: 'layer_thickness <= largest_distance',
      otherwise: 'caution',
      text: 'the boundary of the layers is deeper than the largest distance of the electrodes: the survey hardly reaches the lower layer',
      basis: commonPractice(),
    },
  },
  cautions: {
    layered: {
      when: 'spread > 1.5',
      text: 'The apparent resistivities differ by a factor of {spread}: the mean does not represent this soil, and the layers decide.',
      basis: commonPractice(),
    },
    'hardly-layered': {
      when: 'abs(reflection_factor) < 0.1',
      text: 'The two layers hardly differ: their boundary is not certain, and the mean resistivity may be used instead.',
      basis: commonPractice(),
    },
    equivalence: {
      text: 'Other layers may fit nearly as well: of a thin layer only the product or the quotient of thickness and resistivity is certain. Real soil is not layered exactly horizontally; two lines at right angles show whether it is nearly so.',
      basis: commonPractice(),
    },
    season: {
      text: 'The resistivity changes with season, moisture and frost: the design needs that of the worst time of the year, which one survey does not show.',
      basis: commonPractice(),
    },
    'surface-voltages': {
      when: 'given grid_area',
      text: 'The resistivity for the grid applies to its resistance and potential rise. Mesh and step voltages follow more from the upper layer: judge them with the larger of both resistivities, or by a computation for two layers.',
      basis: commonPractice(),
    },
  },
  figure: {
    caption:
      'Apparent resistivity against the distance of the electrodes: readings, and the curve of the two layers',
    draw: drawSoundingCurve,
  },
  evidence: evidenceOfSoundings(),
});

function fit(values: StepValues): SolutionOutcome {
  const [near, far] = [values.list('near'), values.list('far')];
  const apparent = values.list('apparent_resistivity');
  const places = new Set(near.map((each, i) => `${each.toPrecision(6)} ${far[i]!.toPrecision(6)}`));
  if (places.size < LEAST_PLACES) {
    const none = { words: TOO_FEW };
    return {
      results: { upper_resistivity: none, lower_resistivity: none, layer_thickness: none, residual: none },
    };
  }
  const found = fitTwoLayers(near.map((each, i) => ({ near: each, far: far[i]!, apparent: apparent[i]! })));
  return {
    results: {
      upper_resistivity: found.upper,
      lower_resistivity: found.lower,
      layer_thickness: found.thickness,
      residual: found.residual,
    },
    drawn: found,
  };
}
