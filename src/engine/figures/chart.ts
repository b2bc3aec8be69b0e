import { type Axis, type AxisDefinition, makeAxis } from './axis.ts';
import { type ChartMarks, labelEnds, labelInside, labelVerticals, SIDE_LABEL_WIDTH } from './chart-labels.ts';
import { group, line, type Mark, polyline, text, textBlock } from './drawing.ts';
import { type Box, type Point, point } from './geometry.ts';
import { measureMarkedText, wrapMarkedText } from './marked-text.ts';
import { cutPolyline, thinPolyline } from './polyline-in-box.ts';
import { finishDrawing, HALF_ROOM, ROOM } from './sheet.ts';
import { COLUMN_WIDTH, type Dash, type Weight } from './style.ts';

export interface Curve {
  /** Stands at the end of the curve, right of the plot. */
  readonly label: string;
  /** In SI, in the order in which they are joined. */
  readonly points: readonly Point[];
  readonly dash?: Dash;
  readonly weight?: Weight;
}

export interface ChartDefinition {
  /** What the curves show: '... against ...'. The text alternative begins with it. */
  readonly title: string;
  readonly x: AxisDefinition;
  readonly y: AxisDefinition;
  readonly curves: readonly Curve[];
  /** Level lines: a withstand voltage, a permitted level. Strokes on the side that must not be reached. */
  readonly limits?: readonly {
    readonly value: number;
    readonly label: string;
    readonly forbidden?: 'above' | 'below';
  }[];
  /** Upright lines at a value of x, with a label over the plot. */
  readonly verticals?: readonly { readonly value: number; readonly label: string }[];
  /** Points with a dot and a label. */
  readonly points?: readonly { readonly at: Point; readonly label: string }[];
  /** Height of the plot on paper. */
  readonly height?: number;
}

/** Of the plot, where nothing else is asked for. */
const HEIGHT = 340;
/** Of the plot: with long labels beside it the chart becomes wider than half the column. */
const LEAST_PLOT = 450;
/** Curves are told apart by dash and weight, in this order. */
const LOOKS: readonly { readonly dash: Dash; readonly weight: Weight }[] = [
  { dash: 'solid', weight: 'medium' },
  { dash: 'dashed', weight: 'medium' },
  { dash: 'chain', weight: 'medium' },
  { dash: 'dotted', weight: 'strong' },
  { dash: 'double-chain', weight: 'medium' },
  { dash: 'solid', weight: 'hair' },
  { dash: 'short', weight: 'thin' },
  { dash: 'long', weight: 'thin' },
];
/** A fiftieth of a millimetre, far below what the eye sees. */
const TOLERANCE = 0.2;

/**
 * A line chart: curves told apart by their dashes and labelled where they end, limits, markers, labelled points.
 *
 * @throws {NotDrawable} where a value is not finite, or not positive on a logarithmic axis
 */
export function drawChart(definition: ChartDefinition): string {
  const sideLabels = [...definition.curves, ...(definition.limits ?? [])].map((each) => each.label);
  const right = Math.max(
    30,
    ...sideLabels.filter((label) => label !== '').map((label) => 50 + widestLine(label, SIDE_LABEL_WIDTH)),
  );
  const height = definition.height ?? HEIGHT;
  const ys = [
    ...definition.curves.flatMap((curve) => curve.points.map((each) => each.y)),
    ...(definition.points ?? []).map((each) => each.at.y),
    ...(definition.limits ?? []).map((limit) => limit.value),
  ];
  const y = makeAxis(definition.y, ys, { paper: [height, 0], ticks: 6, rounded: true });
  const left = 95 + Math.max(...y.ticks.map((tick) => measureMarkedText(tick.label)));
  const xs = [
    ...definition.curves.flatMap((curve) => curve.points.map((each) => each.x)),
    ...(definition.points ?? []).map((each) => each.at.x),
    ...(definition.verticals ?? []).map((vertical) => vertical.value),
  ];
  const width = Math.max(HALF_ROOM, left + LEAST_PLOT + right);
  const plot: Box = { left, top: 0, right: width - right, bottom: height };
  const x = makeAxis(definition.x, xs, { paper: [plot.left, plot.right], ticks: 5, rounded: false });
  const curves = definition.curves.map((curve) => placeCurve(curve, x, y, plot));
  return finishDrawing(
    [
      drawGrid(x, y, plot),
      drawFrame(x, y, plot, width),
      ...curves.map((runs, index) => drawCurve(definition.curves[index]!, index, runs)),
      labelAll(definition, curves, x, y, plot),
    ],
    { label: describeChart(definition), width: width + COLUMN_WIDTH - ROOM },
  );
}

/** What is shown, with the values that stand in the chart. */
function describeChart({ title, curves, limits = [], verticals = [], points = [] }: ChartDefinition): string {
  const named = curves.map(({ label }) => label).filter((label) => label !== '');
  const shown = [...points, ...verticals].map(({ label }) => label).filter((label) => label !== '');
  const parts = [
    ...(named.length > 0 ? [`Curves: ${named.join('; ')}.`] : []),
    ...limits.map(({ label, forbidden }) =>
      forbidden === undefined
        ? `Line at ${label}.`
        : `${forbidden === 'above' ? 'Upper' : 'Lower'} limit: ${label}.`,
    ),
    ...(shown.length > 0 ? [`Marked: ${shown.join('; ')}.`] : []),
  ];
  return [`${title}.`, ...parts].join(' ');
}

