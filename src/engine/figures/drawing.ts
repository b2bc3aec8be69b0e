import { escapeMarkup } from '../../markup/escape-markup.ts';
import {
  type Box,
  boxAround,
  cornersOf,
  growBox,
  moveBox,
  type Point,
  point,
  turnPoint,
  uniteBoxes,
} from './geometry.ts';
import {
  INDEX_SHIFT,
  INDEX_SIZE,
  measureMarkedText,
  plainText,
  readMarkedText,
  wrapMarkedText,
} from './marked-text.ts';
import { coordinate, writeAttributes } from './svg-text.ts';

/**
 * A part of a drawing: its SVG text, the paper it takes up, and the boxes of its labels. Marks are values; a drawing is
 * made by putting marks beside each other, and nothing is ever changed. They carry no ids, so that any number of
 * figures may stand in one page, and no style sheet: the page gives `fig-text` its font.
 *
 * Unit of length: 0.1 mm on paper; the column of the note is 1600 wide.
 */
export interface Mark {
  readonly svg: string;
  readonly box: Box;
  readonly labels: readonly Box[];
}

/** Width of the text column of a note. */
export const COLUMN_WIDTH = 1600;
/** 8.5 pt; the least size of a line of text is 7 pt (24.7). */
const TEXT_SIZE = 30;
/** 7.4 pt. */
export const SMALL_SIZE = 26;
export const LINE_SPACING = 1.25;
/** Height of capitals, of the type size. */
const CAPITAL_HEIGHT = 0.66;
const DESCENT = 0.24;

export const INK = '#000';
const GREYS = { dark: '#8c8c8c', middle: '#bdbdbd', light: '#e4e4e4', white: '#fff' } as const;
export type Fill = keyof typeof GREYS | 'ink' | 'none';

/** 0.13 mm, 0.18 mm, 0.35 mm, 0.5 mm and 0.8 mm. */
export const STROKES = { hair: 1.3, thin: 1.8, medium: 3.5, strong: 5, bold: 8 } as const;
export type Weight = keyof typeof STROKES;

export const DASHES = {
  solid: undefined,
  dashed: '16 9',
  short: '8 6',
  dotted: '2.5 6.5',
  chain: '26 7 3 7',
  'double-chain': '26 7 3 7 3 7',
  long: '34 10',
} as const;
export type Dash = keyof typeof DASHES;

export interface Style {
  readonly weight?: Weight;
  readonly dash?: Dash;
  readonly fill?: Fill;
  /** Draws the outline grey instead of black. */
  readonly grey?: 'dark' | 'middle';
  /** Draws no outline. */
  readonly noLine?: boolean;
}

/** The empty drawing has no box: it counts as a point at the origin only where nothing else is drawn. */
export function group(marks: readonly Mark[], className?: string): Mark {
  const drawn = marks.filter((mark) => mark.svg !== '');
  if (drawn.length === 0) return NOTHING;
  const svg = drawn.map((mark) => mark.svg).join('');
  return {
    svg: className === undefined ? svg : `<g${writeAttributes({ class: className })}>${svg}</g>`,
    box: uniteBoxes(drawn.map((mark) => mark.box)),
    labels: drawn.flatMap((mark) => mark.labels),
  };
}

const NOTHING: Mark = { svg: '', box: { left: 0, top: 0, right: 0, bottom: 0 }, labels: [] };

export function move(mark: Mark, dx: number, dy: number): Mark {
  if (mark.svg === '') return mark;
  return {
    svg: `<g transform="translate(${coordinate(dx)} ${coordinate(dy)})">${mark.svg}</g>`,
    box: moveBox(mark.box, dx, dy),
    labels: mark.labels.map((label) => moveBox(label, dx, dy)),
  };
}

export function line(from: Point, to: Point, style: Style = {}): Mark {
  return shape('line', { x1: from.x, y1: from.y, x2: to.x, y2: to.y }, boxAround([from, to]), style);
}

export function polyline(points: readonly Point[], style: Style = {}): Mark {
  if (points.length < 2) return NOTHING;
  return shape(
    'polyline',
    { points: listPoints(points), 'stroke-linejoin': 'round' },
    boxAround(points),
    style,
  );
}

export function polygon(points: readonly Point[], style: Style = {}): Mark {
  if (points.length < 2) return NOTHING;
  return shape('polygon', { points: listPoints(points) }, boxAround(points), style);
}

export function rect(box: Box, style: Style = {}): Mark {
  const size = { width: box.right - box.left, height: box.bottom - box.top };
  return shape('rect', { x: box.left, y: box.top, ...size }, box, style);
}

export function circle(center: Point, radius: number, style: Style = {}): Mark {
  return shape('circle', { cx: center.x, cy: center.y, r: radius }, boxAround([center], radius), style);
}

