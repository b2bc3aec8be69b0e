import { arrowhead, dimension } from './annotations.ts';
import {
  circle,
  finishDrawing,
  group,
  line,
  type Mark,
  polyline,
  rect,
  SMALL_SIZE,
  text,
} from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { type Point, point } from './geometry.ts';
import { NotDrawable } from './not-drawable.ts';

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

/** Middle of the cross-section, left; ends of the side view, right of it. */
const SECTION_X = 150;
const SIDE = { left: 480, right: 1320 } as const;

/** A conductor in cross-section and from the side, with its dimensions. Not to scale, but what is larger is drawn larger. */
export function drawConductorShape(shape: ConductorShape, title: string): string {
  return finishDrawing([sketchShape(shape)], { label: title });
}

function sketchShape(shape: ConductorShape): Mark {
  if (shape.shape === 'round-wire') return roundWire(shape.length, shape.diameter);
  if (shape.shape === 'strap') return strap(shape.length, shape.width, shape.thickness);
  if (shape.shape === 'go-and-return') return goAndReturn(shape.length, shape.diameter, shape.spacing);
  return rectangle(shape.length, shape.width, shape.diameter);
}

function roundWire(length: Measured, diameter: Measured): Mark {
  const half = 45;
  return group([
    section(point(SECTION_X, 0), half),
    dimension(point(SECTION_X - half, half), point(SECTION_X + half, half), diameter.shown, { offset: -60 }),
    sideView(-half, half),
    dimension(point(SIDE.left, -half), point(SIDE.right, -half), length.shown, { offset: 60 }),
    caption(half + 60),
  ]);
}

/** The thickness is drawn in proportion to the width, but neither as a hairline nor as more than the width. */
function strap(length: Measured, width: Measured, thickness: Measured): Mark {
  const half = 70;
  const thick = proportion(thickness.length, width.length, 0.12, 1) * half;
  const box = { left: SECTION_X - half, top: -thick, right: SECTION_X + half, bottom: thick };
  return group([
    rect(box, { weight: 'medium', fill: 'light' }),
    dimension(point(box.left, box.bottom), point(box.right, box.bottom), width.shown, { offset: -60 }),
    dimension(point(box.right, box.top), point(box.right, box.bottom), thickness.shown, {
      offset: 50,
      label: 'beside',
    }),
    sideView(-half, half),
    dimension(point(SIDE.left, -half), point(SIDE.right, -half), length.shown, { offset: 60 }),
    caption(half + 60),
  ]);
}

function goAndReturn(length: Measured, diameter: Measured, spacing: Measured): Mark {
  const apart = 100;
  const radius = proportion(diameter.length, spacing.length, 0.1, 0.9) * apart;
  const [go, back] = [point(SECTION_X, -apart), point(SECTION_X, apart)];
  return group([
    section(go, radius),
    section(back, radius),
    dimension(go, back, spacing.shown, { offset: -radius - 40, label: 'beside' }),
    dimension(point(go.x - radius, go.y - radius), point(go.x + radius, go.y - radius), diameter.shown, {
      offset: 50,
    }),
    sideView(go.y - radius, go.y + radius),
    sideView(back.y - radius, back.y + radius),
    currentArrow(point(SIDE.left - 90, go.y), point(SIDE.left - 20, go.y)),
    currentArrow(point(SIDE.left - 20, back.y), point(SIDE.left - 90, back.y)),
    line(point(SIDE.right, go.y), point(SIDE.right + 40, go.y), { weight: 'medium' }),
    polyline([point(SIDE.right + 40, go.y), point(SIDE.right + 40, back.y), point(SIDE.right, back.y)], {
      weight: 'medium',
      dash: 'dashed',
    }),
    dimension(point(SIDE.left, go.y - radius), point(SIDE.right, go.y - radius), length.shown, {
      offset: 60,
    }),
    caption(apart + radius + 60),
  ]);
}

/** The longer side is drawn level in any case; its label goes with it. */
function rectangle(length: Measured, width: Measured, diameter: Measured): Mark {
  const [long, short] = length.length >= width.length ? [length, width] : [width, length];
  const wide = 760;
  const high = wide * proportion(short.length, long.length, 0.2, 0.62);
  const wire = 9;
  const box = { left: 380, top: 0, right: 380 + wide, bottom: high };
  const inner = { left: box.left + wire, top: wire, right: box.right - wire, bottom: high - wire };
  return group([
    section(point(SECTION_X, high / 2), 34),
    dimension(point(SECTION_X - 34, high / 2 + 34), point(SECTION_X + 34, high / 2 + 34), diameter.shown, {
      offset: -56,
    }),
    rect(
      { left: box.left - wire, top: -wire, right: box.right + wire, bottom: high + wire },
      { weight: 'thin', fill: 'light' },
    ),
    rect(inner, { weight: 'thin', fill: 'white' }),
    dimension(point(box.left, -wire), point(box.right, -wire), long.shown, { offset: 56 }),
    dimension(point(box.right + wire, 0), point(box.right + wire, high), short.shown, {
      offset: 56,
      label: 'beside',
    }),
    caption(high + 70),
  ]);
}

function section(middle: Point, radius: number): Mark {
  const cross = radius + 16;
  const axis = { weight: 'hair', dash: 'chain' } as const;
  return group([
    circle(middle, radius, { weight: 'medium', fill: 'light' }),
    line(point(middle.x - cross, middle.y), point(middle.x + cross, middle.y), axis),
    line(point(middle.x, middle.y - cross), point(middle.x, middle.y + cross), axis),
  ]);
}

function sideView(top: number, bottom: number): Mark {
  const middle = (top + bottom) / 2;
  return group([
    rect({ ...SIDE, top, bottom }, { weight: 'medium', fill: 'light' }),
    line(point(SIDE.left - 20, middle), point(SIDE.right + 20, middle), { weight: 'hair', dash: 'chain' }),
  ]);
}

function currentArrow(from: Point, to: Point): Mark {
  return group([line(from, to, { weight: 'medium' }), arrowhead(from, to, 26)]);
}

/** A ratio kept within what can be drawn. A ratio without meaning (nothing to nothing) counts as the lower end. */
function proportion(small: number, large: number, least: number, most: number): number {
  if (!(small >= 0 && large >= 0 && Number.isFinite(small) && Number.isFinite(large)))
    throw new NotDrawable(`a sketch cannot show ${small} m beside ${large} m`);
  return large === 0 ? least : Math.max(least, Math.min(most, small / large));
}

function caption(y: number): Mark {
  return text(point(SIDE.right, y), 'not to scale', { size: SMALL_SIZE, anchor: 'end' });
}