function placeCurve(curve: Curve, x: Axis, y: Axis, plot: Box): readonly (readonly Point[])[] {
  const onSheet = curve.points.map((each) =>
    point(keepNear(x.at(each.x), plot), keepNear(y.at(each.y), plot)),
  );
  const points = onSheet.length === 1 ? [onSheet[0]!, onSheet[0]!] : onSheet;
  return cutPolyline(points, plot).map((run) => thinPolyline(run, TOLERANCE));
}

/** Far outside the sheet a curve's exact course does not show, but numbers of any size would break the drawing. */
function keepNear(position: number, plot: Box): number {
  const far = 1e7 * (plot.right + plot.bottom);
  return Math.max(-far, Math.min(far, position));
}

function drawCurve(curve: Curve, index: number, runs: readonly (readonly Point[])[]): Mark {
  const look = LOOKS[index % LOOKS.length]!;
  const style = { dash: curve.dash ?? look.dash, weight: curve.weight ?? look.weight };
  return group(runs.map((run) => polyline(run, style)));
}

function drawGrid(x: Axis, y: Axis, plot: Box): Mark {
  const style = { weight: 'hair', grey: 'middle' } as const;
  return group([
    ...x.ticks.map(({ at }) => line(point(at, plot.top), point(at, plot.bottom), style)),
    ...y.ticks.map(({ at }) => line(point(plot.left, at), point(plot.right, at), style)),
  ]);
}

function drawFrame(x: Axis, y: Axis, plot: Box, width: number): Mark {
  const small = {} as const;
  const below = plot.bottom + 18;
  const widest = Math.max(...y.ticks.map((tick) => measureMarkedText(tick.label)));
  return group([
    polyline([point(plot.left, plot.top), point(plot.left, plot.bottom), point(plot.right, plot.bottom)], {
      weight: 'thin',
    }),
    ...x.minorTicks.map((at) => line(point(at, plot.bottom), point(at, plot.bottom + 6), { weight: 'hair' })),
    ...y.minorTicks.map((at) => line(point(plot.left - 6, at), point(plot.left, at), { weight: 'hair' })),
    ...x.ticks.map(({ at }) => line(point(at, plot.bottom), point(at, plot.bottom + 10), { weight: 'thin' })),
    ...y.ticks.map(({ at }) => line(point(plot.left - 10, at), point(plot.left, at), { weight: 'thin' })),
    ...keepApart(x).map(({ at, label }) =>
      text(point(at, below), label, { ...small, anchor: 'middle', vertical: 'top' }),
    ),
    ...y.ticks.map(({ at, label }) =>
      text(point(plot.left - 17, at), label, { ...small, anchor: 'end', vertical: 'middle' }),
    ),
    nameAxis(x.label, plot, below + 40, width),
    text(point(plot.left - 38 - widest, (plot.top + plot.bottom) / 2), y.label, {
      anchor: 'middle',
      rotate: -90,
    }),
  ]);
}

/** Under the middle of the plot, as far as the chart leaves room on both sides of that. */
function nameAxis(words: string, plot: Box, top: number, width: number): Mark {
  const half = Math.min(width, measureMarkedText(words)) / 2;
  const middle = Math.max(half, Math.min(width - half, (plot.left + plot.right) / 2));
  return textBlock(point(middle, top), words, { anchor: 'middle', vertical: 'top', width });
}

/** The width of a label that may be broken. */
function widestLine(label: string, width: number): number {
  return Math.max(...wrapMarkedText(label, width).map((line) => measureMarkedText(line)));
}

/** The tick labels that stand clear of the one before. */
function keepApart(x: Axis): Axis['ticks'] {
  let end = Number.NEGATIVE_INFINITY;
  return x.ticks.filter(({ at, label }) => {
    const half = measureMarkedText(label) / 2;
    if (at - half < end + 12) return false;
    end = at + half;
    return true;
  });
}

function labelAll(
  definition: ChartDefinition,
  curves: readonly (readonly (readonly Point[])[])[],
  x: Axis,
  y: Axis,
  plot: Box,
): Mark {
  const marks: ChartMarks = {
    plot,
    limits: (definition.limits ?? []).map((limit) => ({ ...limit, at: y.at(limit.value) })),
    verticals: (definition.verticals ?? []).map((each) => ({ label: each.label, at: x.at(each.value) })),
    points: (definition.points ?? []).map((each) => ({
      label: each.label,
      at: point(x.at(each.at.x), y.at(each.at.y)),
    })),
    ends: curves.map((runs, index) => ({ label: definition.curves[index]!.label, at: runs.at(-1)?.at(-1) })),
  };
  return group([labelVerticals(marks), labelInside(marks), labelEnds(marks)]);
}
