import { apparentRatio, type Electrodes } from './two-layer-soil.ts';

/** One reading: where its electrodes stood, and the apparent resistivity in ohm metres. */
export interface Reading extends Electrodes {
  readonly apparent: number;
}

export interface TwoLayers {
  /** Resistivities in ohm metres, thickness of the upper layer in m. */
  readonly upper: number;
  readonly lower: number;
  readonly thickness: number;
  /** Root of the mean square of the relative deviations. */
  readonly residual: number;
}

/** Half the logarithm of lower over upper resistivity: from 1/1100 to 1100. */
const MOST_CONTRAST = 3.5;
const CONTRASTS = 17;
const THICKNESSES = 25;
/** The best places of the first survey from which the search goes on. */
const STARTS = 3;
const MOST_STEPS = 100;
/** What the survey may leave out of the sum of images. */
const ROUGHLY = 1e-4;
/** A step of the search this short ends it. */
const SHORT = 1e-11;

/** Contrast, and logarithm of the thickness: what is sought. The upper resistivity follows from them. */
type Place = readonly [contrast: number, logThickness: number];

/**
 * The two layers of least squares of the relative deviations, (computed - measured)/measured. A survey over contrasts and
 * thicknesses, from a tenth of the smallest to the largest distance, then damped Gauss-Newton steps from its best places.
 */
export function fitTwoLayers(readings: readonly Reading[]): TwoLayers {
  const least = Math.log(Math.min(...readings.map(({ near }) => near)) / 10);
  const most = Math.log(Math.max(...readings.map(({ far }) => far)));
  const survey: { readonly place: Place; readonly square: number }[] = [];
  for (let i = 0; i < CONTRASTS; i++) {
    for (let j = 0; j < THICKNESSES; j++) {
      const place: Place = [
        MOST_CONTRAST * ((2 * i) / (CONTRASTS - 1) - 1),
        least + ((most - least) * j) / (THICKNESSES - 1),
      ];
      survey.push({ place, square: look(readings, place, ROUGHLY).square });
    }
  }
  survey.sort((a, b) => a.square - b.square);
  const found = survey.slice(0, STARTS).map(({ place }) => descend(readings, place, [least, most]));
  const best = found.reduce((a, b) => (b.square < a.square ? b : a));
  return {
    upper: best.upper,
    lower: best.upper * Math.exp(2 * best.place[0]),
    thickness: Math.exp(best.place[1]),
    residual: Math.sqrt(best.square / readings.length),
  };
}

interface View {
  readonly place: Place;
  readonly upper: number;
  readonly square: number;
  /** Relative deviations and their slopes by contrast and logarithm of thickness, the upper resistivity following along. */
  readonly deviations: readonly number[];
  readonly slopes: readonly (readonly [number, number])[];
}

function look(readings: readonly Reading[], place: Place, negligible?: number): View {
  const reflection = Math.tanh(place[0]);
  const thickness = Math.exp(place[1]);
  const ratios = readings.map((reading) => apparentRatio({ reflection, thickness }, reading, negligible));
  // Relative to what was measured, the deviation is upper · a - 1: its squares are least at this upper resistivity.
  const a = ratios.map(({ ratio }, i) => ratio / readings[i]!.apparent);
  const byPlace = ratios.map(({ byReflection, byThickness }, i): readonly [number, number] => [
    (byReflection * (1 - reflection * reflection)) / readings[i]!.apparent,
    (byThickness * thickness) / readings[i]!.apparent,
  ]);
  const [total, squares] = [sumOf(a), sumOf(a.map((each) => each * each))];
  const upper = total / squares;
  const upperBy = ([0, 1] as const).map((axis) => {
    const [slope, cross] = [
      sumOf(byPlace.map((each) => each[axis])),
      sumOf(a.map((each, i) => each * byPlace[i]![axis])),
    ];
    return (slope - 2 * upper * cross) / squares;
  });
  const deviations = a.map((each) => upper * each - 1);
  return {
    place,
    upper,
    square: sumOf(deviations.map((each) => each * each)),
    deviations,
    slopes: a.map((each, i) => [
      upper * byPlace[i]![0] + upperBy[0]! * each,
      upper * byPlace[i]![1] + upperBy[1]! * each,
    ]),
  };
}

/** Damped Gauss-Newton steps until none is downhill. */
function descend(readings: readonly Reading[], start: Place, [least, most]: readonly [number, number]): View {
  let here = look(readings, start);
  let damping = 1e-3;
  for (let step = 0; step < MOST_STEPS; step++) {
    const [dc, dt] = stepFrom(here, damping);
    const place: Place = [
      clamp(here.place[0] + dc, -MOST_CONTRAST, MOST_CONTRAST),
      clamp(here.place[1] + dt, least, most),
    ];
    const next = look(readings, place);
    const moved = Math.max(Math.abs(place[0] - here.place[0]), Math.abs(place[1] - here.place[1]));
    if (next.square < here.square) {
      here = next;
      damping = Math.max(damping / 8, 1e-12);
    } else damping *= 6;
    if (moved < SHORT || damping > 1e12) break;
  }
  return here;
}

function stepFrom({ deviations, slopes }: View, damping: number): readonly [number, number] {
  const cc = sumOf(slopes.map(([c]) => c * c)) * (1 + damping) + 1e-300;
  const tt = sumOf(slopes.map(([, t]) => t * t)) * (1 + damping) + 1e-300;
  const ct = sumOf(slopes.map(([c, t]) => c * t));
  const [gc, gt] = [
    sumOf(slopes.map(([c], i) => c * deviations[i]!)),
    sumOf(slopes.map(([, t], i) => t * deviations[i]!)),
  ];
  const determinant = cc * tt - ct * ct;
  if (!(determinant > 0)) return [0, 0];
  return [-(tt * gc - ct * gt) / determinant, -(cc * gt - ct * gc) / determinant];
}

function clamp(value: number, least: number, most: number): number {
  return Math.max(least, Math.min(most, value));
}

function sumOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}
