import { dimension, dot, leader } from './annotations.ts';
import {
  arc,
  COLUMN_WIDTH,
  circle,
  finishDrawing,
  group,
  line,
  type Mark,
  move,
  SMALL_SIZE,
  text,
} from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { point } from './geometry.ts';
import { hatchedRect } from './hatch.ts';
import { groundLine } from './symbols.ts';

export interface RollingSphereDefinition {
  /** The text alternative. */
  readonly title: string;
  /** All as printed, with their symbols. */
  readonly sphere: Measured;
  readonly rod: Measured;
  readonly object?: Measured;
  /** At the height of the object. */
  readonly protectedRadius: string;
  /** Two supports of the rod's height. */
  readonly supports?: {
    readonly spacing: Measured;
    readonly penetration: string;
    readonly lowest: string;
  };
}

/** Radius of the sphere on paper. */
const RADIUS = 290;
/** Bounds of the drawn proportions: beyond them the figure would hold no labels. */
const ROD_SHARES = [0.42, 1.25] as const;
const OBJECT_SHARES = [0.25, 0.8] as const;
const SPACING_SHARES = [0.9, 1.5] as const;
const GROUND = 2 * RADIUS;
/** Room between the two sections. */
const BETWEEN = 70;

/** Sections through the sphere: against a rod on the ground, and between two supports. */
export function drawRollingSphere(definition: RollingSphereDefinition): string {
  const beside = drawBesideRod(definition);
  const sections = definition.supports === undefined ? [beside] : place(beside, drawBetween(definition));
  const bottom = Math.max(...sections.map(({ box }) => box.bottom));
  return finishDrawing(
    [
      ...sections,
      text(point(beside.box.left, bottom + 40), 'not to scale', { size: SMALL_SIZE, vertical: 'middle' }),
    ],
    { label: definition.title },
  );
}

/** On one ground beside each other where both fit into the column, else one below the other. */
function place(first: Mark, second: Mark): Mark[] {
  const width = first.box.right - first.box.left + BETWEEN + second.box.right - second.box.left;
  return width <= COLUMN_WIDTH
    ? [first, move(second, first.box.right + BETWEEN - second.box.left, 0)]
    : [first, move(second, first.box.left - second.box.left, first.box.bottom + BETWEEN - second.box.top)];
}

function share(part: number, whole: number, [least, most]: readonly [number, number]): number {
  const ratio = whole > 0 ? part / whole : most;
  return Math.min(most, Math.max(least, Number.isFinite(ratio) ? ratio : most));
}

function drawBesideRod(definition: RollingSphereDefinition): Mark {
  const { rod, sphere, object } = definition;
  const height = RADIUS * share(rod.length, sphere.length, ROD_SHARES);
  const counted = Math.min(height, RADIUS);
  const reach = Math.sqrt(counted * (2 * RADIUS - counted));
  const center = point(reach, GROUND - RADIUS);
  const objectHeight = object === undefined ? 0 : height * share(object.length, rod.length, OBJECT_SHARES);
  const objectReach = Math.min(objectHeight, RADIUS);
  const radius = Math.max(0, reach - Math.sqrt(objectReach * (2 * RADIUS - objectReach)));
  return group([
    groundLine(-190, reach + RADIUS, GROUND),
    circle(center, RADIUS, { weight: 'thin' }),
    dot(center, 5),
    line(center, point(center.x + RADIUS * Math.cos(0.6), center.y + RADIUS * Math.sin(0.6)), {
      weight: 'hair',
    }),
    text(point(center.x + 30, center.y - 20), sphere.shown, { size: SMALL_SIZE }),
    line(point(0, GROUND), point(0, GROUND - height), { weight: 'bold' }),
    dimension(point(-20, GROUND), point(-20, GROUND - height), rod.shown, {
      offset: 50,
      label: 'beside',
    }),
    ...(object === undefined ? [] : [drawObject(radius, objectHeight, object.shown)]),
    leader(
      point(Math.max(10, radius / 2), GROUND - objectHeight),
      point(Math.max(10, radius / 2) + 90, GROUND + 96),
      definition.protectedRadius,
    ),
  ]);
}

/** The object stands from the rod out to what the sphere leaves it; its height is labelled below the ground. */
function drawObject(radius: number, height: number, shown: string): Mark {
  const right = Math.max(26, radius);
  return group([
    hatchedRect({ left: 8, top: GROUND - height, right, bottom: GROUND }, 'rising'),
    line(point(0, GROUND - height), point(right, GROUND - height), { weight: 'thin' }),
    leader(point(8, GROUND - height / 2), point(-60, GROUND + 96), shown),
  ]);
}

function drawBetween(definition: RollingSphereDefinition): Mark {
  const { spacing, penetration, lowest } = definition.supports!;
  const half = (RADIUS * share(spacing.length, definition.sphere.length, SPACING_SHARES)) / 2;
  const dip = RADIUS - Math.sqrt(RADIUS ** 2 - half ** 2);
  const height = dip + 150;
  const [tip, low] = [GROUND - height, GROUND - height + dip];
  const middle = 0;
  const center = point(middle, low - RADIUS);
  return group([
    groundLine(middle - half - 130, middle + half + 130, GROUND),
    arc(center, RADIUS, 20, 160, { weight: 'thin' }),
    line(point(middle - half, tip), point(middle + half, tip), { weight: 'hair', dash: 'short' }),
    line(point(middle - half, GROUND), point(middle - half, tip), { weight: 'bold' }),
    line(point(middle + half, GROUND), point(middle + half, tip), { weight: 'bold' }),
    line(point(middle - half - 70, low), point(middle + half + 60, low), { weight: 'hair' }),
    dimension(point(middle + half + 20, low), point(middle + half + 20, tip), penetration, {
      offset: -40,
      label: 'beside',
    }),
    dimension(point(middle - half - 20, GROUND), point(middle - half - 20, low), lowest, {
      offset: 50,
      label: 'beside',
    }),
    dimension(point(middle - half, GROUND + 30), point(middle + half, GROUND + 30), spacing.shown, {
      offset: -50,
    }),
  ]);
}
