import { escapeMarkup } from '../../markup/escape-markup.ts';
import {
  type Box,
  boxAround,
  cornersOf,
  growBox,
  moveBox,
  type Point,
  point,
  type Segment,
  turnPoint,
  uniteBoxes,
} from './geometry.ts';
import { measureMarkedText, readMarkedText, wrapMarkedText } from './marked-text.ts';
import {
  ASCENT,
  CAPITAL_HEIGHT,
  DASHES,
  DESCENT,
  GREYS,
  INDEX_SHIFT,
  INDEX_SIZE,
  INK,
  LINE_SPACING,
  STROKES,
  type Style,
  TEXT_SIZE,
} from './style.ts';
import { coordinate, writeAttributes } from './svg-text.ts';
import { isTrialDrawing } from './trial-drawing.ts';

/**
 * A part of a drawing: its SVG text, the paper it takes up, its lines, and its labels: those that have a place, and those for
 * which one is found when all else is drawn (`settleLabels`). Marks are values; a drawing is made by putting marks beside each
 * other, and nothing is ever changed. They carry no ids, so that any number of figures may stand in one page, and no style
 * sheet: the page gives `fig-text` its font. Lengths in 0.1 mm on paper.
 */
export interface Mark {
  readonly svg: string;
  readonly box: Box;
  readonly labels: readonly Box[];
  /** What labels keep off: every black line, curves as short pieces. */
  readonly lines: readonly Segment[];
  readonly wanted: readonly WantedLabel[];
}

export type Side = 'right' | 'left' | 'above' | 'below';

/** A label without a place. */
export interface WantedLabel {
  /** With the markup of `readMarkedText`; a line feed breaks the line. */
  readonly words: string;
  /** What it names, at one or several of its points, the best first. */
  readonly tips: readonly Point[];
  /** On which side of a tip it stands best, in order; any side serves. */
  readonly sides: readonly Side[];
  /** It is broken where it becomes wider. */
  readonly width: number;
  /** Joined to its tip by a hairline even where it stands close. */
  readonly joined: boolean;
}

/** The empty drawing has no box: it counts as a point at the origin only where nothing else is drawn. */
export function group(marks: readonly Mark[], className?: string): Mark {
  if (isTrialDrawing()) return tryGroup(marks);
  const drawn = marks.filter((mark) => mark.svg !== '');
  const svg = drawn.map((mark) => mark.svg).join('');
  return {
    svg:
      className === undefined || svg === '' ? svg : `<g${writeAttributes({ class: className })}>${svg}</g>`,
    box: drawn.length === 0 ? NOTHING.box : uniteBoxes(drawn.map((mark) => mark.box)),
    labels: drawn.flatMap((mark) => mark.labels),
    lines: drawn.flatMap((mark) => mark.lines),
    wanted: marks.flatMap((mark) => mark.wanted),
  };
}

/** Of what is only tried, the paper that it takes up and the points of its labels. */
function tryGroup(marks: readonly Mark[]): Mark {
  const boxes: Box[] = [];
  const wanted: WantedLabel[] = [];
  for (const mark of marks) {
    if (mark.svg !== '') boxes.push(mark.box);
    for (const each of mark.wanted) wanted.push(each);
  }
  if (boxes.length === 0) return { ...NOTHING, wanted };
  return { svg: TRIED, box: uniteBoxes(boxes), labels: [], lines: [], wanted };
}

/** In place of the text of a drawing that is thrown away. */
const TRIED = '<g/>';

const NOTHING: Mark = {
  svg: '',
  box: { left: 0, top: 0, right: 0, bottom: 0 },
  labels: [],
  lines: [],
  wanted: [],
};

export function move(mark: Mark, dx: number, dy: number): Mark {
  const shift = (at: Point): Point => point(at.x + dx, at.y + dy);
  const isTrial = isTrialDrawing();
  return {
    svg:
      mark.svg === '' ? '' : `<g transform="translate(${coordinate(dx)} ${coordinate(dy)})">${mark.svg}</g>`,
    box: mark.svg === '' ? mark.box : moveBox(mark.box, dx, dy),
    labels: isTrial ? [] : mark.labels.map((label) => moveBox(label, dx, dy)),
    lines: isTrial ? [] : mark.lines.map(({ from, to }) => ({ from: shift(from), to: shift(to) })),
    wanted: mark.wanted.map((label) => ({ ...label, tips: label.tips.map(shift) })),
  };
}

