import { makeAxis } from './axis.ts';
import { type ChartMarks, labelEnds, labelInside } from './chart-labels.ts';
import { group, label, line, type Mark, polyline, rect, text } from './drawing.ts';
import { type Box, boxAround, type Point, point } from './geometry.ts';
import { type Hatch, hatchedRect } from './hatch.ts';
import { type MarginMark, markPoint } from './margin-marks.ts';
import { measureMarkedText } from './marked-text.ts';
import { thinPolyline } from './polyline-in-box.ts';
import { finishDrawing } from './sheet.ts';
import type { Dash } from './style.ts';

/** How a row came out: its verdict as far as a drawing shows it. */
export type MarginOutcome = 'unmet' | 'open' | 'met';

export interface MarginRow {
  readonly outcome: MarginOutcome;
  /** As a part of the limit; undefined where there is none. */
  readonly margin: number | undefined;
}

export interface MarginSeries {
  /** Stands at the end of the series, right of the plot: 'as found: 212 of 500 comply'. May carry markup. */
  readonly label: string;
  /** Stands before its bar; empty where there is one series only. */
  readonly name: string;
  /** Stands at the first row that has a margin: 'DB-07: −18 %'. May carry markup. */
  readonly least: string;
  /** In the order in which they are drawn: outcomes together, the least margin first. */
  readonly rows: readonly MarginRow[];
}

export interface MarginChartDefinition {
  /** The text alternative. */
  readonly title: string;
  readonly series: readonly MarginSeries[];
  readonly words: {
    readonly margin: string;
    readonly order: string;
    readonly limit: string;
    readonly outcomes: Readonly<Record<MarginOutcome, string>>;
    /** Beside the rows that lie above or below the ends of the axis: '12 beyond +200 %'. */
    readonly beyond: (count: number, end: number) => string;
  };
}

const WIDTH = 1560;
const HEIGHT = 560;
/** Up to so many rows each has its mark; of more the marks stand on the curve at equal distances. */
const MOST_MARKS = 120;
/** Half the size of a mark: where rows lie close together, as much as lets them be told apart. */
const LARGEST_MARK = 9;
const LEAST_MARK = 4.5;
const MARK_DISTANCE = 70;
const BAR_HEIGHT = 34;
const BAR_PITCH = 50;
const MOST_SIDE_LABEL = 420;

const LOOKS: readonly { readonly mark: MarginMark; readonly dash: Dash }[] = [
  { mark: 'disc', dash: 'solid' },
  { mark: 'ring', dash: 'dashed' },
  { mark: 'cross', dash: 'chain' },
  { mark: 'square', dash: 'short' },
  { mark: 'triangle', dash: 'double-chain' },
];

const HATCHES: Readonly<Record<MarginOutcome, Hatch>> = { unmet: 'rising', open: 'grey', met: 'white' };

/**
 * The margin of every row of a schedule, in order: where each series crosses its limit shows how many rows hold it. Below stands a
 * bar for each series with the outcomes of its rows, those without a margin among them. Rows far beyond the others stand at
 * the edge of the plot, and are counted there.
 *
 * @throws {NotDrawable} where a margin is not finite
 */
