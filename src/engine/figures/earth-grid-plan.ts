import { dimension } from './annotations.ts';
import { circle, label, line, type Mark, move, rect } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { type Point, point } from './geometry.ts';
import { hatchedRect } from './hatch.ts';
import { NotDrawable } from './not-drawable.ts';
import { chooseScale, type Scale, sayScale, scaleBar } from './scale.ts';
import { finishDrawing, ROOM, titledView } from './sheet.ts';
import { groundLine } from './symbols.ts';

export interface EarthGridDefinition {
  /** What is shown and found, for the text alternative: whole sentences. */
  readonly title: string;
  readonly length: Measured;
  readonly width: Measured;
  /** Conductors that run along the length, and across it. */
  readonly along: number;
  readonly across: number;
  /** Distance between conductors in the direction of the length and of the width, as printed. */
  readonly spacings: readonly [string, string];
  readonly depth: Measured;
  readonly rods?: {
    readonly count: number;
    readonly length: Measured;
    readonly places: 'perimeter' | 'inside';
  };
  /** What is said of the corner mesh. */
  readonly mesh: string;
}

const GRID_ROOM = { width: 980, height: 820 } as const;
/** On paper, between plan and section. */
const BETWEEN = 60;
const ROD_RADIUS = 7;

/**
 * Plan and section of a rectangular grid with its rods, to one scale. The calculation knows the number of the rods and whether they
 * stand along the perimeter, not their places: they are drawn evenly along it from a corner, and the figure says so.
 *
 * @throws {NotDrawable} where a side is nothing, or too large for any scale
 */
export function drawEarthGrid(definition: EarthGridDefinition): string {
  const { length, width, depth, rods } = definition;
  if (!(length.length > 0 && width.length > 0 && depth.length >= 0))
    throw new NotDrawable(`no grid of ${length.length} m by ${width.length} m`);
  const below = depth.length + (rods?.length.length ?? 0);
  const scale = chooseScale({ width: length.length, height: width.length + below }, GRID_ROOM);
  const plan = titledView('Plan', drawPlan(definition, scale), undefined, ROOM);
  const section = titledView('Section', drawSection(definition, scale), undefined, ROOM);
  const drop = plan.box.bottom + BETWEEN - section.box.top;
  return finishDrawing([plan, move(section, 0, drop)], {
    label: `Plan and section, ${sayScale(scale).toLowerCase()}. ${definition.title}`,
    foot: scaleBar(scale),
  });
}

function drawPlan(definition: EarthGridDefinition, scale: Scale): readonly Mark[] {
  const { length, width, along, across, rods } = definition;
  const [wide, high] = [scale.of(length.length), scale.of(width.length)];
  const columns = spread(across, wide);
  const rows = spread(along, high);
  const places = rods === undefined ? [] : placeRods(rods, columns, rows);
  const firstMesh = { left: 0, top: 0, right: columns[1]!, bottom: rows[1]! };
  return [
    hatchedRect(firstMesh, 'rising'),
    rect({ left: 0, top: 0, right: wide, bottom: high }, { weight: 'medium' }),
    ...columns.slice(1, -1).map((x) => line(point(x, 0), point(x, high), { weight: 'thin' })),
    ...rows.slice(1, -1).map((y) => line(point(0, y), point(wide, y), { weight: 'thin' })),
    ...places.map((at) => circle(at, ROD_RADIUS, { weight: 'thin', fill: 'ink' })),
    dimension(point(0, 0), point(wide, 0), length.shown, { offset: 56 }),
    dimension(point(0, high), point(0, 0), width.shown, { offset: 56 }),
    dimension(point(wide - columns[1]!, high), point(wide, high), definition.spacings[0], {
      offset: -44,
      sides: ['below', 'right'],
    }),
    dimension(point(wide, 0), point(wide, rows[1]!), definition.spacings[1], {
      offset: 44,
      sides: ['right'],
    }),
    label(point(firstMesh.right / 2, firstMesh.bottom / 2), definition.mesh, {
      sides: ['left', 'above'],
      joined: true,
      width: 300,
    }),
    ...(rods === undefined
      ? []
      : [
          label(
            places.find(({ x, y }) => x > 0.9 * wide && y > 0.4 * high) ?? places.at(-1) ?? point(wide, high),
            sayRods(rods, places.length),
            {
              sides: ['right', 'below'],
              joined: true,
              width: 330,
            },
          ),
        ]),
  ];
}

/** What of the rods is known, and what the drawing adds. */
function sayRods({ count, length, places }: NonNullable<EarthGridDefinition['rods']>, drawn: number): string {
  const all = `${count} ${count === 1 ? 'rod' : 'rods'}, ${length.shown}`;
  if (places === 'perimeter')
    return `${all}, along the perimeter: drawn evenly, for their places are not given`;
  if (drawn === 0) return `${all}, inside the grid, not drawn: their places are not given`;
  return `${all}, inside the grid: drawn at crossings, for their places are not given`;
}

/** From one end to the other in equal steps. */
function spread(count: number, stretch: number): readonly number[] {
  return Array.from({ length: count }, (_, index) => (stretch * index) / (count - 1));
}

/** Rods along the perimeter in equal steps from the corner; inside at crossings, evenly among these. */
export function placeRods(
  { count, places }: { readonly count: number; readonly places: 'perimeter' | 'inside' },
  columns: readonly number[],
  rows: readonly number[],
): readonly Point[] {
  const [wide, high] = [columns.at(-1)!, rows.at(-1)!];
  if (places === 'perimeter') {
    const around = 2 * (wide + high);
    return Array.from({ length: count }, (_, index) => pointAround((around * index) / count, wide, high));
  }
  const inner = columns.slice(1, -1).flatMap((x) => rows.slice(1, -1).map((y) => point(x, y)));
  if (count > inner.length) return [];
  return Array.from(
    { length: count },
    (_, index) => inner[Math.floor(((index + 0.5) * inner.length) / count)]!,
  );
}

function pointAround(way: number, wide: number, high: number): Point {
  if (way <= wide) return point(way, 0);
  if (way <= wide + high) return point(wide, way - wide);
  if (way <= 2 * wide + high) return point(2 * wide + high - way, high);
  return point(0, 2 * (wide + high) - way);
}

/** The grid from its long side: its depth, and the rods that hang from the near edge. */
function drawSection(definition: EarthGridDefinition, scale: Scale): readonly Mark[] {
  const { depth, rods, across, along, width } = definition;
  const wide = scale.of(definition.length.length);
  const [ground, level] = [0, scale.of(depth.length)];
  const columns = spread(across, wide);
  const rows = spread(along, scale.of(width.length));
  const near =
    rods === undefined
      ? []
      : [...new Set(placeRods(rods, columns, rows).map(({ x }) => Math.round(x * 10) / 10))];
  const foot = level + scale.of(rods?.length.length ?? 0);
  return [
    groundLine(-60, wide + 60, ground),
    line(point(0, level), point(wide, level), { weight: 'medium' }),
    ...near.map((x) => line(point(x, level), point(x, foot), { weight: 'thin' })),
    dimension(point(wide, ground), point(wide, level), depth.shown, { offset: 50, sides: ['right'] }),
    ...(rods === undefined || near.length === 0
      ? []
      : [dimension(point(0, level), point(0, foot), rods.length.shown, { offset: -50, sides: ['left'] })]),
  ];
}