/** A label for which a place is found near one of its tips, clear of all lines and of other labels. */
export function label(
  tips: Point | readonly Point[],
  words: string,
  options: Partial<Pick<WantedLabel, 'sides' | 'width' | 'joined'>> = {},
): Mark {
  if (words === '') return NOTHING;
  return {
    ...NOTHING,
    wanted: [
      {
        words,
        tips: 'x' in tips ? [tips] : tips,
        sides: options.sides ?? ['right', 'above', 'below', 'left'],
        width: options.width ?? 560,
        joined: options.joined ?? false,
      },
    ],
  };
}

export function line(from: Point, to: Point, style: Style = {}): Mark {
  return shape('line', { x1: from.x, y1: from.y, x2: to.x, y2: to.y }, [from, to], style);
}

export function polyline(points: readonly Point[], style: Style = {}): Mark {
  if (points.length < 2) return NOTHING;
  return shape('polyline', { points: listPoints(points), 'stroke-linejoin': 'round' }, points, style);
}

export function polygon(points: readonly Point[], style: Style = {}): Mark {
  if (points.length < 2) return NOTHING;
  return shape('polygon', { points: listPoints(points) }, [...points, points[0]!], style);
}

export function rect(box: Box, style: Style = {}): Mark {
  const size = { width: box.right - box.left, height: box.bottom - box.top };
  const corners = cornersOf(box);
  return shape('rect', { x: box.left, y: box.top, ...size }, [...corners, corners[0]!], style);
}

export function circle(center: Point, radius: number, style: Style = {}): Mark {
  return shape(
    'circle',
    { cx: center.x, cy: center.y, r: radius },
    pointsOfArc(center, radius, 0, 360),
    style,
  );
}

/** Degrees count from the right, clockwise as seen on paper. A whole turn is a circle. */
export function arc(center: Point, radius: number, from: number, to: number, style: Style = {}): Mark {
  const start = turnPoint(point(center.x + radius, center.y), center, from);
  const end = turnPoint(point(center.x + radius, center.y), center, to);
  const large = Math.abs(to - from) > 180 ? 1 : 0;
  const sweep = to > from ? 1 : 0;
  const d = `M${onPaper(start)}A${coordinate(radius)} ${coordinate(radius)} 0 ${large} ${sweep} ${onPaper(end)}`;
  return shape('path', { d }, pointsOfArc(center, radius, from, to), style);
}

/** Pieces so short that they lie within a tenth of a millimetre of a curve of the largest radius that fits a page. */
function pointsOfArc(center: Point, radius: number, from: number, to: number): readonly Point[] {
  const pieces = Math.min(120, Math.max(8, Math.ceil(Math.abs(to - from) / 3)));
  const start = point(center.x + radius, center.y);
  return Array.from({ length: pieces + 1 }, (_, i) =>
    turnPoint(start, center, from + ((to - from) * i) / pieces),
  );
}

/** Straight pieces as one path: one stroke for the printer. */
export function strokes(segments: readonly Segment[], style: Style = {}): Mark {
  if (segments.length === 0) return NOTHING;
  const d = segments.map(({ from, to }) => `M${onPaper(from)}L${onPaper(to)}`).join('');
  const ends = segments.flatMap(({ from, to }) => [from, to]);
  return { ...shape('path', { d }, ends, style), lines: style.grey === undefined ? segments : [] };
}

/** @throws {NotDrawable} where a coordinate is no finite number */
export function onPaper(at: Point): string {
  return `${coordinate(at.x)} ${coordinate(at.y)}`;
}

function listPoints(points: readonly Point[]): string {
  return points.map((each) => `${coordinate(each.x)},${coordinate(each.y)}`).join(' ');
}

function shape(
  element: string,
  attributes: Readonly<Record<string, string | number>>,
  course: readonly Point[],
  style: Style,
): Mark {
  const fill = style.fill ?? 'none';
  const width = style.noLine ? 0 : STROKES[style.weight ?? 'thin'];
  const look = writeAttributes({
    fill: fill === 'none' ? 'none' : fill === 'ink' ? INK : GREYS[fill],
    stroke: style.noLine ? undefined : style.grey === undefined ? INK : GREYS[style.grey],
    'stroke-width': style.noLine ? undefined : width,
    'stroke-dasharray': DASHES[style.dash ?? 'solid'],
  });
  return {
    svg: `<${element}${writeAttributes(attributes)}${look}/>`,
    box: growBox(boxAround(course), width / 2),
    labels: [],
    // Grey lines are those of a grid, on which a label with a white ground may stand; a ground has no line at all.
    lines:
      isTrialDrawing() || (style.noLine && fill !== 'ink')
        ? []
        : style.grey === undefined
          ? joinPoints(course)
          : [],
    wanted: [],
  };
}

function joinPoints(course: readonly Point[]): readonly Segment[] {
  return course.slice(1).map((to, index) => ({ from: course[index]!, to }));
}

