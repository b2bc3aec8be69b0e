import { group, label, line, type Mark, polygon, rect, type Side, text } from './drawing.ts';
import { type Point, point } from './geometry.ts';
import { measureMarkedText } from './marked-text.ts';
import { TEXT_SIZE, type Weight } from './style.ts';

const ARROW_LENGTH = 22;
const ARROW_WIDTH = 7;

/** A slim filled arrowhead whose point lies at `tip` and which looks the way from `from` to `tip`. */
export function arrowhead(from: Point, tip: Point, length = ARROW_LENGTH): Mark {
  const along = direction(from, tip);
  const back = step(tip, along, -length);
  const half = (length * ARROW_WIDTH) / ARROW_LENGTH / 2;
  const across = { x: -along.y, y: along.x };
  return polygon([tip, step(back, across, half), step(back, across, -half)], { fill: 'ink', weight: 'hair' });
}

/** A line with an arrowhead, which is smaller on a short arrow. */
export function arrow(from: Point, tip: Point, weight: Weight = 'thin'): Mark {
  const length = Math.hypot(tip.x - from.x, tip.y - from.y);
  const head = Math.min(ARROW_LENGTH, 0.7 * length);
  return group([
    line(from, step(tip, direction(from, tip), -head / 2), { weight }),
    arrowhead(from, tip, head),
  ]);
}

export interface DimensionStyle {
  /** How far the dimension line lies beside the measured points: to the left of the way from the first to the second. */
  readonly offset?: number;
  readonly sides?: readonly Side[];
  /** One of several in a line: where there is no room the label is joined to the middle of its own part. */
  readonly stacked?: boolean;
}

/**
 * A dimension line with its two arrows, extension lines and label. Where the points lie too close together for arrows
 * between them, the arrows stand outside and point inwards.
 */
export function dimension(from: Point, to: Point, words: string, style: DimensionStyle = {}): Mark {
  const offset = style.offset ?? 0;
  const along = direction(from, to);
  const beside = { x: along.y, y: -along.x };
  const [start, end] = [step(from, beside, offset), step(to, beside, offset)];
  const reach = Math.sign(offset);
  const extensions =
    Math.abs(offset) < 16
      ? []
      : [
          line(step(from, beside, 8 * reach), step(start, beside, 8 * reach), { weight: 'hair' }),
          line(step(to, beside, 8 * reach), step(end, beside, 8 * reach), { weight: 'hair' }),
        ];
  const outward = { x: beside.x * (reach || 1), y: beside.y * (reach || 1) };
  return group([
    ...extensions,
    spanArrows(start, end, along),
    label(pointsAlong(start, end, style.stacked ? undefined : along), words, {
      sides: style.sides ?? sidesOf(outward),
      joined: style.stacked === true && !isRoomy(start, end),
    }),
  ]);
}

function isRoomy(start: Point, end: Point): boolean {
  return Math.hypot(end.x - start.x, end.y - start.y) >= 2.6 * ARROW_LENGTH;
}

function spanArrows(start: Point, end: Point, along: Point): Mark {
  if (isRoomy(start, end))
    return group([line(start, end, { weight: 'hair' }), arrowhead(end, start), arrowhead(start, end)]);
  const [before, after] = [step(start, along, -2 * ARROW_LENGTH), step(end, along, 2 * ARROW_LENGTH)];
  return group([line(before, after, { weight: 'hair' }), arrowhead(before, start), arrowhead(after, end)]);
}

/** Where the label of a dimension line may stand; between arrows that point inwards there is no room. */
function pointsAlong(start: Point, end: Point, along: Point | undefined): readonly Point[] {
  if (!isRoomy(start, end) && along)
    return [step(end, along, 2 * ARROW_LENGTH), step(start, along, -2 * ARROW_LENGTH)];
  return [0.5, 0.3, 0.7].map((share) =>
    point(start.x + share * (end.x - start.x), start.y + share * (end.y - start.y)),
  );
}

/** The side that a direction points to, then its opposite. */
function sidesOf(way: Point): readonly Side[] {
  if (Math.abs(way.x) > Math.abs(way.y)) return way.x > 0 ? ['right', 'left'] : ['left', 'right'];
  return way.y < 0 ? ['above', 'below'] : ['below', 'above'];
}

function direction(from: Point, to: Point): Point {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  return length === 0 ? point(1, 0) : point((to.x - from.x) / length, (to.y - from.y) / length);
}

function step(from: Point, along: Point, by: number): Point {
  return point(from.x + along.x * by, from.y + along.y * by);
}

/** A label in a thin frame with a little white around it; `at` is the middle of its upper edge. */
export function framedLabel(at: Point, words: string): Mark {
  const half = measureMarkedText(words, 'semibold') / 2 + 12;
  const height = TEXT_SIZE * 1.5;
  const frame = { left: at.x - half, right: at.x + half, top: at.y, bottom: at.y + height };
  return group([
    rect(frame, { fill: 'white', weight: 'thin' }),
    text(point(at.x, at.y + height / 2), words, {
      anchor: 'middle',
      vertical: 'middle',
      weight: 'semibold',
    }),
  ]);
}
