import { dimension } from './annotations.ts';
import { arc, circle, group, label, line, type Mark } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { type Box, type Point, point } from './geometry.ts';
import { hatchedRect } from './hatch.ts';
import { dot } from './joints.ts';
import { NotDrawable } from './not-drawable.ts';
import { chooseScale, type Scale, sayScale, scaleBar } from './scale.ts';
import { arrangeViews, finishDrawing, finishView } from './sheet.ts';
import { groundLine } from './symbols.ts';

export interface RollingSphereDefinition {
  /** What is shown and found, for the text alternative: whole sentences. */
  readonly title: string;
  /** All as printed, with their symbols. */
  readonly sphere: Measured;
  /** A rod, a mast or a wire, or supports of this height. */
  readonly rod: Measured;
  /** Of a section midway between two masts: how far from the line through them the middle of the sphere stays. */
  readonly midway?: number;
  readonly object?: Measured;
  /** From the rod to the far side of the object. */
  readonly objectReach?: Measured;
  /** At the height of the object; `length` is absent where nothing is protected. Without it only the supports are shown. */
  readonly protectedRadius?: { readonly length?: number; readonly shown: string };
  /** Two supports of the rod's height. */
  readonly supports?: {
    readonly spacing: Measured;
    readonly penetration: Measured;
    readonly lowest: string;
  };
}

/** On paper, for the section beside the rod and the one between supports. */
const ROOM_ALONE = { width: 1050, height: 640 } as const;
const ROOM_BESIDE = { width: 680, height: 640 } as const;
const ROOM_BETWEEN = { width: 560, height: 640 } as const;
const MARGIN = 70;

/**
 * Sections through the sphere, against a rod on the ground and between two supports, to one scale for the whole figure. Of the
 * sphere that part is drawn which lies near the rod.
 *
 * @throws {NotDrawable} where a length is nothing, or too large for any scale
 */
export function drawRollingSphere(definition: RollingSphereDefinition): string {
  const { sphere, rod, supports, protectedRadius } = definition;
  for (const { length } of [sphere, rod])
    if (!(length > 0 && length < 1e9)) throw new NotDrawable(`no section of ${length} m`);
  const extent = extentBeside(definition);
  const between = supports === undefined ? 0 : supports.spacing.length;
  const both = protectedRadius !== undefined && between > 0;
  const scales = [
    ...(protectedRadius === undefined ? [] : [chooseScale(extent, both ? ROOM_BESIDE : ROOM_ALONE)]),
    ...(between > 0
      ? [chooseScale({ width: between, height: rod.length * 1.15 }, both ? ROOM_BETWEEN : ROOM_ALONE)]
      : []),
  ];
  if (scales.length === 0) throw new NotDrawable('neither a rod nor supports');
  const scale = scales.reduce((least, one) => (one.reduction > least.reduction ? one : least));
  const views = [
    ...(protectedRadius === undefined ? [] : [finishView([besideRod(definition, scale, extent)], undefined)]),
    ...(between > 0 ? [finishView([betweenSupports(definition, scale)], undefined)] : []),
  ];
  return finishDrawing([arrangeViews(views)], {
    label: `Section, ${sayScale(scale).toLowerCase()}. ${definition.title}`,
    foot: scaleBar(scale),
  });
}

/** What the section beside the rod shows, in metres. */
function extentBeside(definition: RollingSphereDefinition): Extent {
  const { sphere, rod, midway, objectReach, protectedRadius } = definition;
  const counted = Math.min(rod.length, sphere.length);
  const reach = midway ?? Math.sqrt(counted * (2 * sphere.length - counted));
  const atAxis = sphere.length - Math.sqrt(Math.max(0, sphere.length ** 2 - reach ** 2));
  const axis = midway === undefined ? rod.length : Math.max(atAxis, definition.object?.length ?? 0);
  return {
    reach,
    axis,
    width: Math.max(reach, objectReach?.length ?? 0, protectedRadius?.length ?? 0) * 1.25,
    height: Math.max(axis, Math.min(2 * sphere.length, 1.7 * Math.min(counted, axis))),
  };
}

interface Extent {
  /** From the rod, or the line through the masts, to where the sphere touches the ground. */
  readonly reach: number;
  /** Height of the rod; midway between masts, where there is none, of the sphere over the line through them. */
  readonly axis: number;
  readonly width: number;
  readonly height: number;
}