export interface TextStyle {
  readonly anchor?: 'start' | 'middle' | 'end';
  /** What of the text lies at the given height: its foot, the middle of its capitals, their top. */
  readonly vertical?: 'baseline' | 'middle' | 'top';
  readonly weight?: 'regular' | 'semibold';
  /** Degrees, clockwise, about the given point. */
  readonly rotate?: number;
  /** A white ground behind the text, where it stands on the grey lines of a grid. */
  readonly backed?: boolean;
}

/** One line of text with the markup of `readMarkedText`. */
export function text(at: Point, content: string, style: TextStyle = {}): Mark {
  if (content === '') return NOTHING;
  const size = TEXT_SIZE;
  const weight = style.weight ?? 'regular';
  const anchor = style.anchor ?? 'start';
  const base =
    at.y +
    { baseline: 0, middle: CAPITAL_HEIGHT / 2, top: CAPITAL_HEIGHT }[style.vertical ?? 'baseline'] * size;
  const level = boxOfLine(at.x, base, measureMarkedText(content, weight), anchor);
  const box =
    style.rotate === undefined
      ? level
      : boxAround(cornersOf(level).map((corner) => turnPoint(corner, at, style.rotate ?? 0)));
  if (isTrialDrawing()) {
    judgeText(at, base, box, style);
    return { ...NOTHING, svg: TRIED, box };
  }
  const attributes = writeAttributes({
    class: 'fig-text',
    x: at.x,
    y: base,
    'font-size': size,
    'font-weight': weight === 'semibold' ? '600' : undefined,
    'text-anchor': anchor === 'start' ? undefined : anchor,
    fill: INK,
    // Blanks at the seams of runs are part of the text.
    'xml:space': readMarkedText(content).length > 1 ? 'preserve' : undefined,
    transform: style.rotate === undefined ? undefined : `rotate(${coordinate(style.rotate)} ${onPaper(at)})`,
  });
  const ground = style.backed ? rect(growBox(box, 3), { fill: 'white', noLine: true }).svg : '';
  return {
    svg: `${ground}<text${attributes}>${writeRuns(content, size)}</text>`,
    box,
    labels: [box],
    lines: [],
    wanted: [],
  };
}

/** Of what is written of a text, whether it can be. */
function judgeText(at: Point, base: number, box: Box, style: TextStyle): void {
  onPaper(point(at.x, base));
  if (style.rotate !== undefined) coordinate(style.rotate);
  if (style.backed) rect(growBox(box, 3));
}

type Anchor = NonNullable<TextStyle['anchor']>;

function boxOfLine(x: number, base: number, width: number, anchor: Anchor): Box {
  const left = x - { start: 0, middle: 0.5, end: 1 }[anchor] * width;
  return { left, top: base - ASCENT * TEXT_SIZE, right: left + width, bottom: base + DESCENT * TEXT_SIZE };
}

function writeRuns(content: string, size: number): string {
  let height = 0;
  return readMarkedText(content)
    .map((run) => {
      const shift = INDEX_SHIFT[run.level] * size;
      const look = writeAttributes({
        dy: shift === height ? undefined : shift - height,
        'font-size': run.level === 'line' ? undefined : INDEX_SIZE * size,
        'font-style': run.italic ? 'italic' : undefined,
      });
      height = shift;
      const characters = escapeMarkup(run.characters);
      return look === '' ? characters : `<tspan${look}>${characters}</tspan>`;
    })
    .join('');
}

/** Lines of text below each other, broken at `width` where one is given; `vertical` places the whole. */
export function textBlock(
  at: Point,
  content: string,
  style: TextStyle & { readonly width?: number } = {},
): Mark {
  const size = TEXT_SIZE;
  const lines = wrapMarkedText(content, style.width ?? Number.POSITIVE_INFINITY, style.weight);
  const pitch = size * LINE_SPACING;
  const rise = style.vertical === 'middle' ? ((lines.length - 1) * pitch) / 2 : 0;
  return group(lines.map((each, row) => text(point(at.x, at.y - rise + row * pitch), each, style)));
}

/** The boxes of `textBlock` for one text at many places: it is broken and measured once, and not written. */
export function textBlockBoxes(content: string, width: number): (at: Point, anchor: Anchor) => Box {
  const lines = wrapMarkedText(content, width)
    .map((line, row) => ({ isDrawn: line !== '', row, width: measureMarkedText(line) }))
    .filter(({ isDrawn }) => isDrawn);
  const pitch = TEXT_SIZE * LINE_SPACING;
  return (at, anchor) =>
    lines.length === 0
      ? NOTHING.box
      : uniteBoxes(lines.map((each) => boxOfLine(at.x, at.y + each.row * pitch, each.width, anchor)));
}
