import type { FigureView } from '../../definition/figure-view.ts';
import { dimension, leader } from '../../figures/annotations.ts';
import { circle, finishDrawing, line, type Mark, rect, SMALL_SIZE, text } from '../../figures/drawing.ts';
import { point } from '../../figures/geometry.ts';
import { drawRodsInLine } from '../../figures/rods-in-line.ts';
import { groundLine } from '../../figures/symbols.ts';

/** The electrode in the soil, with its measures as printed. */
export function drawEarthElectrode(view: FigureView): string {
  const kind = view.choice('kind');
  if (kind === 'rod' || kind === 'pipe' || kind === 'rods-in-line') return drawRods(view);
  const body = kind === 'plate' ? plate(view) : kind === 'ring' ? ring(view) : buriedBar(view);
  return finishDrawing(
    [
      groundLine(-60, SOIL_WIDTH, 0),
      ...body,
      text(point(SOIL_WIDTH - 20, 60), `*ρ* = ${view.shown('resistivity')}`, {
        size: SMALL_SIZE,
        anchor: 'end',
      }),
      text(point(SOIL_WIDTH - 20, 100), `*R* = ${view.shown('resistance')}`, {
        size: SMALL_SIZE,
        anchor: 'end',
      }),
    ],
    { label: `Electrode in the soil: ${kind}, ${view.shown('resistance')}` },
  );
}

const SOIL_WIDTH = 1300;
/** Buried things lie here on paper; the sketch is not to scale. */
const [LEFT, RIGHT, LEVEL] = [180, 900, 220];

function drawRods(view: FigureView): string {
  const several = view.choice('kind') === 'rods-in-line';
  const measured = (name: string, symbol: string) => ({
    length: view.number(name),
    shown: `*${symbol}* = ${view.shown(name)}`,
  });
  return drawRodsInLine({
    title: `Electrode in the soil: ${several ? `${view.number('count')} rods in a line` : view.choice('kind')}`,
    count: several ? view.number('count') : 1,
    length: measured('length', 'L'),
    diameter: measured('diameter', 'd'),
    ...(several ? { spacing: measured('spacing', 's') } : {}),
    resistivity: `*ρ* = ${view.shown('resistivity')}`,
    resistance: `*R* = ${view.shown('resistance')}`,
  });
}

function depthMark(view: FigureView, x: number, y: number): Mark[] {
  if (!view.has('depth')) return [];
  return [
    dimension(point(x, 0), point(x, y), `*h* = ${view.shown('depth')}`, { offset: -70, label: 'beside' }),
  ];
}

/** A strip seen from its side, or a grid in section: bars across the sheet show as dots. */
function buriedBar(view: FigureView): readonly Mark[] {
  const isGrid = view.choice('kind') === 'grid';
  const bar = line(point(LEFT, LEVEL), point(RIGHT, LEVEL), { weight: 'bold' });
  if (!isGrid) {
    const section = view.choice('cross_section') === 'round' ? 'diameter' : 'width';
    const symbol = section === 'width' ? 'w' : 'd';
    return [
      bar,
      line(point(LEFT, LEVEL), point(LEFT, -50), { weight: 'medium' }),
      ...depthMark(view, LEFT, LEVEL),
      dimension(point(LEFT, LEVEL), point(RIGHT, LEVEL), `*L* = ${view.shown('length')}`, { offset: -60 }),
      leader(point(RIGHT - 40, LEVEL), point(RIGHT + 50, LEVEL - 50), `*${symbol}* = ${view.shown(section)}`),
    ];
  }
  const bars = Array.from({ length: 7 }, (_, i) =>
    circle(point(LEFT + (i * (RIGHT - LEFT)) / 6, LEVEL), 9, { fill: 'ink' }),
  );
  return [
    bar,
    ...bars,
    line(point(LEFT, LEVEL), point(LEFT, -50), { weight: 'medium' }),
    ...depthMark(view, LEFT, LEVEL),
    text(point((LEFT + RIGHT) / 2, LEVEL + 60), gridWords(view), { size: SMALL_SIZE, anchor: 'middle' }),
  ];
}

function gridWords(view: FigureView): string {
  return `grid of *A* = ${view.shown('area')} with *L*_{T} = ${view.shown('total_length')} of conductor`;
}

function plate(view: FigureView): readonly Mark[] {
  const level = view.has('orientation') && view.choice('orientation') === 'horizontal';
  const [length, width] = [view.number('length'), view.number('width')];
  const middle = point(520, 300);
  const upright = { half: 150, height: 300 * Math.min(1.4, Math.max(0.4, width / length)) };
  const box = level
    ? { left: middle.x - 200, right: middle.x + 200, top: middle.y - 6, bottom: middle.y + 6 }
    : {
        left: middle.x - upright.half,
        right: middle.x + upright.half,
        top: middle.y - upright.height / 2,
        bottom: middle.y + upright.height / 2,
      };
  const foot = point(box.left, box.bottom);
  return [
    rect(box, { weight: 'medium', fill: 'light' }),
    line(point(middle.x, box.top), point(middle.x, -50), { weight: 'medium' }),
    ...depthMark(view, box.left, middle.y),
    dimension(foot, point(box.right, box.bottom), `*L* = ${view.shown('length')}`, { offset: -60 }),
    ...(level
      ? [
          leader(
            point(box.right - 20, middle.y),
            point(box.right + 60, middle.y - 50),
            `*w* = ${view.shown('width')}`,
          ),
        ]
      : [
          dimension(point(box.right, box.top), point(box.right, box.bottom), `*w* = ${view.shown('width')}`, {
            offset: 60,
            label: 'beside',
          }),
        ]),
  ];
}

/** A ring in section: two cuts through its conductor. */
function ring(view: FigureView): readonly Mark[] {
  const cut = (x: number) => circle(point(x, LEVEL), 12, { fill: 'ink' });
  return [
    line(point(LEFT, LEVEL), point(RIGHT, LEVEL), { dash: 'dashed' }),
    cut(LEFT),
    cut(RIGHT),
    line(point(LEFT, LEVEL), point(LEFT, -50), { weight: 'medium' }),
    ...depthMark(view, LEFT, LEVEL),
    dimension(point(LEFT, LEVEL), point(RIGHT, LEVEL), `*D* = ${view.shown('ring_diameter')}`, {
      offset: -60,
    }),
    leader(point(RIGHT, LEVEL), point(RIGHT + 60, LEVEL - 60), `*d* = ${view.shown('diameter')}`),
  ];
}
