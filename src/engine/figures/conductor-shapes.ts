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

const SECTION_ROOM = { width: 300, height: 300 } as const;
const VIEW_ROOM = { width: 860, height: 420 } as const;
/** On paper: a conductor thinner than this is drawn as a line. */
const THIN = 6;

/** A conductor in cross-section and in its course, each view to its own scale. `title`: whole sentences. */
export function drawConductorShape(shape: ConductorShape, title: string): string {
  for (const measured of Object.values(shape))
    if (typeof measured === 'object' && !(measured.length > 0 && measured.length < 1e9))
      throw new NotDrawable(`a figure cannot show ${measured.length} m`);
  const section = sectionScale(shape);
  const view = chooseScale(viewExtent(shape), VIEW_ROOM);
  const views = [
    titledView('Cross-section', drawSection(shape, section), scaleBar(section), 520),
    titledView(
      shape.shape === 'rectangle' ? 'Loop' : 'Course',
      drawCourse(shape, view),
      scaleBar(view),
      1000,
    ),
  ];
  return finishDrawing([arrangeViews(views)], {
    label: `Cross-section, ${sayScale(section).toLowerCase()}, and course, ${sayScale(view).toLowerCase()}. ${title}`,
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

function viewExtent(shape: ConductorShape): { readonly width: number; readonly height: number } {
  const { long, high } = sidesOf(shape);
  return { width: long, height: high };
}

/** Extent of the course: the longer side of a loop lies level. */
function sidesOf(shape: ConductorShape): { readonly long: number; readonly high: number } {
  if (shape.shape === 'rectangle')
    return {
      long: Math.max(shape.length.length, shape.width.length),
      high: Math.min(shape.length.length, shape.width.length),
    };
  return { long: shape.length.length, high: shape.shape === 'go-and-return' ? shape.spacing.length : 0 };
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

function drawCourse(shape: ConductorShape, scale: Scale): readonly Mark[] {
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
  if (shape.shape === 'go-and-return') {
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
  const thick = scale.of(shape.shape === 'strap' ? shape.width.length : shape.diameter.length);
  return [
    thick < THIN
      ? line(left, right, { weight: 'medium' })
      : rect(
          { left: -half, right: half, top: left.y - thick / 2, bottom: left.y + thick / 2 },
          { weight: 'medium', fill: 'light' },
        ),
    dimension(point(-half, left.y - thick / 2), point(half, left.y - thick / 2), shape.length.shown, lying),
  ];
}

function currentArrow(from: number, to: number, y: number): Mark {
  const [start, tip] = [point(from, y), point(to, y)];
  return group([line(start, tip, { weight: 'medium' }), arrowhead(start, tip, 26)]);
}
