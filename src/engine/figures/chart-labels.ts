import { dot } from './annotations.ts';
import { chooseBox, spreadLabels } from './declutter.ts';
import { group, LINE_SPACING, line, type Mark, polyline, SMALL_SIZE, text, textBlock } from './drawing.ts';
import { type Box, boxAround, overlapArea, type Point, point, type Segment } from './geometry.ts';
import { labelOverLines } from './labels-over-lines.ts';
import { wrapMarkedText } from './marked-text.ts';

/** What of a chart carries labels, in positions on paper. */
export interface ChartMarks {
  readonly plot: Box;
  /** The curves, which labels inside the plot keep clear of. */
  readonly segments: readonly Segment[];
  readonly limits: readonly {
    readonly at: number;
    readonly label: string;
    readonly forbidden?: 'above' | 'below';
  }[];
  readonly verticals: readonly { readonly at: number; readonly label: string }[];
  readonly points: readonly { readonly at: Point; readonly label: string }[];
  /** Where each curve ends in the plot; undefined where it lies wholly outside. */
  readonly ends: readonly { readonly at: Point | undefined; readonly label: string }[];
}

const SIDE_LABEL_WIDTH = 370;
const LINE_HEIGHT = SMALL_SIZE * LINE_SPACING;

/** Labels right of the plot, each beside the end of its curve or limit, moved apart, joined to it by a hairline. */
export function labelEnds({ plot, ends, limits }: ChartMarks): Mark {
  const shown = [
    ...ends.flatMap(({ at, label }) => (at === undefined || label === '' ? [] : [{ at, label }])),
    ...limits.map(({ at, label }) => ({ at: point(plot.right, at), label })),
  ];
  const lines = shown.map((end) => wrapMarkedText(end.label, SIDE_LABEL_WIDTH, SMALL_SIZE).length);
  const middles = spreadLabels(
    shown.map((end, index) => ({ wanted: end.at.y, size: lines[index]! * LINE_HEIGHT })),
    { from: plot.top - 10, to: plot.bottom + 10 },
    5,
  );
  return group(
    shown.map((end, index) => {
      const at = point(plot.right + 46, middles[index]!);
      const start = end.at.x > plot.right - 1 ? point(plot.right + 8, end.at.y) : end.at;
      return group([
        polyline([start, point(plot.right + 36, at.y), point(plot.right + 40, at.y)], { weight: 'hair' }),
        textBlock(at, end.label, { size: SMALL_SIZE, vertical: 'middle', width: SIDE_LABEL_WIDTH }),
      ]);
    }),
  );
}

/** Upright markers with labels over the plot. */
export function labelVerticals({ plot, verticals }: ChartMarks): Mark {
  const labels = labelOverLines(verticals, plot.top - 20);
  return group(
    labels.map(({ label, lineTop }, index) => {
      const { at } = verticals[index]!;
      return group([
        line(point(at, plot.bottom), point(at, lineTop), { weight: 'thin', dash: 'short' }),
        label,
      ]);
    }),
  );
}

/** Limits, and labelled points; each label takes the place near its point where it covers least. */
export function labelInside(marks: ChartMarks): Mark {
  const { plot } = marks;
  const taken: Box[] = marks.points.map(({ at }) => boxAround([at], 10));
  const obstacles: Segment[] = [
    ...marks.segments,
    ...marks.limits.map(({ at }) => ({ from: point(plot.left, at), to: point(plot.right, at) })),
    ...marks.verticals.map(({ at }) => ({ from: point(at, plot.top), to: point(at, plot.bottom) })),
  ];
  const limits = marks.limits.map((limit) => limitLine(limit, plot));
  const points = marks.points.map(({ at, label }) => {
    const candidates = aroundPoint(at, label, plot);
    const chosen =
      candidates[
        chooseBox(
          candidates.map((each) => each.box),
          taken,
          obstacles,
        )
      ]!;
    taken.push(chosen.box);
    return group([dot(at, 7), chosen]);
  });
  return group([...limits, ...points]);
}

function limitLine(limit: ChartMarks['limits'][number], plot: Box): Mark {
  if (limit.at < plot.top - 0.5 || limit.at > plot.bottom + 0.5) return group([]);
  const marks = [line(point(plot.left, limit.at), point(plot.right, limit.at), { weight: 'medium' })];
  if (limit.forbidden !== undefined) {
    const rise = limit.forbidden === 'above' ? -14 : 14;
    for (let x = plot.left + 20; x < plot.right - 14; x += 40)
      marks.push(line(point(x, limit.at), point(x + 14, limit.at + rise), { weight: 'hair' }));
  }
  return group(marks);
}

function aroundPoint(at: Point, label: string, plot: Box): readonly Mark[] {
  const places = [16, 46, 90].flatMap((gap) => sidesOfPoint(at, label, gap));
  const inside = places.filter(({ box }) => overlapArea(box, plot) > 0.999 * areaOf(box));
  return inside.length === 0 ? places : inside;
}

/** Labels further away are joined to their point by a hairline. */
function sidesOfPoint(at: Point, label: string, gap: number): readonly Mark[] {
  const size = SMALL_SIZE;
  return [
    { dx: 1, dy: -1 },
    { dx: 1, dy: 1 },
    { dx: -1, dy: -1 },
    { dx: -1, dy: 1 },
    { dx: 0, dy: -1.3 },
    { dx: 0, dy: 1.3 },
  ].map(({ dx, dy }) => {
    const to = point(at.x + dx * gap, at.y + dy * gap);
    const anchor = dx === 0 ? 'middle' : dx > 0 ? 'start' : 'end';
    const placed = text(to, label, { size, anchor, vertical: dy > 0 ? 'top' : 'baseline', backed: true });
    return gap < 40 ? placed : { ...group([line(at, to, { weight: 'hair' }), placed]), box: placed.box };
  });
}

function areaOf(box: Box): number {
  return (box.right - box.left) * (box.bottom - box.top);
}
