import { dimension } from './annotations.ts';
import { label, polygon, rect } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { point, turnPoint } from './geometry.ts';
import { hatchedRect } from './hatch.ts';
import { NotDrawable } from './not-drawable.ts';
import { chooseScale, sayScale, scaleBar } from './scale.ts';
import { finishDrawing } from './sheet.ts';

export interface CollectionAreaDefinition {
  /** What is shown and found, for the text alternative: whole sentences. */
  readonly title: string;
  readonly length: Measured;
  readonly width: Measured;
  /** How far the area reaches beyond the structure on every side. */
  readonly reach: Measured;
  /** Within the outline: '*A*_{D} = 4200 m²'. */
  readonly area: string;
  readonly structure: string;
}

const ROOM = { width: 900, height: 700 } as const;

/**
 * The structure in plan within the outline of its collection area, to scale.
 *
 * @throws {NotDrawable} where nothing is left to be drawn, or a length is too large for any scale
 */
export function drawCollectionArea(definition: CollectionAreaDefinition): string {
  const { length, width, reach } = definition;
  if (!(length.length >= 0 && width.length >= 0 && reach.length > 0))
    throw new NotDrawable(`no area about ${length.length} m by ${width.length} m`);
  const scale = chooseScale(
    { width: length.length + 2 * reach.length, height: width.length + 2 * reach.length },
    ROOM,
  );
  const [half, rise, radius] = [
    scale.of(length.length) / 2,
    scale.of(width.length) / 2,
    scale.of(reach.length),
  ];
  const box = { left: -half, right: half, top: -rise, bottom: rise };
  const seen = half >= 8 && rise >= 8;
  return finishDrawing(
    [
      outline(half, rise, radius),
      seen ? hatchedRect(box, 'rising') : rect(box, { weight: 'bold' }),
      dimension(point(half, 0), point(half + radius, 0), reach.shown, { sides: ['above', 'below'] }),
      dimension(point(-half, -rise), point(half, -rise), length.shown, { offset: 34, sides: ['above'] }),
      dimension(point(-half, rise), point(-half, -rise), width.shown, { offset: 34, sides: ['left'] }),
      label(point(0, rise + radius * 0.55), definition.area, { sides: ['below', 'above'] }),
      label(point(half * 0.4, rise), definition.structure, { sides: ['below', 'right'], joined: true }),
    ],
    { label: `Plan, ${sayScale(scale).toLowerCase()}. ${definition.title}`, foot: scaleBar(scale) },
  );
}

/** Straight along the sides, a quarter of a circle at each corner. */
function outline(half: number, rise: number, radius: number) {
  const corners = [
    { center: point(half, -rise), from: -90 },
    { center: point(half, rise), from: 0 },
    { center: point(-half, rise), from: 90 },
    { center: point(-half, -rise), from: 180 },
  ];
  const course = corners.flatMap(({ center, from }) => {
    const start = point(center.x + radius, center.y);
    return Array.from({ length: 16 }, (_, i) => turnPoint(start, center, from + i * 6));
  });
  return polygon(course, { weight: 'medium', dash: 'dashed' });
}
