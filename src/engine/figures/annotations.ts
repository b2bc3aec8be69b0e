import {
  circle,
  group,
  line,
  type Mark,
  polygon,
  polyline,
  SMALL_SIZE,
  type TextStyle,
  text,
  textBlock,
  type Weight,
} from './drawing.ts';
import { type Point, point } from './geometry.ts';
import { measureMarkedText } from './marked-text.ts';

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

export function arrow(from: Point, tip: Point, weight: Weight = 'thin'): Mark {
  return group([
    line(from, step(tip, direction(from, tip), -ARROW_LENGTH / 2), { weight }),
    arrowhead(from, tip),
  ]);
}

export interface DimensionStyle {
  /** How far the dimension line lies beside the measured points: to the left of the way from the first to the second. */
  readonly offset?: number;
  /** Where the label stands: over the line and along it, or beside it and level. */
  readonly label?: 'along' | 'beside';
  /** Level labels stand on the far side of the line as seen from the points, or between line and points. */
  readonly side?: 'outer' | 'inner';
  readonly size?: number;
  readonly backed?: boolean;
}

/**
 * A dimension line with its two arrows, extension lines and label. Where the points lie too close together for arrows
 * between them, the arrows stand outside and point inwards.
 */
export function dimension(from: Point, to: Point, label: string, style: DimensionStyle = {}): Mark {
  const offset = style.offset ?? 0;
  const along = direction(from, to);
  const beside = { x: along.y, y: -along.x };
  const [start, end] = [step(from, beside, offset), step(to, beside, offset)];
  const reach = Math.sign(offset);
  const extensions =
    offset === 0
      ? []
      : [
          line(step(from, beside, 8 * reach), step(start, beside, 8 * reach), { weight: 'hair' }),
          line(step(to, beside, 8 * reach), step(end, beside, 8 * reach), { weight: 'hair' }),
        ];
  return group([...extensions, spanArrows(start, end, along), spanLabel(start, end, beside, label, style)]);
}

function spanArrows(start: Point, end: Point, along: Point): Mark {
  const roomy = Math.hypot(end.x - start.x, end.y - start.y) >= 2.6 * ARROW_LENGTH;
  if (roomy)
    return group([line(start, end, { weight: 'hair' }), arrowhead(end, start), arrowhead(start, end)]);
  const [before, after] = [step(start, along, -2 * ARROW_LENGTH), step(end, along, 2 * ARROW_LENGTH)];
  return group([line(before, after, { weight: 'hair' }), arrowhead(before, start), arrowhead(after, end)]);
}

function spanLabel(start: Point, end: Point, beside: Point, label: string, style: DimensionStyle): Mark {
  const size = style.size ?? SMALL_SIZE;
  const middle = point((start.x + end.x) / 2, (start.y + end.y) / 2);
  const outward = ((style.offset ?? 0) < 0 ? -1 : 1) * (style.side === 'inner' ? -1 : 1);
  const look: TextStyle = { size, ...(style.backed === undefined ? {} : { backed: style.backed }) };
  if (style.label === 'beside') {
    const at = step(middle, beside, 12 * outward);
    const anchor = beside.x * outward > 0 ? 'start' : 'end';
    return textBlock(at, label, { ...look, vertical: 'middle', anchor });
  }
  const angle = uprightAngle((Math.atan2(beside.x, -beside.y) * 180) / Math.PI);
  const at = step(middle, beside, (size * 0.33 + 12) * outward);
  return text(at, label, {
    ...look,
    vertical: 'middle',
    anchor: 'middle',
    ...(Math.abs(angle) < 0.01 ? {} : { rotate: angle }),
  });
}

/** The same slope, turned so that the text is read from below or from the right. */
function uprightAngle(degrees: number): number {
  const turn = ((((degrees + 90) % 180) + 180) % 180) - 90;
  return turn > 89.99 ? turn - 180 : turn;
}

/** A thin line from a dot at `tip` to a label at `to`; the label stands on the side away from the tip. */
export function leader(
  tip: Point,
  to: Point,
  label: string,
  style: TextStyle & { readonly width?: number } = {},
): Mark {
  const rightwards = to.x >= tip.x;
  const shelf = point(to.x + (rightwards ? 16 : -16), to.y);
  const at = point(shelf.x + (rightwards ? 7 : -7), to.y);
  return group([
    polyline([tip, to, shelf], { weight: 'hair' }),
    dot(tip, 3.2),
    textBlock(at, label, {
      size: SMALL_SIZE,
      vertical: 'middle',
      anchor: rightwards ? 'start' : 'end',
      ...style,
    }),
  ]);
}

/** A filled dot: a joint between conductors. */
export function dot(at: Point, radius = 6): Mark {
  return circle(at, radius, { fill: 'ink', noLine: true });
}

/** A label in a thin frame with a little white around it; `at` is the middle of its upper edge. */
export function framedLabel(at: Point, label: string, size = SMALL_SIZE): Mark {
  const half = measureMarkedText(label, size, 'semibold') / 2 + 12;
  const height = size * 1.5;
  const corners = [
    point(at.x - half, at.y),
    point(at.x + half, at.y),
    point(at.x + half, at.y + height),
    point(at.x - half, at.y + height),
  ];
  return group([
    polygon(corners, { fill: 'white', weight: 'thin' }),
    text(point(at.x, at.y + height / 2), label, {
      anchor: 'middle',
      vertical: 'middle',
      size,
      weight: 'semibold',
    }),
  ]);
}

function direction(from: Point, to: Point): Point {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  return length === 0 ? point(1, 0) : point((to.x - from.x) / length, (to.y - from.y) / length);
}

function step(from: Point, along: Point, by: number): Point {
  return point(from.x + along.x * by, from.y + along.y * by);
}
