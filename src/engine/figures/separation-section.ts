import { dimension } from './annotations.ts';
import { label, line, type Mark, rect, text } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { type Point, point } from './geometry.ts';
import { hatchedRect } from './hatch.ts';
import { dot } from './joints.ts';
import { layLengths } from './lengths-to-scale.ts';
import { NotDrawable } from './not-drawable.ts';
import { chooseScale, sayScale, scaleBar } from './scale.ts';
import { arrangeViews, finishDrawing, titledView } from './sheet.ts';
import { barSymbol, conductor, earthSymbol } from './symbols.ts';

export interface SeparationSectionDefinition {
  /** What is shown and found, for the text alternative: whole sentences. */
  readonly title: string;
  /** The way from the place of the proximity to the bonding level, in order; `share` is the current share as printed. */
  readonly path: readonly (Measured & { readonly share?: string })[];
  /** The separation that is required, as printed with its symbol: '*s* = 0.42 m'. */
  readonly required: Measured;
  /** The gap that there is, as printed. */
  readonly actual?: Measured;
  /** What lies in the gap: 'air', 'brickwork'. A solid is hatched. */
  readonly material: { readonly name: string; readonly solid: boolean };
  /** What is near the conductor: 'ventilation duct'. */
  readonly installation: string;
  readonly bonding?: string;
}

const PATH_ROOM = 780;
const LEAST = 30;
const GAP_ROOM = { width: 460, height: 460 } as const;
/** Of the installation in the section along the path, where the gap is too small to be seen to scale. */
const INSTALLATION = { left: 120, right: 180 } as const;
const ABOVE = 90;

/**
 * Down conductor and installation in two views, each to its scale: along the path that counts, and across the gap, where the
 * separation that is required stands beside the one there is.
 */
export function drawSeparationSection(definition: SeparationSectionDefinition): string {
  const path = pathView(definition);
  const gap = gapView(definition);
  return finishDrawing([arrangeViews([path.mark, gap.mark])], {
    label: `Two sections: the path (${path.says}) and the gap (${gap.says}). ${definition.title}`,
  });
}

interface View {
  readonly mark: Mark;
  readonly says: string;
}

/** The length of conductor that counts is bold, from the place of the proximity down to the bonding level. */
function pathView(definition: SeparationSectionDefinition): View {
  const { path, bonding = 'bonding level' } = definition;
  const { drawn, scale } = layLengths(path, PATH_ROOM, LEAST);
  const joints: Point[] = [point(0, 0)];
  for (const height of drawn) joints.push(point(0, joints.at(-1)!.y + height));
  const bonded = joints.at(-1)!.y;
  const middle = (INSTALLATION.left + INSTALLATION.right) / 2;
  const mark = titledView(
    'Path that counts',
    [
      conductor([point(0, -ABOVE), point(0, 0)], 'line'),
      conductor([point(0, 0), point(0, bonded)], 'counted'),
      ...joints.map((joint) => dot(joint, 8)),
      rect({ ...INSTALLATION, top: -60, bottom: bonded - 40 }, { weight: 'medium', fill: 'light' }),
      conductor([point(middle, bonded - 40), point(middle, bonded)], 'bond'),
      line(point(8, 0), point(INSTALLATION.left, 0), { weight: 'hair', dash: 'short' }),
      barSymbol(-60, INSTALLATION.right + 60, bonded),
      dot(point(0, bonded), 9),
      dot(point(middle, bonded), 9),
      earthSymbol(point(0, bonded + 7)),
      ...path.map((part, index) =>
        dimension(
          joints[index]!,
          joints[index + 1]!,
          part.share === undefined ? part.shown : `${part.shown}\n${part.share}`,
          { offset: -56, sides: ['left'], stacked: true },
        ),
      ),
      label(point(40, 0), 'gap', { sides: ['above', 'below'] }),
      label(point(INSTALLATION.right, bonded * 0.4), definition.installation, { joined: true, width: 260 }),
      label(point(INSTALLATION.right + 60, bonded), bonding, { width: 260 }),
    ],
    scale === undefined ? text(point(0, 0), 'not to scale') : scaleBar(scale, point(0, 0), 'path'),
    820,
  );
  return { mark, says: sayScale(scale).toLowerCase() };
}

/** Conductor and installation at the gap: the required separation over the dimension of the gap there is. */
function gapView(definition: SeparationSectionDefinition): View {
  const { required, actual, material } = definition;
  for (const { length } of [required, actual ?? required])
    if (!(length >= 0 && length < 1e6)) throw new NotDrawable(`no gap of ${length} m`);
  const widest = Math.max(required.length, actual?.length ?? 0);
  const scale = chooseScale({ width: widest, height: 0 }, GAP_ROOM);
  const [needed, present] = [scale.of(required.length), scale.of(actual?.length ?? required.length)];
  const bottom = 300;
  const mark = titledView(
    'Gap',
    [
      ...(material.solid && present > 12
        ? [hatchedRect({ left: 6, top: 130, right: present, bottom }, 'rising')]
        : []),
      line(point(0, -60), point(0, bottom), { weight: 'bold' }),
      rect({ left: present, top: -60, right: present + 60, bottom }, { weight: 'medium', fill: 'light' }),
      ...(actual === undefined
        ? []
        : [
            dimension(point(0, bottom), point(present, bottom), actual.shown, {
              offset: -50,
              sides: ['below', 'right'],
            }),
          ]),
      line(point(needed, -80), point(needed, 110), { weight: 'medium', dash: 'dashed' }),
      dimension(point(0, -60), point(needed, -60), required.shown, { offset: 40, sides: ['above', 'right'] }),
      label([point(present / 2, 210), point(0, 210)], material.name, {
        joined: true,
        sides: ['left', 'above'],
      }),
      label(point(0, 40), 'conductor', { sides: ['left'], joined: true }),
      label(point(present + 60, 210), definition.installation, { joined: true, width: 300 }),
    ],
    scaleBar(scale, point(0, 0), 'gap'),
    760,
  );
  return { mark, says: sayScale(scale).toLowerCase() };
}
