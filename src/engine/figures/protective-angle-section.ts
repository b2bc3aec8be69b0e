import { dimension } from './annotations.ts';
import { arc, label, line, type Mark } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { point } from './geometry.ts';
import { hatchedRect } from './hatch.ts';
import { NotDrawable } from './not-drawable.ts';
import { chooseScale, sayScale, scaleBar } from './scale.ts';
import { finishDrawing } from './sheet.ts';
import { groundLine } from './symbols.ts';

export interface ProtectiveAngleDefinition {
  /** What is shown and found, for the text alternative: whole sentences. */
  readonly title: string;
  readonly shield: Measured;
  readonly object: Measured;
  readonly objectReach?: Measured;
  /** In radians, with the words beside it. */
  readonly angle: { readonly size: number; readonly shown: string };
  /** At the height of the object; `length` is absent where nothing is protected. */
  readonly protectedDistance: { readonly length?: number; readonly shown: string };
}

const ROOM = { width: 1000, height: 620 } as const;

/**
 * A mast or wire and the line of its protective angle, to scale.
 *
 * @throws {NotDrawable} where a length is nothing or the angle not between nought and a right angle
 */
export function drawProtectiveAngle(definition: ProtectiveAngleDefinition): string {
  const { shield, object, objectReach, angle, protectedDistance } = definition;
  if (!(shield.length > 0 && angle.size > 0 && angle.size < Math.PI / 2 - 1e-6))
    throw new NotDrawable(`no section of ${shield.length} m at ${angle.size}`);
  const atGround = shield.length * Math.tan(angle.size);
  const width = Math.max(atGround, objectReach?.length ?? 0) * 1.1;
  const scale = chooseScale({ width, height: Math.max(shield.length, object.length) }, ROOM);
  const [high, foot] = [scale.of(shield.length), scale.of(atGround)];
  const level = scale.of(object.length);
  const right = Math.max(12, scale.of(objectReach?.length ?? protectedDistance.length ?? 0));
  const radius = Math.min(110, high * 0.4);
  const turn = (angle.size * 180) / Math.PI;
  const below: Mark[] = [
    protectedDistance.length !== undefined && protectedDistance.length > 0
      ? dimension(point(0, 0), point(scale.of(protectedDistance.length), 0), protectedDistance.shown, {
          offset: -52,
          sides: ['below', 'right'],
        })
      : label(point(0, 0), protectedDistance.shown, { sides: ['below'] }),
    ...(objectReach === undefined
      ? []
      : [
          dimension(point(0, 0), point(scale.of(objectReach.length), 0), objectReach.shown, {
            offset: -112,
            sides: ['below', 'right'],
          }),
        ]),
  ];
  return finishDrawing(
    [
      groundLine(-120, Math.max(foot, right) + 80, 0),
      ...(level > 0 ? [hatchedRect({ left: 6, top: -level, right, bottom: 0 }, 'rising')] : []),
      line(point(0, 0), point(0, -high), { weight: 'bold' }),
      line(point(0, -high), point(foot, 0), { weight: 'medium', dash: 'dashed' }),
      arc(point(0, -high), radius, 90, 90 - turn, { weight: 'hair' }),
      label(
        point(radius * Math.sin(angle.size / 2), -high + radius * Math.cos(angle.size / 2)),
        angle.shown,
        { sides: ['right', 'below'], joined: true },
      ),
      dimension(point(-8, 0), point(-8, -high), shield.shown, { offset: 44 }),
      label([point(right, -level / 2), point(right, -level)], object.shown, { joined: true }),
      ...below,
    ],
    { label: `Section, ${sayScale(scale).toLowerCase()}. ${definition.title}`, foot: scaleBar(scale) },
  );
}
