import { arrow, dimension } from './annotations.ts';
import { arc, finishDrawing, group, type Mark, SMALL_SIZE, text } from './drawing.ts';
import { type Point, point } from './geometry.ts';
import { conductor } from './symbols.ts';

export interface ParallelForceDefinition {
  /** The text alternative. */
  readonly title: string;
  /** All as printed, with their symbols. */
  readonly currents: readonly [string, string];
  readonly spacing: string;
  readonly length: string;
  readonly force: string;
  readonly sameDirection: boolean;
}

const LEFT = 200;
const RIGHT = 1300;
const APART = 260;

/** Two parallel conductors with their currents and the force on each: towards each other or apart. */
export function drawParallelForce(definition: ParallelForceDefinition): string {
  const { currents, sameDirection } = definition;
  const middle = (LEFT + RIGHT) / 2;
  const force = (y: number, inward: 1 | -1): Mark => {
    const way = sameDirection ? inward : -inward;
    const start = way === inward ? y + 12 * inward : y - 12 * inward;
    return group([-220, 0, 220].map((dx) => forceArrow(point(middle + dx, start), way)));
  };
  return finishDrawing(
    [
      conductor([point(LEFT, 0), point(RIGHT, 0)], 'counted'),
      conductor([point(LEFT, APART), point(RIGHT, APART)], 'counted'),
      arrow(point(LEFT - 150, 0), point(LEFT - 30, 0), 'medium'),
      sameDirection
        ? arrow(point(LEFT - 150, APART), point(LEFT - 30, APART), 'medium')
        : arrow(point(LEFT - 30, APART), point(LEFT - 150, APART), 'medium'),
      text(point(LEFT - 40, -40), currents[0], { size: SMALL_SIZE, anchor: 'end' }),
      text(point(LEFT - 40, APART + 60), currents[1], { size: SMALL_SIZE, anchor: 'end' }),
      force(0, 1),
      force(APART, -1),
      dimension(point(LEFT, -20), point(RIGHT, -20), definition.length, { offset: 130 }),
      dimension(point(RIGHT + 20, 0), point(RIGHT + 20, APART), definition.spacing, {
        offset: 50,
        label: 'beside',
      }),
      text(point(middle, APART + 160), definition.force, {
        size: SMALL_SIZE,
        anchor: 'middle',
      }),
      text(point(RIGHT, APART + 160), 'not to scale', { size: SMALL_SIZE, anchor: 'end' }),
    ],
    { label: definition.title },
  );
}

function forceArrow(from: Point, way: number): Mark {
  return arrow(from, point(from.x, from.y + way * 84), 'thin');
}

export interface BendForceDefinition {
  /** The text alternative. */
  readonly title: string;
  /** Angle between the arms in degrees, from 0 to 180. */
  readonly angle: number;
  /** All as printed, with their symbols. */
  readonly shownAngle: string;
  readonly current: string;
  readonly armLength: string;
  readonly force: string;
  readonly moment: string;
}

const ARM = 620;
const CORNER = point(0, 0);
/** Where force arrows stand on the arm, as shares of it; their lengths fall as one over the distance. */
const FORCE_PLACES = [0.1, 0.16, 0.26, 0.42, 0.66, 1] as const;

/** A bend: two arms at their angle, and the force along the level one, which tends to straighten it. */
export function drawBendForce(definition: BendForceDefinition): string {
  const turn = (definition.angle * Math.PI) / 180;
  const other = point(ARM * Math.cos(turn), -ARM * Math.sin(turn));
  const level = point(ARM, 0);
  const forces = FORCE_PLACES.map((share) => {
    const length = Math.min(190, 26 + 16 / share);
    return arrow(point(share * ARM, 12), point(share * ARM, 12 + length), 'thin');
  });
  const right = Math.max(ARM, other.x) + 60;
  return finishDrawing(
    [
      conductor([other, CORNER, level], 'counted'),
      arc(CORNER, 90, 0, -definition.angle, { weight: 'hair' }),
      ...forces,
      dimension(point(0, 230), point(ARM, 230), definition.armLength, { offset: -30 }),
      ...[definition.current, definition.shownAngle, definition.force, definition.moment, 'not to scale'].map(
        (words, row) => text(point(right, -150 + row * 60), words, { size: SMALL_SIZE, vertical: 'middle' }),
      ),
    ],
    { label: definition.title },
  );
}
