import type { FigureView } from '../../definition/figure-view.ts';
import { dimension } from '../../figures/annotations.ts';
import { circle, label, line, type Mark, rect, text } from '../../figures/drawing.ts';
import { point } from '../../figures/geometry.ts';
import { drawRodsInLine } from '../../figures/rods-in-line.ts';
import { chooseScale, type Scale, sayScale, scaleBar } from '../../figures/scale.ts';
import { finishDrawing } from '../../figures/sheet.ts';
import { groundLine } from '../../figures/symbols.ts';

const ROOM = { width: 1000, height: 560 } as const;
/** What leads to the electrode from above: its height has no meaning. */
const LEAD = 60;

/** The electrode in the soil to its own measures. */
export function drawEarthElectrode(view: FigureView): string {
  switch (view.choice('kind')) {
    case 'plate':
      return drawPlate(view);
    case 'ring':
      return drawRing(view);
    case 'grid':
      return drawGridOfUnknownShape(view);
    case 'strip':
      return drawStrip(view);
    default:
      return drawRods(view);
  }
}

/** Resistivity and resistance, for the end of an alternative text. */
function sayResult(view: FigureView): string {
  return `In soil of ${view.shown('resistivity')} its resistance is ${view.shown('resistance')}.`;
}

function resultWords(view: FigureView): string {
  return `*ρ* = ${view.shown('resistivity')}\n*R* = ${view.shown('resistance')}`;
}

function measured(view: FigureView, name: string, symbol: string) {
  return { length: view.number(name), shown: `*${symbol}* = ${view.shown(name)}` };
}

function drawRods(view: FigureView): string {
  const several = view.choice('kind') === 'rods-in-line';
  const kind = view.choice('kind') === 'pipe' ? 'Pipe' : 'Rod';
  const what = several
    ? `${view.number('count')} rods in a line, each ${view.shown('length')} long and ${view.shown('diameter')} thick, ${view.shown('spacing')} apart.`
    : `${kind} driven ${view.shown('length')} deep, ${view.shown('diameter')} thick.`;
  return drawRodsInLine({
    title: `${what} ${sayResult(view)}`,
    count: several ? view.number('count') : 1,
    length: measured(view, 'length', 'L'),
    diameter: `*d* = ${view.shown('diameter')}`,
    ...(several ? { spacing: measured(view, 'spacing', 's') } : {}),
    resistivity: `*ρ* = ${view.shown('resistivity')}`,
    resistance: `*R* = ${view.shown('resistance')}`,
  });
}

function finish(
  view: FigureView,
  kind: 'Section' | 'Plan',
  scale: Scale,
  marks: readonly Mark[],
  title: string,
) {
  return finishDrawing(marks, {
    label: `${kind}, ${sayScale(scale).toLowerCase()}. ${title} ${sayResult(view)}`,
    foot: scaleBar(scale),
  });
}

function sayDepth(view: FigureView): string {
  return view.has('depth') ? `, ${view.shown('depth')} deep` : '';
}

function depthMark(view: FigureView, x: number, y: number): readonly Mark[] {
  if (!view.has('depth')) return [];
  return [dimension(point(x, 0), point(x, y), `*h* = ${view.shown('depth')}`, { offset: -60 })];
}

/** A strip or round conductor, seen from its side. */
function drawStrip(view: FigureView): string {
  const length = view.number('length');
  const depth = view.optionalNumber('depth') ?? 0;
  const scale = chooseScale({ width: length, height: depth }, ROOM);
  const [right, level] = [scale.of(length), scale.of(depth)];
  const flat = view.choice('cross_section') !== 'round';
  const across = flat ? `*w* = ${view.shown('width')}` : `*d* = ${view.shown('diameter')}`;
  return finish(
    view,
    'Section',
    scale,
    [
      groundLine(-60, right + 60, 0),
      line(point(0, level), point(right, level), { weight: 'bold' }),
      line(point(0, level), point(0, -LEAD), { weight: 'medium' }),
      ...depthMark(view, 0, level),
      dimension(point(0, level), point(right, level), `*L* = ${view.shown('length')}`, { offset: -70 }),
      label(point(right, level), across, { joined: true }),
      label(point(right * 0.75, level + 70), resultWords(view), { sides: ['below'] }),
    ],
    `${flat ? 'Strip' : 'Round conductor'} of ${view.shown('length')}${sayDepth(view)}.`,
  );
}

