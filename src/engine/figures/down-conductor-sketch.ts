import { arrow, dimension } from './annotations.ts';
import { group, label, line, type Mark, text } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { type Point, point } from './geometry.ts';
import { hatchedRect } from './hatch.ts';
import { dot } from './joints.ts';
import { layLengths } from './lengths-to-scale.ts';
import { sayScale, scaleBar } from './scale.ts';
import { finishDrawing } from './sheet.ts';
import { conductor, earthSymbol, groundLine } from './symbols.ts';

export interface DownConductorDefinition {
  /** What is shown and found, for the text alternative: whole sentences. */
  readonly title: string;
  /** Top first; `note` is what stands beside its length: inductance per length, voltage of the section. */
  readonly sections: readonly (Measured & { readonly note?: string })[];
  /** Voltage to remote earth at each joint, as printed, top first: one more than there are sections. */
  readonly voltages: readonly string[];
  /** The lightning current, as printed, with its front time. */
  readonly current?: string;
  readonly earthResistance?: string;
}

const CONDUCTOR_X = 560;
const WALL = { left: 612, right: 650 } as const;
const DIMENSION_X = 720;
const ROOM = 900;
const LEAST = 24;

/**
 * A down conductor on its wall, section by section, with the voltage at each joint: heights to scale where all sections are then
 * legible, else not to scale.
 */
export function drawDownConductor(definition: DownConductorDefinition): string {
  const { sections, voltages } = definition;
  const { drawn, scale } = layLengths(sections, Math.max(ROOM, 110 * sections.length), LEAST);
  const joints: Point[] = [point(CONDUCTOR_X, 0)];
  for (const height of drawn) joints.push(point(CONDUCTOR_X, joints.at(-1)!.y + height));
  const ground = joints.at(-1)!;
  const top = joints[0]!;
  return finishDrawing(
    [
      hatchedRect({ left: WALL.left, top: 24, right: WALL.right, bottom: ground.y + 40 }, 'rising'),
      conductor([top, ground, point(ground.x, ground.y + 40)], 'counted'),
      groundLine(CONDUCTOR_X - 160, WALL.left, ground.y + 40),
      earthSymbol(point(CONDUCTOR_X, ground.y + 40)),
      text(point(CONDUCTOR_X - 50, ground.y + 84), definition.earthResistance ?? '', {
        anchor: 'end',
        vertical: 'middle',
      }),
      drawCurrent(top, definition.current),
      ...joints.map((joint, index) => drawJoint(joint, voltages[index] ?? '')),
      ...sections.map((section, index) => drawSection(joints[index]!, joints[index + 1]!, section)),
    ],
    {
      label: `Section. ${sayScale(scale)}. ${definition.title}`,
      foot: scale === undefined ? text(point(0, 0), 'not to scale') : scaleBar(scale, point(0, 0), 'heights'),
    },
  );
}

function drawCurrent(top: Point, current: string | undefined): Mark {
  if (current === undefined) return group([]);
  return group([
    arrow(point(top.x, top.y - 110), point(top.x, top.y - 16), 'medium'),
    text(point(top.x + 24, top.y - 66), current, { vertical: 'middle' }),
  ]);
}

function drawJoint(at: Point, voltage: string): Mark {
  return group([dot(at, 9), label(at, voltage, { sides: ['left', 'above', 'below'], joined: true })]);
}

function drawSection(from: Point, to: Point, section: Measured & { readonly note?: string }): Mark {
  const words = section.note === undefined ? section.shown : `${section.shown}, ${section.note}`;
  const reach = (y: number): Mark =>
    line(point(CONDUCTOR_X + 20, y), point(DIMENSION_X + 8, y), { weight: 'hair' });
  return group([
    reach(from.y),
    reach(to.y),
    dimension(point(DIMENSION_X, from.y), point(DIMENSION_X, to.y), words, {
      sides: ['right'],
      stacked: true,
    }),
  ]);
}
