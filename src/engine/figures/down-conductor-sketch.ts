import { arrow, dimension, dot } from './annotations.ts';
import { finishDrawing, group, line, type Mark, SMALL_SIZE, text, textBlock } from './drawing.ts';
import { fitLengths, type Measured } from './fit-lengths.ts';
import { type Point, point } from './geometry.ts';
import { hatchedRect } from './hatch.ts';
import { conductor, earthSymbol, groundLine } from './symbols.ts';

export interface DownConductorDefinition {
  /** The text alternative. */
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
const LEAST = 76;
const USUAL_HEIGHT = 620;

/**
 * A down conductor on its wall, section by section, with the voltage at each joint. Lengths are in proportion as far as
 * their labels find room.
 */
export function drawDownConductor(definition: DownConductorDefinition): string {
  const { sections, voltages } = definition;
  const stretch = Math.max(USUAL_HEIGHT, LEAST * sections.length);
  const heights = fitLengths(
    sections.map((section) => section.length),
    stretch,
    LEAST,
  );
  const joints: Point[] = [point(CONDUCTOR_X, 0)];
  for (const height of heights) joints.push(point(CONDUCTOR_X, joints.at(-1)!.y + height));
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
        size: SMALL_SIZE,
      }),
      text(point(DIMENSION_X + 16, ground.y + 84), 'not to scale', { vertical: 'middle', size: SMALL_SIZE }),
      drawCurrent(top, definition.current),
      ...joints.map((joint, index) => drawJoint(joint, voltages[index] ?? '')),
      ...sections.map((section, index) => drawSection(joints[index]!, joints[index + 1]!, section)),
    ],
    { label: definition.title },
  );
}

function drawCurrent(top: Point, current: string | undefined): Mark {
  if (current === undefined) return group([]);
  return group([
    arrow(point(top.x, top.y - 110), point(top.x, top.y - 16), 'medium'),
    text(point(top.x + 24, top.y - 66), current, { vertical: 'middle', size: SMALL_SIZE }),
  ]);
}

function drawJoint(at: Point, voltage: string): Mark {
  return group([
    dot(at, 9),
    ...(voltage === '' ? [] : [line(point(at.x - 20, at.y), point(at.x - 80, at.y), { weight: 'hair' })]),
    text(point(at.x - 92, at.y), voltage, { anchor: 'end', vertical: 'middle', size: SMALL_SIZE }),
  ]);
}

function drawSection(from: Point, to: Point, section: Measured & { readonly note?: string }): Mark {
  const label = section.note === undefined ? section.shown : `${section.shown}\n${section.note}`;
  const span = [point(DIMENSION_X, from.y), point(DIMENSION_X, to.y)] as const;
  const reach = (y: number): Mark =>
    line(point(CONDUCTOR_X + 20, y), point(DIMENSION_X + 8, y), { weight: 'hair' });
  return group([
    reach(from.y),
    reach(to.y),
    dimension(...span, '', { label: 'beside' }),
    textBlock(point(DIMENSION_X + 16, (from.y + to.y) / 2), label, { vertical: 'middle', size: SMALL_SIZE }),
  ]);
}