/** Degrees count from the right, clockwise as seen on paper. A whole turn is a circle. */
export function arc(center: Point, radius: number, from: number, to: number, style: Style = {}): Mark {
  const start = turnPoint(point(center.x + radius, center.y), center, from);
  const end = turnPoint(point(center.x + radius, center.y), center, to);
  const large = Math.abs(to - from) > 180 ? 1 : 0;
  const sweep = to > from ? 1 : 0;
  const d = `M${onPaper(start)}A${coordinate(radius)} ${coordinate(radius)} 0 ${large} ${sweep} ${onPaper(end)}`;
  // The ends, and whatever lies farthest left, right, up and down on the way between them.
  const [least, most] = [Math.min(from, to), Math.max(from, to)];
  const quarters = [-360, -270, -180, -90, 0, 90, 180, 270, 360].filter((at) => at > least && at < most);
  const turned = quarters.map((at) => turnPoint(point(center.x + radius, center.y), center, at));
  return shape('path', { d }, boxAround([start, end, ...turned]), style);
}

/** Path data in coordinates of 0.1 mm; `corners` are points that enclose it. */
export function path(d: string, corners: readonly Point[], style: Style = {}): Mark {
  return shape('path', { d, 'stroke-linejoin': 'round' }, boxAround(corners), style);
}

export function onPaper(at: Point): string {
  return `${coordinate(at.x)} ${coordinate(at.y)}`;
}

function listPoints(points: readonly Point[]): string {
  return points.map((each) => `${coordinate(each.x)},${coordinate(each.y)}`).join(' ');
}

function shape(
  element: string,
  attributes: Readonly<Record<string, string | number>>,
  box: Box,
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
    box: growBox(box, width / 2),
    labels: [],
  };
}

export interface TextStyle {
  readonly anchor?: 'start' | 'middle' | 'end';
  /** What of the text lies at the given height: its foot, the middle of its capitals, their top. */
  readonly vertical?: 'baseline' | 'middle' | 'top';
  readonly size?: number;
  readonly weight?: 'regular' | 'semibold';
  /** Degrees, clockwise, about the given point. */
  readonly rotate?: number;
  /** A white ground behind the text, where it crosses a line. */
  readonly backed?: boolean;
}

/** One line of text with the markup of `readMarkedText`. */
export function text(at: Point, content: string, style: TextStyle = {}): Mark {
  if (content === '') return NOTHING;
  const size = style.size ?? TEXT_SIZE;
  const weight = style.weight ?? 'regular';
  const anchor = style.anchor ?? 'start';
  const width = measureMarkedText(content, size, weight);
  const base =
    at.y +
    { baseline: 0, middle: CAPITAL_HEIGHT / 2, top: CAPITAL_HEIGHT }[style.vertical ?? 'baseline'] * size;
  const left = at.x - { start: 0, middle: 0.5, end: 1 }[anchor] * width;
  const level = { left, top: base - 0.72 * size, right: left + width, bottom: base + DESCENT * size };
  const box =
    style.rotate === undefined
      ? level
      : boxAround(cornersOf(level).map((corner) => turnPoint(corner, at, style.rotate ?? 0)));
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
  return { svg: `${ground}<text${attributes}>${writeRuns(content, size)}</text>`, box, labels: [box] };
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
  const size = style.size ?? TEXT_SIZE;
  const lines = wrapMarkedText(content, style.width ?? Number.POSITIVE_INFINITY, size, style.weight);
  const pitch = size * LINE_SPACING;
  const rise = style.vertical === 'middle' ? ((lines.length - 1) * pitch) / 2 : 0;
  return group(lines.map((each, row) => text(point(at.x, at.y - rise + row * pitch), each, style)));
}

export interface SheetOptions {
  /** What the figure shows, in a sentence: the text alternative. May carry markup. */
  readonly label: string;
  /** White around the drawing. */
  readonly margin?: number;
  /** The drawing takes up at least this width and stands in its middle. */
  readonly width?: number;
}

/**
 * The finished `<svg>`, cropped to what is drawn. Where it is wider than the column it is scaled down as a whole, so
 * that nothing is ever cut off; the figures of this folder keep within the column for labels of ordinary length.
 */
export function finishDrawing(marks: readonly Mark[], options: SheetOptions): string {
  const whole = group(marks);
  const drawn = growBox(whole.box, options.margin ?? 10);
  const spare = Math.max(0, (options.width ?? 0) - (drawn.right - drawn.left)) / 2;
  const [left, width] = [drawn.left - spare, drawn.right - drawn.left + 2 * spare];
  const height = drawn.bottom - drawn.top;
  const scale = Math.min(1, COLUMN_WIDTH / width) / 10;
  const attributes = writeAttributes({
    xmlns: 'http://www.w3.org/2000/svg',
    class: 'fig',
    viewBox: [left, drawn.top, width, height].map(coordinate).join(' '),
    width: `${coordinate(width * scale)}mm`,
    height: `${coordinate(height * scale)}mm`,
    role: 'img',
    'aria-label': plainText(options.label),
  });
  return `<svg${attributes}>${whole.svg}</svg>`;
}
