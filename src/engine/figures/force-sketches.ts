import { arrow, dimension } from './annotations.ts';
import { arc, circle, group, label, line, type Mark, text } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { type Point, point } from './geometry.ts';
import { dot } from './joints.ts';
import { NotDrawable } from './not-drawable.ts';
import { chooseScale, sayScale, scaleBar } from './scale.ts';
import { arrangeViews, finishDrawing, titledView } from './sheet.ts';
import { conductor } from './symbols.ts';

/** A scale of forces per length: so many newtons per metre to a millimetre of arrow. */
export interface ForceScale {
  readonly perMillimetre: number;
  /** '1 mm = 200 N/m'. */
  readonly name: string;
  /** Length of an arrow on paper. */
  of(force: number): number;
}

/** Of a bend: its force falls steeply, and the small arrows must still be seen. */
const LONGEST_AT_BEND = 420;
const LONGEST_ARROW = 260;

/**
 * The scale at which the largest force has an arrow no longer than asked, in steps of 1, 2 and 5.
 *
 * @throws {NotDrawable} where there is no force, or it is no number
 */
export function chooseForceScale(largest: number, longest: number): ForceScale {
  const least = (10 * largest) / longest;
  if (!(least > 1e-12 && least < 1e18)) throw new NotDrawable(`no arrow for a force of ${largest} N/m`);
  const decade = 10 ** Math.floor(Math.log10(least));
  const perMillimetre = [1, 2, 5, 10].find((step) => step * decade >= least * 0.9999)! * decade;
  return {
    perMillimetre,
    name: `1 mm = ${writeForce(perMillimetre)}`,
    of: (force) => (force / perMillimetre) * 10,
  };
}

/** An arrow of a round length with the force that it stands for, and the scale of all arrows. */
function forceKey(forces: ForceScale, y: number): Mark {
  const force = 10 * forces.perMillimetre;
  const length = forces.of(force);
  return group([
    text(point(0, y), 'force on each 1 m:', { vertical: 'middle' }),
    arrow(point(280, y), point(280 + length, y)),
    text(point(296 + length, y), writeForce(force), { vertical: 'middle' }),
    group([text(point(480 + length, y), `(${forces.name})`, { vertical: 'middle' })], 'fig-ratio'),
  ]);
}

function writeForce(size: number): string {
  const [unit, prefix] = size >= 1000 ? [1000, 'k'] : size < 0.01 ? [0.001, 'm'] : [1, ''];
  return `${Number((size / unit).toPrecision(3))} ${prefix}N/m`;
}

export interface ParallelForceDefinition {
  /** What is shown and found, for the text alternative: whole sentences. */
  readonly title: string;
  /** All as printed, with their symbols. */
  readonly currents: readonly [string, string];
  readonly spacing: Measured;
  readonly length: Measured;
  /** Over the length, as printed. */
  readonly force: string;
  /** On each metre; `size` in N/m. */
  readonly perLength: { readonly size: number; readonly shown: string };
  readonly sameDirection: boolean;
}

/** Below this distance on paper two conductors cannot be told apart with arrows between them. */
const LEAST_APART = 60;

/**
 * Two parallel conductors across and along their course, each view to its scale, with the force on each metre as arrows to one
 * scale: towards each other or apart.
 */
export function drawParallelForce(definition: ParallelForceDefinition): string {
  const { spacing, length, perLength } = definition;
  if (!(spacing.length > 0 && length.length > 0)) throw new NotDrawable('no conductors side by side');
  const forces = chooseForceScale(perLength.size, LONGEST_ARROW);
  const section = chooseScale({ width: spacing.length, height: 0 }, { width: 420, height: 1 });
  const course = chooseScale({ width: length.length, height: spacing.length }, { width: 640, height: 300 });
  const views = [
    titledView(
      'Across',
      crossSection(definition, section.of(spacing.length), forces),
      scaleBar(section),
      780,
    ),
    titledView(
      'Along',
      alongside(definition, course.of(length.length), course.of(spacing.length)),
      scaleBar(course),
      760,
    ),
  ];
  return finishDrawing([arrangeViews(views)], {
    label: `Section, ${sayScale(section).toLowerCase()}, and course, ${sayScale(course).toLowerCase()}; arrows of force, ${forces.name}. ${definition.title}`,
    foot: forceKey(forces, 0),
  });
}

function crossSection(definition: ParallelForceDefinition, apart: number, forces: ForceScale): Mark[] {
  const { sameDirection, perLength, currents, spacing } = definition;
  const [left, right] = [point(0, 0), point(apart, 0)];
  const size = forces.of(perLength.size);
  const inward = sameDirection ? 1 : -1;
  // Arrows of conductors that attract each other stand below each other, for both may be longer than the spacing.
  const pull = (from: Point, way: number, drop: number): Mark =>
    group([
      ...(drop === 0
        ? []
        : [line(point(from.x, 14), point(from.x, drop + 14), { weight: 'hair', dash: 'short' })]),
      arrow(point(from.x + way * 2, drop), point(from.x + way * (2 + size), drop), 'medium'),
    ]);
  const drops = sameDirection ? [70, 120] : [70, 70];
  return [
    currentInSection(left, true),
    currentInSection(right, sameDirection),
    dimension(left, right, spacing.shown, { offset: 60 }),
    label(left, currents[0], { sides: ['left', 'below'], joined: true }),
    label(right, currents[1], { sides: ['right', 'below'], joined: true }),
    pull(left, inward, drops[0]!),
    pull(right, -inward, drops[1]!),
    label(point(right.x - (inward * size) / 2, drops[1]!), perLength.shown, { sides: ['below', 'above'] }),
  ];
}

