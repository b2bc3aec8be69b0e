import { spreadLabels } from './declutter.ts';
import { group, label, line, type Mark, polyline, textBlock } from './drawing.ts';
import { type Box, type Point, point } from './geometry.ts';
import { dot } from './joints.ts';
import { wrapMarkedText } from './marked-text.ts';
import { LINE_SPACING, TEXT_SIZE } from './style.ts';

/** What of a chart carries labels, in positions on paper. */
export interface ChartMarks {
  readonly plot: Box;
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

/** A longer label beside the plot is broken. */
export const SIDE_LABEL_WIDTH = 270;
const LINE_HEIGHT = TEXT_SIZE * LINE_SPACING;

/** Labels right of the plot, each beside the end of its curve or limit, moved apart, joined to it by a hairline. */
export function labelEnds({ plot, ends, limits }: ChartMarks): Mark {
  const shown = [
    ...ends.flatMap(({ at, label }) => (at === undefined || label === '' ? [] : [{ at, label }])),
    ...limits.map(({ at, label }) => ({ at: point(plot.right, at), label })),
  ];
  const lines = shown.map((end) => wrapMarkedText(end.label, SIDE_LABEL_WIDTH).length);
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
        textBlock(at, end.label, { vertical: 'middle', width: SIDE_LABEL_WIDTH }),
      ]);
    }),
  );
}

/** Upright markers with labels over the plot. */
export function labelVerticals({ plot, verticals }: ChartMarks): Mark {
  return group(
    verticals.map(({ at, label: words }) => {
      const top = point(at, plot.top - 14);
      return group([
        line(point(at, plot.bottom), top, { weight: 'thin', dash: 'short' }),
        label(top, words, { sides: ['above', 'right', 'left'] }),
      ]);
    }),
  );
}

/** Limits, and labelled points. */
export function labelInside({ plot, limits, points }: ChartMarks): Mark {
  return group([
    ...limits.map((limit) => limitLine(limit, plot)),
    ...points.map(({ at, label: words }) =>
      group([dot(at, 7), label(at, words, { sides: ['right', 'above', 'left', 'below'] })]),
    ),
  ]);
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
