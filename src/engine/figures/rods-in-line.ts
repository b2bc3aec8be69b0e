import { dimension } from './annotations.ts';
import { group, label, line, type Mark } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { point } from './geometry.ts';
import { NotDrawable } from './not-drawable.ts';
import { chooseScale, sayScale, scaleBar } from './scale.ts';
import { finishDrawing } from './sheet.ts';
import { conductor, groundLine } from './symbols.ts';

export interface RodsInLineDefinition {
  /** What is shown and found, for the text alternative: whole sentences. */
  readonly title: string;
  readonly count: number;
  readonly length: Measured;
  /** As printed, with its symbol. */
  readonly diameter: string;
  /** Between neighbours; needed where there are several. */
  readonly spacing?: Measured;
  /** As printed, with its symbol: '*ρ* = 50 Ω m'. */
  readonly resistivity: string;
  readonly resistance?: string;
}

const MOST_DRAWN = 60;
const ROOM = { width: 1150, height: 560 } as const;
/** The conductor that joins the rods, over the ground: its height has no meaning. */
const LINE_ABOVE = 30;

/**
 * A rod, or several in a line, driven into the soil: length and spacing to one scale. Of very many the first sixty are drawn.
 *
 * @throws {NotDrawable} where the count is no whole number from 1, or a length is nothing or too large for any scale
 */
export function drawRodsInLine(definition: RodsInLineDefinition): string {
  const { count, length, spacing } = definition;
  if (!(Number.isInteger(count) && count >= 1)) throw new NotDrawable(`a figure cannot show ${count} rods`);
  const apart = count > 1 ? (spacing?.length ?? length.length) : 0;
  if (!(length.length > 0 && apart >= 0))
    throw new NotDrawable(`a figure cannot show rods of ${length.length} m`);
  const drawn = Math.min(count, MOST_DRAWN);
  const scale = chooseScale({ width: apart * (drawn - 1), height: length.length }, ROOM);
  const [depth, gap] = [scale.of(length.length), scale.of(apart)];
  const places = Array.from({ length: drawn }, (_, index) => index * gap);
  const last = places.at(-1)!;
  return finishDrawing(
    [
      groundLine(-170, last + 190, 0),
      ...places.map((x) => drawRod(x, depth)),
      conductor(
        count > 1
          ? [point(0, -LINE_ABOVE), point(last, -LINE_ABOVE)]
          : [point(0, -LINE_ABOVE), point(0, -2 * LINE_ABOVE)],
        'line',
      ),
      dimension(point(0, 0), point(0, depth), length.shown, { offset: -64 }),
      ...(count > 1 && spacing !== undefined
        ? [dimension(point(0, -LINE_ABOVE), point(gap, -LINE_ABOVE), spacing.shown, { offset: 46 })]
        : []),
      label(point(last, depth * 0.7), definition.diameter, { joined: true }),
      label(point(last + 60, depth * 0.3), definition.resistivity),
      ...(definition.resistance === undefined
        ? []
        : [label(point(last, -LINE_ABOVE), definition.resistance, { sides: ['right', 'above'] })]),
      ...(count > drawn ? [label(point(last, depth), `the first ${drawn} of ${count} rods`)] : []),
    ],
    { label: `Section, ${sayScale(scale).toLowerCase()}. ${definition.title}`, foot: scaleBar(scale) },
  );
}

function drawRod(x: number, length: number): Mark {
  return group([
    line(point(x, -LINE_ABOVE), point(x, 0), { weight: 'medium' }),
    line(point(x, 0), point(x, length), { weight: 'bold' }),
  ]);
}
