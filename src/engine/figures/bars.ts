import { type Axis, makeAxis } from './axis.ts';
import { spreadLabels } from './declutter.ts';
import {
  COLUMN_WIDTH,
  finishDrawing,
  group,
  LINE_SPACING,
  line,
  type Mark,
  polyline,
  SMALL_SIZE,
  text,
  textBlock,
} from './drawing.ts';
import { point } from './geometry.ts';
import { HATCHES, type Hatch, hatchedRect } from './hatch.ts';
import { labelOverLines } from './labels-over-lines.ts';
import { measureMarkedText, wrapMarkedText } from './marked-text.ts';
import { NotDrawable } from './not-drawable.ts';

export interface BarPart {
  /** Index in `parts` of the whole: what this part is. */
  readonly part: number;
  /** In SI, not negative. */
  readonly value: number;
  /** The value as printed: '33 kV'. */
  readonly shown: string;
}

export interface BarRow {
  readonly label: string;
  /** Drawn one after the other from zero. */
  readonly parts: readonly BarPart[];
  /** Stands at the end of the bar: the sum as printed, a verdict. */
  readonly total?: string;
}

export interface BarsDefinition {
  /** The text alternative. */
  readonly title: string;
  /** Label of the scale with its unit: 'Voltage at the terminals in kV'. */
  readonly scale: { readonly label: string; readonly unitSize?: number; readonly to?: number };
  /** What the parts are, in the order of the key: 'residual voltage', 'drop in the leads'. */
  readonly parts: readonly { readonly name: string; readonly hatch?: Hatch }[];
  readonly rows: readonly BarRow[];
  /** Upright lines over all rows: the permitted level. */
  readonly limits?: readonly { readonly value: number; readonly label: string }[];
}

/** A limit on paper. */
interface UprightLimit {
  readonly at: number;
  readonly label: string;
}

const LABEL_WIDTH = 380;
const BAR_HEIGHT = 56;
const VALUE_HEIGHT = 40;
const ROW_GAP = 34;

/**
 * Level bars of stacked parts, one row for each case, against limits. Parts are told apart by hatching.
 *
 * @throws {NotDrawable} where a part is negative or not finite
 */
export function drawBars(definition: BarsDefinition): string {
  const sums = definition.rows.map((row) => sumOf(row));
  const totals = definition.rows.map((row) => measure(row.total ?? ''));
  const left = 24 + Math.min(LABEL_WIDTH, Math.max(0, ...definition.rows.map((row) => measure(row.label))));
  const right = COLUMN_WIDTH - 60 - Math.max(0, ...totals);
  const values = [0, ...sums, ...(definition.limits ?? []).map((limit) => limit.value)];
  const axis = makeAxis({ ...definition.scale, from: 0 }, values, {
    paper: [left, right],
    ticks: 8,
    rounded: true,
  });
  const limits = (definition.limits ?? []).map(({ value, label }) => ({ at: axis.at(value), label }));
  const tops: number[] = [];
  let bottom = 0;
  for (const row of definition.rows) {
    const lines = wrapMarkedText(row.label, LABEL_WIDTH, SMALL_SIZE).length;
    const height = VALUE_HEIGHT + Math.max(BAR_HEIGHT, lines * SMALL_SIZE * LINE_SPACING - VALUE_HEIGHT);
    tops.push(bottom + ROW_GAP + VALUE_HEIGHT);
    bottom += ROW_GAP + height;
  }
  bottom += ROW_GAP;
  const placed = definition.rows.map((row) => placeParts(row, axis));
  const bounds = { from: left, to: COLUMN_WIDTH };
  return finishDrawing(
    [
      drawScale(axis, left, right, bottom),
      ...placed.map((parts, index) => drawBar(parts, definition, tops[index]!)),
      drawLimits(limits, bottom),
      ...placed.map((parts, index) => drawValues(parts, tops[index]!, bounds, limits)),
      ...definition.rows.map((row, index) => nameRow(row, left, axis.at(sums[index]!), tops[index]!)),
      drawKey(definition, left, bottom + 115),
    ],
    { label: definition.title },
  );
}

function measure(content: string): number {
  return measureMarkedText(content, SMALL_SIZE, 'semibold');
}

function sumOf(row: BarRow): number {
  let sum = 0;
  for (const { value } of row.parts) {
    if (!(value >= 0)) throw new NotDrawable(`a bar of '${row.label}' has a part of ${value}`);
    sum += value;
  }
  return sum;
}

function placeParts(row: BarRow, axis: Axis): readonly PlacedPart[] {
  let sum = 0;
  return row.parts.map((each) => {
    const from = axis.at(sum);
    sum += each.value;
    return { ...each, from, to: axis.at(sum) };
  });
}

function drawBar(parts: readonly PlacedPart[], definition: BarsDefinition, top: number): Mark {
  return group(
    parts
      .filter(({ from, to }) => to - from > 0.5)
      .map(({ part, from, to }) =>
        hatchedRect({ left: from, top, right: to, bottom: top + BAR_HEIGHT }, hatchOf(definition, part)),
      ),
  );
}