/** A current that flows into the sheet (a cross) or out of it (a dot). */
function currentInSection(at: Point, into: boolean): Mark {
  const reach = 7;
  return group([
    circle(at, 12, { weight: 'medium', fill: 'white' }),
    ...(into
      ? [
          line(point(at.x - reach, at.y - reach), point(at.x + reach, at.y + reach), { weight: 'thin' }),
          line(point(at.x - reach, at.y + reach), point(at.x + reach, at.y - reach), { weight: 'thin' }),
        ]
      : [dot(at, 4)]),
  ]);
}

function alongside(definition: ParallelForceDefinition, long: number, apart: number): Mark[] {
  const { sameDirection, length, force } = definition;
  const two = apart >= LEAST_APART / 6;
  const flow = (y: number, forward: boolean): Mark => {
    const [from, to] = [point(-110, y), point(-24, y)];
    return forward ? arrow(from, to) : arrow(to, from);
  };
  return [
    line(point(0, 0), point(long, 0), { weight: 'medium' }),
    ...(two ? [line(point(0, apart), point(long, apart), { weight: 'medium' })] : []),
    ...(apart >= LEAST_APART ? [flow(0, true), flow(apart, sameDirection)] : []),
    dimension(point(0, 0), point(long, 0), length.shown, { offset: 60 }),
    label(
      point(long / 2, two ? apart : 0),
      two ? force : `${force}\n(at this scale the two conductors are one line)`,
      { sides: ['below'], width: 600 },
    ),
  ];
}

export interface BendForceDefinition {
  /** What is shown and found, for the text alternative: whole sentences. */
  readonly title: string;
  /** Angle between the arms in degrees, from 0 to 180. */
  readonly angle: number;
  /** All as printed, with their symbols. */
  readonly shownAngle: string;
  readonly current: string;
  readonly armLength: Measured;
  readonly force: string;
  readonly moment: string;
  /** Force per length across the level arm at distances from the corner: in m and N/m, with the words beside the arrow. */
  readonly perLength: readonly ForceAt[];
}

interface ForceAt {
  readonly at: number;
  readonly size: number;
  readonly shown: string;
}

/** So many arrows have their values beside them; of more, those that stand at least this share of the arm apart. */
const MOST_WORDED = 8;

function withWords(forces: readonly ForceAt[], arm: number): ReadonlySet<ForceAt> {
  if (forces.length <= MOST_WORDED) return new Set(forces);
  const worded: ForceAt[] = [];
  for (const force of [...forces].sort((one, other) => one.at - other.at)) {
    const before = worded.at(-1);
    if (!before || force.at - before.at >= arm / MOST_WORDED) worded.push(force);
  }
  return new Set(worded);
}

const CORNER = point(0, 0);

/** A bend: two arms to scale at their angle, and the force on each metre across the level one as arrows to one scale. */
export function drawBendForce(definition: BendForceDefinition): string {
  const { armLength, perLength } = definition;
  if (!(armLength.length > 0)) throw new NotDrawable('a bend without arms');
  const turn = (definition.angle * Math.PI) / 180;
  const along = Math.cos(turn);
  const scale = chooseScale(
    { width: armLength.length * (1 + Math.max(0, -along)), height: armLength.length * Math.sin(turn) },
    { width: 900, height: 620 },
  );
  const arm = scale.of(armLength.length);
  const other = point(arm * along, -arm * Math.sin(turn));
  const shown = perLength.filter(({ at, size }) => at <= armLength.length && size > 0);
  const forces =
    shown.length === 0
      ? undefined
      : chooseForceScale(Math.max(...shown.map(({ size }) => size)), LONGEST_AT_BEND);
  const longest = forces === undefined ? 0 : Math.max(...shown.map(({ size }) => forces.of(size)));
  const worded = withWords(shown, armLength.length);
  const few = worded.size < shown.length ? `, ${worded.size} of ${shown.length} with their value` : '';
  const notes = [definition.current, definition.force, definition.moment].join('\n');
  return finishDrawing(
    [
      conductor([other, CORNER, point(arm, 0)], 'counted'),
      arc(CORNER, Math.min(90, arm * 0.4), 0, -definition.angle, { weight: 'hair' }),
      label(
        point(Math.min(90, arm * 0.4) * Math.cos(turn / 2), -Math.min(90, arm * 0.4) * Math.sin(turn / 2)),
        definition.shownAngle,
        { sides: ['right', 'above'] },
      ),
      ...(forces === undefined
        ? []
        : shown.map((force) => {
            const { at, size, shown: words } = force;
            const end = point(scale.of(at), 6 + forces.of(size));
            const value = worded.has(force) ? [label(end, words, { sides: ['below', 'right'] })] : [];
            return group([arrow(point(scale.of(at), 6), end), ...value]);
          })),
      dimension(point(0, longest + 10), point(arm, longest + 10), armLength.shown, {
        offset: -80,
        sides: ['below'],
      }),
      label(point(arm, -40), notes, { sides: ['right', 'above'], width: 620 }),
    ],
    {
      label: `Bend, ${sayScale(scale).toLowerCase()}${forces ? `; arrows of force per length, ${forces.name}${few}` : ''}. ${definition.title}`,
      foot: group([scaleBar(scale), ...(forces ? [forceKey(forces, 100)] : [])]),
    },
  );
}