export function drawMargins({ title, series, words }: MarginChartDefinition): string {
  const most = Math.max(1, ...series.map(({ rows }) => rows.length));
  const ends = chooseMargins(series.flatMap(({ rows }) => rows.flatMap(({ margin }) => margin ?? [])));
  const y = makeAxis({ label: words.margin, unitSize: 0.01, from: ends.low, to: ends.high }, [], {
    paper: [HEIGHT, 0],
    ticks: 6,
    rounded: false,
  });
  const widest = Math.max(...y.ticks.map(({ label }) => measureMarkedText(label)));
  const names = Math.max(0, ...series.map(({ name }) => measureMarkedText(name) - 40));
  const side = Math.max(...series.map(({ label }) => 60 + measureMarkedText(label)), 150);
  const plot: Box = {
    left: Math.max(95 + widest, Math.min(names + 20, 300)),
    top: 0,
    right: WIDTH - Math.min(side, MOST_SIDE_LABEL),
    bottom: HEIGHT,
  };
  const x = makeAxis({ label: words.order, from: 0, to: most }, [], {
    paper: [plot.left, plot.right],
    ticks: Math.min(most, 8),
    rounded: false,
  });
  const placed = series.map(({ rows }, index) =>
    placeRows(rows, LOOKS[index % LOOKS.length]!, { x, y, ends }),
  );
  const below = plot.bottom + 95;
  const marks: ChartMarks = {
    plot,
    limits: [{ at: y.at(0), label: words.limit, forbidden: 'below' }],
    verticals: [],
    points: [],
    ends: series.map(({ label }, index) => ({ label, at: placed[index]!.runs.at(-1)?.at(-1) })),
  };
  return finishDrawing(
    [
      ...y.ticks.map(({ at }) =>
        line(point(plot.left, at), point(plot.right, at), { weight: 'hair', grey: 'middle' }),
      ),
      drawAxes(x, y, plot, widest),
      labelInside(marks),
      ...placed.map(({ mark }) => mark),
      ...labelLeast(series, placed, plot),
      ...labelBeyond(series, ends, words, plot),
      labelEnds(marks),
      ...series.map((one, index) =>
        drawBar(one, point(plot.left, below + index * BAR_PITCH), x.at, words.outcomes),
      ),
    ],
    { label: title },
  );
}

interface MarginEnds {
  readonly low: number;
  readonly high: number;
}

/** A margin so many times as far from its limit as three quarters of the others would press these together. */
const FAR = 4;

/** The ends of the axis: the limit lies between them, and a few margins far beyond all others do not. */
function chooseMargins(margins: readonly number[]): MarginEnds {
  const sizes = margins.map(Math.abs).sort((a, b) => a - b);
  const usual = Math.max(0.25, FAR * (sizes[Math.floor((sizes.length - 1) * 0.75)] ?? 0));
  const lowest = Math.max(
    -usual,
    margins.reduce((least, one) => Math.min(least, one), 0),
  );
  const highest = Math.min(
    usual,
    margins.reduce((most, one) => Math.max(most, one), 0),
  );
  const room = 0.1 * Math.max(highest - lowest, 0.05);
  return { low: roundTo(lowest - room), high: roundTo(highest + room) };
}

/** Outwards to a whole percent, for the end of the axis is printed. */
function roundTo(end: number): number {
  return Math.sign(end) * (Math.ceil(Math.abs(end) * 100) / 100);
}

interface Sheet {
  readonly x: ReturnType<typeof makeAxis>;
  readonly y: ReturnType<typeof makeAxis>;
  readonly ends: MarginEnds;
}

/** The marks of a series, and its points in runs: rows without a margin leave a gap. */
function placeRows(
  rows: readonly MarginRow[],
  { mark, dash }: (typeof LOOKS)[number],
  { x, y, ends }: Sheet,
): { readonly mark: Mark; readonly marked: readonly Point[]; readonly runs: readonly (readonly Point[])[] } {
  const runs: Point[][] = [];
  let open = false;
  rows.forEach(({ margin }, rank) => {
    if (margin === undefined) {
      open = false;
      return;
    }
    const at = point(x.at(rank + 0.5), y.at(Math.max(ends.low, Math.min(ends.high, margin))));
    if (open) runs.at(-1)!.push(at);
    else runs.push([at]);
    open = true;
  });
  const few = rows.length <= MOST_MARKS;
  const thinned = runs.map((run) => thinPolyline(run, 0.2));
  const curves = few ? [] : thinned.map((run) => polyline(run, { weight: 'medium', dash }));
  const marked = runs.flatMap((run) => (few ? run : spaced(run)));
  const pitch = x.at(1) - x.at(0);
  const half = few ? Math.max(LEAST_MARK, Math.min(LARGEST_MARK, 0.45 * pitch)) : LARGEST_MARK;
  return {
    mark: group([...curves, ...marked.map((at) => markPoint(at, mark, half))]),
    marked,
    runs: thinned,
  };
}

/** Of a long run the first, the last, and those between at equal distances on paper. */
function spaced(run: readonly Point[]): readonly Point[] {
  let last = Number.NEGATIVE_INFINITY;
  return run.filter(({ x }, index) => {
    if (index < run.length - 1 && x - last < MARK_DISTANCE) return false;
    last = x;
    return true;
  });
}

