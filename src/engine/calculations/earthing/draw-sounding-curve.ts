import type { FigureView } from '../../definition/figure-view.ts';
import { drawChart } from '../../figures/chart.ts';
import { point } from '../../figures/geometry.ts';
import type { TwoLayers } from '../../physics/fit-two-layers.ts';
import { apparentRatio } from '../../physics/two-layer-soil.ts';

const PLACES = 80;

/** Readings as dots, and the curve of the fitted layers where there is one, both axes logarithmic. */
export function drawSoundingCurve(view: FigureView): string | undefined {
  const [near, far] = [view.list('near'), view.list('far')];
  const apparent = view.list('apparent_resistivity');
  const layers = view.drawn('fit') as TwoLayers | undefined;
  const [from, to] = [Math.min(...near), Math.max(...near)];
  if (!(to > from)) return undefined;
  const shownAt = (distance: number) => view.shownItems('near')[near.indexOf(distance)]!;
  // Between readings at unequal distances there is no place of the electrodes: the curve then joins those of the readings.
  const places =
    view.choice('arrangement') === 'equal'
      ? Array.from({ length: PLACES + 1 }, (_, i) => from * (to / from) ** (i / PLACES)).map((at) => ({
          near: at,
          far: 2 * at,
        }))
      : near.map((each, i) => ({ near: each, far: far[i]! })).sort((a, b) => a.near - b.near);
  const curve = ({ upper, lower, thickness }: TwoLayers) =>
    places.map((electrodes) => {
      const reflection = (lower - upper) / (lower + upper);
      return point(electrodes.near, upper * apparentRatio({ reflection, thickness }, electrodes).ratio);
    });
  return drawChart({
    title: `Apparent resistivity against the distance of the electrodes: ${near.length} readings from ${shownAt(from)} to ${shownAt(to)}${
      layers
        ? `, and the curve of ${view.shown('upper_resistivity')}, ${view.shown('layer_thickness')} thick, above ${view.shown('lower_resistivity')}`
        : ''
    }`,
    x: { label: 'Distance from a current electrode to the next potential electrode in m', kind: 'log' },
    y: { label: 'Apparent resistivity in Ω m', kind: 'log' },
    curves: layers ? [{ label: 'two layers', points: curve(layers) }] : [],
    points: near.map((each, i) => ({ at: point(each, apparent[i]!), label: '' })),
    verticals: layers
      ? [{ value: layers.thickness, label: `*H* = ${view.shown('layer_thickness')}` }].filter(
          ({ value }) => value >= from && value <= to,
        )
      : [],
  });
}