/** A vertical plate shows its face, a horizontal one its edge. */
function drawPlate(view: FigureView): string {
  const level = view.has('orientation') && view.choice('orientation') === 'horizontal';
  const [length, width] = [view.number('length'), view.number('width')];
  const depth = view.optionalNumber('depth') ?? width / 2;
  const scale = chooseScale({ width: length, height: level ? depth : depth + width / 2 }, ROOM);
  const [half, middle] = [scale.of(length) / 2, scale.of(depth)];
  const rise = level ? 0 : scale.of(width) / 2;
  const box = { left: -half, right: half, top: middle - rise, bottom: middle + rise };
  const lengthMark = dimension(
    point(-half, box.bottom),
    point(half, box.bottom),
    `*L* = ${view.shown('length')}`,
    {
      offset: -60,
    },
  );
  return finish(
    view,
    'Section',
    scale,
    [
      groundLine(-half - 160, half + 160, 0),
      level
        ? line(point(-half, middle), point(half, middle), { weight: 'bold' })
        : rect(box, { weight: 'medium', fill: 'light' }),
      line(point(0, box.top), point(0, -LEAD), { weight: 'medium' }),
      ...depthMark(view, -half, middle),
      lengthMark,
      level
        ? label(point(half, middle), `*w* = ${view.shown('width')}`, { joined: true })
        : dimension(point(half, box.top), point(half, box.bottom), `*w* = ${view.shown('width')}`, {
            offset: 60,
          }),
      label(point(half + 60, middle), resultWords(view)),
    ],
    `${level ? 'Horizontal' : 'Vertical'} plate of ${view.shown('length')} by ${view.shown('width')}${sayDepth(view)}.`,
  );
}

function drawRing(view: FigureView): string {
  const across = view.number('ring_diameter');
  const scale = chooseScale({ width: across, height: across }, { width: 620, height: 620 });
  const radius = scale.of(across) / 2;
  const onRing = (degrees: number) => {
    const angle = (degrees * Math.PI) / 180;
    return point(radius * Math.cos(angle), radius * Math.sin(angle));
  };
  return finish(
    view,
    'Plan',
    scale,
    [
      circle(point(0, 0), radius, { weight: 'strong' }),
      dimension(point(-radius, 0), point(radius, 0), `*D* = ${view.shown('ring_diameter')}`),
      label(
        onRing(-40),
        `*d* = ${view.shown('diameter')}${view.has('depth') ? `, *h* = ${view.shown('depth')} deep` : ''}`,
        { joined: true },
      ),
      label(point(radius + 40, radius * 0.3), resultWords(view)),
    ],
    `Ring of ${view.shown('ring_diameter')} of conductor ${view.shown('diameter')} thick${sayDepth(view)}.`,
  );
}

const GRID = { left: 0, right: 520, top: 0, bottom: 360 } as const;

/** Of this grid only area and length of conductor are known: a plan of no shape in particular. */
function drawGridOfUnknownShape(view: FigureView): string {
  const inner = [1, 2, 3].flatMap((i) => {
    const x = (GRID.right * i) / 4;
    const y = (GRID.bottom * i) / 4;
    return [
      line(point(x, GRID.top), point(x, GRID.bottom), { weight: 'thin' }),
      line(point(GRID.left, y), point(GRID.right, y), { weight: 'thin' }),
    ];
  });
  const depth = view.has('depth') ? `, *h* = ${view.shown('depth')} deep` : '';
  return finishDrawing(
    [
      rect(GRID, { weight: 'medium' }),
      ...inner,
      label(
        point(GRID.right, 60),
        `grid of *A* = ${view.shown('area')} with *L*_{T} = ${view.shown('total_length')} of conductor${depth}`,
        { joined: true, width: 600 },
      ),
      label(point(GRID.right, 240), resultWords(view)),
    ],
    {
      label: `Plan of a grid, not to scale, since its shape is not given: ${view.shown('area')} with ${view.shown('total_length')} of conductor. ${sayResult(view)}`,
      foot: text(point(0, 0), 'not to scale: the shape of the grid is not given'),
    },
  );
}