function drawAxes(x: Sheet['x'], y: Sheet['y'], plot: Box, widest: number): Mark {
  const small = {} as const;
  return group([
    polyline([point(plot.left, plot.top), point(plot.left, plot.bottom), point(plot.right, plot.bottom)]),
    ...x.ticks
      .filter(({ label }) => !label.includes('.'))
      .flatMap(({ at, label }) => [
        line(point(at, plot.bottom), point(at, plot.bottom + 10)),
        text(point(at, plot.bottom + 16), label, { ...small, anchor: 'middle', vertical: 'top' }),
      ]),
    ...y.ticks.flatMap(({ at, label }) => [
      line(point(plot.left - 10, at), point(plot.left, at)),
      text(point(plot.left - 17, at), label, { ...small, anchor: 'end', vertical: 'middle' }),
    ]),
    text(point((plot.left + plot.right) / 2, plot.bottom + 50), x.label, {
      anchor: 'middle',
      vertical: 'top',
    }),
    text(point(plot.left - 38 - widest, (plot.top + plot.bottom) / 2), y.label, {
      anchor: 'middle',
      rotate: -90,
    }),
  ]);
}

/** The first row of each series by its name. */
function labelLeast(
  series: readonly MarginSeries[],
  placed: readonly ReturnType<typeof placeRows>[],
  plot: Box,
): readonly Mark[] {
  const room = (plot.right - plot.left) / 2;
  return series.flatMap(({ least }, index) => {
    const at = placed[index]!.runs[0]?.[0];
    if (!at || least === '' || measureMarkedText(least) > room) return [];
    return label(at, least, { sides: ['right', 'below', 'above'], width: room, joined: true });
  });
}

/** How many rows stand at an edge of the plot because they lie beyond it. */
function labelBeyond(
  series: readonly MarginSeries[],
  { low, high }: MarginEnds,
  words: MarginChartDefinition['words'],
  plot: Box,
): readonly Mark[] {
  const margins = series.flatMap(({ rows }) => rows.flatMap(({ margin }) => margin ?? []));
  const above = margins.filter((margin) => margin > high).length;
  const under = margins.filter((margin) => margin < low).length;
  const look = { backed: true } as const;
  return [
    ...(above > 0
      ? [text(point(plot.right - 8, plot.top - 12), words.beyond(above, high), { ...look, anchor: 'end' })]
      : []),
    // The margins rise to the right: at the foot of the plot there is room on that side.
    ...(under > 0
      ? [text(point(plot.right - 8, plot.bottom - 22), words.beyond(under, low), { ...look, anchor: 'end' })]
      : []),
  ];
}

/** The outcomes of a series as parts of a bar that has the scale of the axis above it. */
function drawBar(
  { name, rows }: MarginSeries,
  { x: left, y: top }: Point,
  at: (rank: number) => number,
  outcomes: MarginChartDefinition['words']['outcomes'],
): Mark {
  let rank = 0;
  const parts: Mark[] = [];
  for (const outcome of ['unmet', 'open', 'met'] as const) {
    const count = rows.filter((row) => row.outcome === outcome).length;
    if (count === 0) continue;
    const box = { left: at(rank), right: at(rank + count), top, bottom: top + BAR_HEIGHT };
    parts.push(
      hatchedRect(box, HATCHES[outcome]),
      labelPart(box, `${outcomes[outcome]}: ${count}`, String(count)),
    );
    rank += count;
  }
  const label = text(point(left - 17, top + BAR_HEIGHT / 2), name, {
    anchor: 'end',
    vertical: 'middle',
  });
  return group([...parts, label]);
}

/** The longest of the labels that the part has room for; none where none fits. */
function labelPart(box: Box, ...labels: readonly string[]): Mark {
  const room = box.right - box.left - 16;
  const label = labels.find((one) => measureMarkedText(one) <= room);
  if (label === undefined) return group([]);
  const middle = point((box.left + box.right) / 2, (box.top + box.bottom) / 2);
  const half = measureMarkedText(label) / 2 + 6;
  const ground = { ...boxAround([middle], half), top: box.top + 3, bottom: box.bottom - 3 };
  return group([
    rect(ground, { fill: 'white', noLine: true }),
    text(middle, label, { anchor: 'middle', vertical: 'middle' }),
  ]);
}