/** The sphere touches the tip of the rod and the ground; a rod higher than its radius is touched at the height of the radius. */
function besideRod(definition: RollingSphereDefinition, scale: Scale, extent: Extent): Mark {
  const { rod, sphere, object, objectReach, midway } = definition;
  const radius = scale.of(sphere.length);
  const center = point(scale.of(extent.reach), -radius);
  const tip = point(0, -scale.of(extent.axis));
  const window: Box = {
    left: -MARGIN,
    right: Math.max(scale.of(extent.width), center.x + MARGIN),
    top: -scale.of(extent.height) - MARGIN,
    bottom: 0,
  };
  const inside = center.y > window.top + 20;
  const touch = point(center.x, 0);
  return group([
    groundLine(-190, window.right, 0),
    arcWithin(center, radius, window),
    ...(object === undefined || object.length <= 0
      ? []
      : [drawObject(definition, scale.of(object.length), scale)]),
    ...(midway === undefined
      ? [
          line(point(0, 0), tip, { weight: 'bold' }),
          dimension(point(-8, 0), point(-8, tip.y), rod.shown, { offset: 44 }),
        ]
      : [
          line(point(0, 0), point(0, window.top), { weight: 'thin', dash: 'chain' }),
          label(point(0, window.top), `midway between the masts, ${rod.shown}`, { sides: ['above', 'left'] }),
        ]),
    dot(touch, 7),
    ...(inside
      ? [
          dot(center, 5),
          line(center, touch, { weight: 'hair' }),
          label(point(center.x, center.y / 2), sphere.shown, { joined: true }),
        ]
      : [
          label(pointOnSphere(center, radius, tip), `sphere, ${sphere.shown}`, {
            sides: ['above', 'right'],
            joined: true,
          }),
        ]),
    ...radiusMark(definition, scale),
    ...(objectReach === undefined
      ? []
      : [
          dimension(point(0, 0), point(scale.of(objectReach.length), 0), objectReach.shown, {
            offset: -112,
            sides: ['below', 'right'],
          }),
        ]),
  ]);
}

/** The protected radius at the height of the object, or at the ground, as a dimension below the ground. */
function radiusMark({ protectedRadius }: RollingSphereDefinition, scale: Scale): readonly Mark[] {
  const { length, shown } = protectedRadius!;
  if (length === undefined || length <= 0) return [label(point(0, 0), shown, { sides: ['below'] })];
  return [
    dimension(point(0, 0), point(scale.of(length), 0), shown, { offset: -52, sides: ['below', 'right'] }),
  ];
}

/** What is to be protected: as far as it is known to reach, else as far as the sphere leaves it. */
function drawObject(definition: RollingSphereDefinition, height: number, scale: Scale): Mark {
  const { object, objectReach, protectedRadius } = definition;
  const right = Math.max(12, scale.of(objectReach?.length ?? protectedRadius?.length ?? 0));
  const box = { left: 6, top: -height, right, bottom: 0 };
  return group([
    hatchedRect(box, 'rising'),
    label([point(right, -height / 2), point(right, -height)], object!.shown, {
      sides: ['right', 'above'],
      joined: true,
    }),
  ]);
}

function betweenSupports(definition: RollingSphereDefinition, scale: Scale): Mark {
  const { rod, sphere, supports, object } = definition;
  const { spacing, penetration, lowest } = supports!;
  const [half, top] = [scale.of(spacing.length) / 2, -scale.of(rod.length)];
  const radius = scale.of(sphere.length);
  const dip = scale.of(penetration.length);
  const center = point(0, top + dip - radius);
  const window: Box = { left: -half - 40, right: half + 40, top: top - 60, bottom: 0 };
  const objectTop = object === undefined ? 0 : -scale.of(object.length);
  return group([
    groundLine(-half - 60, half + 60, 0),
    arcWithin(center, radius, window),
    line(point(-half, top), point(half, top), { weight: 'hair', dash: 'short' }),
    line(point(-half, 0), point(-half, top), { weight: 'bold' }),
    line(point(half, 0), point(half, top), { weight: 'bold' }),
    dot(point(0, top + dip), 5),
    dimension(point(0, top + dip), point(0, top), penetration.shown, { sides: ['right', 'left'] }),
    dimension(point(0, 0), point(0, top + dip), lowest, { sides: ['right', 'left'] }),
    ...(objectTop < 0 && object !== undefined
      ? [
          line(point(-half + 20, objectTop), point(half - 20, objectTop), { weight: 'thin', dash: 'chain' }),
          label(point(-half / 2, objectTop), object.shown, { sides: ['below', 'above'], joined: true }),
        ]
      : []),
    dimension(point(-half, 0), point(half, 0), spacing.shown, { offset: -52, sides: ['below'] }),
  ]);
}

/** Those parts of the circle that lie within the window. */
function arcWithin(center: Point, radius: number, window: Box): Mark {
  const step = 0.1;
  const inside = (degrees: number): boolean => {
    const at = pointAt(center, radius, degrees);
    return at.x >= window.left && at.x <= window.right && at.y >= window.top && at.y <= window.bottom + 1;
  };
  if (Array.from({ length: 360 }, (_, i) => i - 90).every(inside)) return circle(center, radius);
  const marks: Mark[] = [];
  let from: number | undefined;
  // From the top, clockwise: the top lies outside the window whenever a part does.
  for (let i = 0; i <= 3600; i += 1) {
    const degrees = -90 + i * step;
    if (inside(degrees)) from ??= degrees;
    else if (from !== undefined) {
      if (degrees - step > from) marks.push(arc(center, radius, from, degrees - step));
      from = undefined;
    }
  }
  if (from !== undefined && from < 270) marks.push(arc(center, radius, from, 270));
  return group(marks);
}

/** A point of the sphere half-way between the ground and the tip of the rod. */
function pointOnSphere(center: Point, radius: number, tip: Point): Point {
  const low = Math.max(tip.y, center.y);
  const toTip = (Math.atan2(low - center.y, tip.x - center.x) * 180) / Math.PI;
  return pointAt(center, radius, (90 + toTip) / 2);
}

function pointAt(center: Point, radius: number, degrees: number): Point {
  const angle = (degrees * Math.PI) / 180;
  return point(center.x + radius * Math.cos(angle), center.y + radius * Math.sin(angle));
}