function nameRow(row: BarRow, start: number, end: number, top: number): Mark {
  const middle = top + BAR_HEIGHT / 2;
  return group([
    textBlock(point(start - 20, middle), row.label, {
      anchor: 'end',
      vertical: 'middle',
      size: SMALL_SIZE,
      width: LABEL_WIDTH,
    }),
    text(point(end + 14, middle), row.total ?? '', {
      vertical: 'middle',
      size: SMALL_SIZE,
      weight: 'semibold',
      backed: true,
    }),
  ]);
}

function hatchOf(definition: BarsDefinition, part: number): Hatch {
  return definition.parts[part]?.hatch ?? HATCHES[(part + 1) % HATCHES.length]!;
}

interface PlacedPart extends BarPart {
  readonly from: number;
  readonly to: number;
}

/** The values over their parts, moved apart where the parts are narrow, and then joined to them by hairlines. */
function drawValues(
  parts: readonly PlacedPart[],
  top: number,
  bounds: { readonly from: number; readonly to: number },
  limits: readonly UprightLimit[],
): Mark {
  const labelled = parts.filter((each) => each.shown !== '');
  const widths = labelled.map((each) => measureMarkedText(each.shown, SMALL_SIZE, 'regular'));
  const middles = spreadLabels(
    labelled.map((each, index) => ({
      wanted: clearMiddle(each, widths[index]!, limits),
      size: widths[index]!,
    })),
    bounds,
    16,
  );
  const foot = top - 14;
  return group(
    labelled.map((each, index) => {
      const [at, half] = [middles[index]!, widths[index]! / 2];
      const over = at - half >= each.from && at + half <= each.to;
      const lead = line(point(at, foot + 6), point((each.from + each.to) / 2, top), { weight: 'hair' });
      const value = text(point(at, foot), each.shown, { anchor: 'middle', size: SMALL_SIZE, backed: true });
      return over ? value : group([lead, value]);
    }),
  );
}

/** The place over a part that is clear of the limits and nearest its middle; its middle where none has room. */
function clearMiddle(part: PlacedPart, width: number, limits: readonly UprightLimit[]): number {
  const middle = (part.from + part.to) / 2;
  const cuts = [
    part.from,
    ...limits.map(({ at }) => at).filter((at) => at > part.from && at < part.to),
    part.to,
  ];
  const half = width / 2 + 14;
  let best: number | undefined;
  cuts
    .sort((a, b) => a - b)
    .slice(1)
    .forEach((right, index) => {
      const left = cuts[index]!;
      if (right - left < 2 * half) return;
      const place = Math.max(left + half, Math.min(right - half, middle));
      if (best === undefined || Math.abs(place - middle) < Math.abs(best - middle)) best = place;
    });
  return best ?? middle;
}

function drawScale(axis: Axis, left: number, right: number, bottom: number): Mark {
  return group([
    ...axis.ticks.map(({ at }) => line(point(at, 0), point(at, bottom), { weight: 'hair', grey: 'middle' })),
    polyline([point(left, 0), point(left, bottom), point(right, bottom)], { weight: 'thin' }),
    ...axis.ticks.map(({ at }) => line(point(at, bottom), point(at, bottom + 10), { weight: 'thin' })),
    ...axis.ticks.map(({ at, label }) =>
      text(point(at, bottom + 18), label, { anchor: 'middle', vertical: 'top', size: SMALL_SIZE }),
    ),
    text(point((left + right) / 2, bottom + 58), axis.label, { anchor: 'middle', vertical: 'top' }),
  ]);
}

function drawLimits(limits: readonly UprightLimit[], bottom: number): Mark {
  const labels = labelOverLines(limits, -18, 'semibold');
  return group(
    labels.map(({ label, lineTop }, index) => {
      const { at } = limits[index]!;
      const strokes = Array.from({ length: Math.floor(bottom / 30) }, (_, stroke) => {
        const y = 16 + stroke * 30;
        return line(point(at, y), point(at + 11, y - 11), { weight: 'hair' });
      });
      return group([line(point(at, bottom), point(at, lineTop), { weight: 'medium' }), ...strokes, label]);
    }),
  );
}

/** The key: a small field of each hatching with its name, in rows across the column. */
function drawKey(definition: BarsDefinition, left: number, top: number): Mark {
  const marks: Mark[] = [];
  let [x, y] = [left, top];
  definition.parts.forEach((part, index) => {
    const width = 66 + measureMarkedText(part.name, SMALL_SIZE, 'regular') + 40;
    if (x > left && x + width > COLUMN_WIDTH) [x, y] = [left, y + 46];
    marks.push(
      hatchedRect({ left: x, top: y, right: x + 52, bottom: y + 28 }, hatchOf(definition, index)),
      text(point(x + 66, y + 14), part.name, { vertical: 'middle', size: SMALL_SIZE }),
    );
    x += width;
  });
  return group(marks);
}
