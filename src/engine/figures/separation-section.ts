import { dimension, dot } from './annotations.ts';
import { finishDrawing, group, type Mark, move, rect, SMALL_SIZE, text, textBlock } from './drawing.ts';
import { fitLengths, type Measured } from './fit-lengths.ts';
import { type Point, point } from './geometry.ts';
import { hatchedRect } from './hatch.ts';
import { barSymbol, conductor, earthSymbol } from './symbols.ts';

export interface SeparationSectionDefinition {
  /** The text alternative. */
  readonly title: string;
  /** The way from the place of the proximity to the bonding level, in order; `share` is the current share as printed. */
  readonly path: readonly (Measured & { readonly share?: string })[];
  /** The separation that is required, as printed with its symbol: '*s* = 0.42 m'. */
  readonly required: string;
  /** The gap that there is, as printed. */
  readonly actual?: string;
  /** What lies in the gap: 'air', 'brickwork'. A solid is hatched. */
  readonly material: { readonly name: string; readonly solid: boolean };
  /** What is near the conductor: 'ventilation duct'. */
  readonly installation: string;
  readonly bonding?: string;
}

const CONDUCTOR_X = 520;
const INSTALLATION = { left: 850, right: 920 } as const;
const GAP_MIDDLE = (CONDUCTOR_X + INSTALLATION.left) / 2;
const GAP_TEXT = INSTALLATION.left - CONDUCTOR_X - 70;
const LEAST = 82;
const USUAL_HEIGHT = 520;
const ABOVE = 130;

/**
 * Section through down conductor and installation: the length of conductor that counts, from the place of the proximity
 * down to the bonding level, is bold.
 */
export function drawSeparationSection(definition: SeparationSectionDefinition): string {
  const { path } = definition;
  const stretch = Math.max(USUAL_HEIGHT, LEAST * path.length);
  const heights = fitLengths(
    path.map((part) => part.length),
    stretch,
    LEAST,
  );
  const joints: Point[] = [point(CONDUCTOR_X, 0)];
  for (const height of heights) joints.push(point(CONDUCTOR_X, joints.at(-1)!.y + height));
  const [near, bonded] = [joints[0]!, joints.at(-1)!];
  return finishDrawing(
    [
      drawMaterial(definition, bonded.y),
      conductor([point(CONDUCTOR_X, -ABOVE), near], 'line'),
      conductor([near, bonded], 'counted'),
      ...joints.map((joint, index) => (index === 0 || index === path.length ? dot(joint, 9) : dot(joint, 7))),
      ...path.map((part, index) => drawPart(joints[index]!, joints[index + 1]!, part)),
      drawInstallation(definition, bonded.y),
      drawGap(definition),
      drawBonding(definition, bonded.y),
      textBlock(point(GAP_MIDDLE, bonded.y * 0.6), definition.material.name, {
        anchor: 'middle',
        size: SMALL_SIZE,
        backed: true,
        width: GAP_TEXT,
      }),
    ],
    { label: definition.title },
  );
}

function drawMaterial({ material }: SeparationSectionDefinition, bottom: number): Mark {
  if (!material.solid) return group([]);
  return hatchedRect(
    { left: CONDUCTOR_X + 24, top: -ABOVE, right: INSTALLATION.left - 24, bottom: bottom - 14 },
    'rising',
  );
}

function drawPart(from: Point, to: Point, part: Measured & { readonly share?: string }): Mark {
  const label = part.share === undefined ? part.shown : `${part.shown}\n${part.share}`;
  return dimension(from, to, label, { offset: -80, label: 'beside' });
}

function drawInstallation({ installation }: SeparationSectionDefinition, bottom: number): Mark {
  const middle = (INSTALLATION.left + INSTALLATION.right) / 2;
  return group([
    rect({ ...INSTALLATION, top: -60, bottom: bottom - 60 }, { weight: 'medium', fill: 'light' }),
    conductor([point(middle, bottom - 60), point(middle, bottom)], 'bond'),
    dot(point(middle, bottom), 9),
    textBlock(point(INSTALLATION.right + 24, 60), installation, { size: SMALL_SIZE, width: 420 }),
  ]);
}

/** The required separation over the dimension at the place of the proximity, the present gap below it. */
function drawGap({ required, actual }: SeparationSectionDefinition): Mark {
  const words = { anchor: 'middle', size: SMALL_SIZE, backed: true, width: GAP_TEXT } as const;
  const above = textBlock(point(GAP_MIDDLE, 0), `required: ${required}`, words);
  return group([
    dimension(point(CONDUCTOR_X + 8, 0), point(INSTALLATION.left, 0), ''),
    move(above, 0, -16 - above.box.bottom),
    ...(actual === undefined
      ? []
      : [textBlock(point(GAP_MIDDLE, 18), `present: ${actual}`, { ...words, vertical: 'top' })]),
  ]);
}

function drawBonding({ bonding }: SeparationSectionDefinition, y: number): Mark {
  return group([
    barSymbol(CONDUCTOR_X - 60, INSTALLATION.right + 60, y),
    dot(point(CONDUCTOR_X, y), 9),
    dot(point((INSTALLATION.left + INSTALLATION.right) / 2, y), 9),
    earthSymbol(point(CONDUCTOR_X, y + 7)),
    text(point(INSTALLATION.right + 80, y + 50), 'not to scale', { vertical: 'middle', size: SMALL_SIZE }),
    text(point(INSTALLATION.right + 80, y), bonding ?? 'bonding level', {
      vertical: 'middle',
      size: SMALL_SIZE,
    }),
  ]);
}
