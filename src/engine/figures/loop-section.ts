import { dimension } from './annotations.ts';
import { label, line } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { point } from './geometry.ts';
import { hatchedRect } from './hatch.ts';
import { dot } from './joints.ts';
import { NotDrawable } from './not-drawable.ts';
import { chooseScale, sayScale, scaleBar } from './scale.ts';
import { finishDrawing } from './sheet.ts';
import { conductor } from './symbols.ts';

export interface LoopSectionDefinition {
  /** What is shown and found, for the text alternative: whole sentences. */
  readonly title: string;
  /** Of the conductor around the loop. */
  readonly length: Measured;
  /** Across the open side, as it is and as it must be. */
  readonly gap: Measured;
  readonly required: Measured;
  /** What lies across the open side; a solid is hatched. */
  readonly material: { readonly name: string; readonly solid: boolean };
}

const ROOM = { width: 700, height: 460 } as const;

/**
 * A loop of a conductor with its open side, to scale. Only its length and the open side are known: it is drawn as a rectangle, and
 * the figure says so.
 *
 * @throws {NotDrawable} where the conductor around the loop is shorter than its open side, or a length is too large for any scale
 */
export function drawLoopSection(definition: LoopSectionDefinition): string {
  const { length, gap, required, material } = definition;
  const depth = (length.length - gap.length) / 2;
  if (!(depth > 0 && gap.length >= 0 && required.length >= 0))
    throw new NotDrawable(`no loop of ${length.length} m about ${gap.length} m`);
  const scale = chooseScale({ width: depth, height: Math.max(gap.length, required.length) }, ROOM);
  const [right, bottom, needed] = [scale.of(depth), scale.of(gap.length), scale.of(required.length)];
  const inset = 8;
  const roomy = material.solid && right > 4 * inset && bottom > 4 * inset;
  return finishDrawing(
    [
      ...(roomy
        ? [hatchedRect({ left: inset, right: right - inset, top: inset, bottom: bottom - inset }, 'rising')]
        : []),
      conductor(
        [
          point(0, -60),
          point(0, 0),
          point(right, 0),
          point(right, bottom),
          point(0, bottom),
          point(0, bottom + 60),
        ],
        'counted',
      ),
      dot(point(0, 0), 9),
      dot(point(0, bottom), 9),
      dimension(point(0, 0), point(0, bottom), gap.shown, { offset: -60 }),
      line(point(-150, needed), point(0, needed), { weight: 'medium', dash: 'dashed' }),
      dimension(point(0, 0), point(0, needed), required.shown, { offset: -140 }),
      label(
        [point(right, bottom / 2), point(right, 0)],
        `${length.shown} from dot to dot, drawn as a rectangle: its shape is not given`,
        {
          sides: ['right'],
          joined: true,
          width: 380,
        },
      ),
      label(point(right / 2, bottom - inset), material.name, { sides: ['below', 'right'], joined: true }),
    ],
    { label: `Loop, ${sayScale(scale).toLowerCase()}. ${definition.title}`, foot: scaleBar(scale) },
  );
}
