import { arrowhead, dimension } from './annotations.ts';
import { circle, group, label, line, type Mark, polyline, rect } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { type Box, point } from './geometry.ts';
import { NotDrawable } from './not-drawable.ts';
import { chooseScale, type Scale, sayScale, scaleBar } from './scale.ts';
import { arrangeViews, finishDrawing, titledView } from './sheet.ts';

export type ConductorShape =
  | { readonly shape: 'round-wire'; readonly length: Measured; readonly diameter: Measured }
  | {
      readonly shape: 'strap';
      readonly length: Measured;
      readonly width: Measured;
      readonly thickness: Measured;
    }
  | {
      readonly shape: 'go-and-return';
      readonly length: Measured;
      readonly diameter: Measured;
      readonly spacing: Measured;
    }
  | {
      readonly shape: 'rectangle';
      readonly length: Measured;
      readonly width: Measured;
      readonly diameter: Measured;
    };

/** What has a course worth drawing: a straight piece has none. */
type Course = Extract<ConductorShape, { readonly shape: 'go-and-return' | 'rectangle' }>;

const SECTION_ROOM = { width: 300, height: 300 } as const;
const VIEW_ROOM = { width: 860, height: 420 } as const;
/** On paper: a conductor thinner than this is drawn as a line. */
const THIN = 6;

/**
 * A conductor in cross-section and, where it is more than a straight piece, in its course, each view to its own scale. `title`: whole
 * sentences.
 */
export function drawConductorShape(shape: ConductorShape, title: string): string {
  for (const measured of Object.values(shape))
    if (typeof measured === 'object' && !(measured.length > 0 && measured.length < 1e9))
      throw new NotDrawable(`a figure cannot show ${measured.length} m`);
  const section = sectionScale(shape);
  const across = titledView('Cross-section', drawSection(shape, section), scaleBar(section), 520);
  const says = `Cross-section, ${sayScale(section).toLowerCase()}`;
  if (shape.shape === 'round-wire' || shape.shape === 'strap')
    return finishDrawing([across], { label: `${says}, of a length of ${shape.length.shown}. ${title}` });
  const view = chooseScale(viewExtent(shape), VIEW_ROOM);
  const views = [
    across,
    titledView(
      shape.shape === 'rectangle' ? 'Loop' : 'Course',
      drawCourse(shape, view),
      scaleBar(view),
      1000,
    ),
  ];
  return finishDrawing([arrangeViews(views)], {
    label: `${says}, and course, ${sayScale(view).toLowerCase()}. ${title}`,
  });
}

function sectionScale(shape: ConductorShape): Scale {
  if (shape.shape === 'strap')
    return chooseScale({ width: shape.width.length, height: shape.thickness.length }, SECTION_ROOM);
  if (shape.shape === 'go-and-return')
    return chooseScale(
      { width: shape.diameter.length, height: shape.spacing.length + shape.diameter.length },
      SECTION_ROOM,
    );
  return chooseScale({ width: shape.diameter.length, height: shape.diameter.length }, SECTION_ROOM);
}

function viewExtent(shape: Course): { readonly width: number; readonly height: number } {
  const { long, high } = sidesOf(shape);
  return { width: long, height: high };
}

/** Extent of the course: the longer side of a loop lies level. */
function sidesOf(shape: Course): { readonly long: number; readonly high: number } {
  if (shape.shape === 'rectangle')
    return {
      long: Math.max(shape.length.length, shape.width.length),
      high: Math.min(shape.length.length, shape.width.length),
    };
  return { long: shape.length.length, high: shape.spacing.length };
}

function drawSection(shape: ConductorShape, scale: Scale): readonly Mark[] {
  if (shape.shape === 'strap') {
    const [half, thick] = [scale.of(shape.width.length) / 2, scale.of(shape.thickness.length)];
    const box: Box = { left: -half, right: half, top: -150 - thick, bottom: -150 };
    return [
      rect(box, { weight: 'medium', fill: 'light' }),
      dimension(point(box.left, box.bottom), point(box.right, box.bottom), shape.width.shown, {
        offset: -50,
      }),
      dimension(point(box.right, box.bottom), point(box.right, box.top), shape.thickness.shown, {
        offset: -50,
      }),
    ];
  }
  const radius = scale.of(shape.diameter.length) / 2;
  if (shape.shape !== 'go-and-return')
    return [
      roundSection(-150, radius),
      dimension(point(-radius, -150 + radius), point(radius, -150 + radius), shape.diameter.shown, {
        offset: -50,
      }),
    ];
  const apart = scale.of(shape.spacing.length);
  return [
    roundSection(-150 - apart / 2, radius),
    roundSection(-150 + apart / 2, radius),
    dimension(point(0, -150 - apart / 2), point(0, -150 + apart / 2), shape.spacing.shown, {
      offset: -radius - 46,
    }),
    dimension(
      point(-radius, -150 + apart / 2 + radius),
      point(radius, -150 + apart / 2 + radius),
      shape.diameter.shown,
      { offset: -50 },
    ),
  ];
}

function roundSection(y: number, radius: number): Mark {
  const cross = radius + 16;
  const axis = { weight: 'hair', dash: 'chain' } as const;
  return group([
    circle(point(0, y), radius, { weight: radius < THIN ? 'hair' : 'medium', fill: 'light' }),
    line(point(-cross, y), point(cross, y), axis),
    line(point(0, y - cross), point(0, y + cross), axis),
  ]);
}

function drawCourse(shape: Course, scale: Scale): readonly Mark[] {
  const { long, high } = sidesOf(shape);
  const [half, rise] = [scale.of(long) / 2, scale.of(high)];
  const lying = { offset: 50 } as const;
  const left = point(-half, -150 - rise / 2);
  const right = point(half, -150 - rise / 2);
  if (shape.shape === 'rectangle') {
    const [longer, shorter] =
      shape.length.length >= shape.width.length ? [shape.length, shape.width] : [shape.width, shape.length];
    return [
      rect({ left: -half, right: half, top: left.y, bottom: left.y + rise }, { weight: 'medium' }),
      dimension(left, right, longer.shown, lying),
      dimension(right, point(half, left.y + rise), shorter.shown, { offset: 50 }),
    ];
  }
  const [back, away] = [point(-half, left.y + rise), point(half, left.y + rise)];
  return [
    line(left, right, { weight: 'medium' }),
    line(back, away, { weight: 'medium' }),
    polyline([right, point(half + 40, right.y), point(half + 40, away.y), away], {
      weight: 'thin',
      dash: 'dashed',
    }),
    ...(rise < 40
      ? []
      : [currentArrow(-half - 90, -half - 20, left.y), currentArrow(-half - 20, -half - 90, back.y)]),
    dimension(left, right, shape.length.shown, lying),
    label(point(half + 40, (right.y + away.y) / 2), 'end, not part of the length', {
      joined: true,
      width: 240,
    }),
  ];
}

function currentArrow(from: number, to: number, y: number): Mark {
  const [start, tip] = [point(from, y), point(to, y)];
  return group([line(start, tip, { weight: 'medium' }), arrowhead(start, tip, 26)]);
}
