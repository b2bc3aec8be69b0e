import { dimension } from './annotations.ts';
import { finishDrawing, group, line, type Mark, path, rect, SMALL_SIZE, text } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { point } from './geometry.ts';
import { NotDrawable } from './not-drawable.ts';
import { conductor, groundLine } from './symbols.ts';

export interface RodsInLineDefinition {
  /** The text alternative. */
  readonly title: string;
  readonly count: number;
  readonly length: Measured;
  readonly diameter: Measured;
  /** Between neighbours; needed where there are several. */
  readonly spacing?: Measured;
  /** As printed, with its symbol: '*ρ* = 50 Ω m'. */
  readonly resistivity: string;
  readonly resistance?: string;
}

const MOST_DRAWN = 6;
/** On paper: the longest and the shortest rod, and the spacing between its bounds. */
const ROD = { longest: 460, shortest: 200 } as const;
const SPACING = { widest: 420, narrowest: 110 } as const;
/** Leaves room in the column for labels of ordinary length on both sides. */
const WIDEST_ROW = 1020;
const ROD_WIDTH = 12;
const LINE_ABOVE = 36;

/**
 * A rod, or several in a line, driven into the soil. Length and spacing keep their proportion as far as both stay
 * legible; of more than six rods the first five and the last are drawn.
 *
 * @throws {NotDrawable} where the count is no whole number from 1, or a length is negative or not finite
 */
export function drawRodsInLine(definition: RodsInLineDefinition): string {
  const { count, length, spacing } = definition;
  if (!(Number.isInteger(count) && count >= 1)) throw new NotDrawable(`a sketch cannot show ${count} rods`);
  const size = fitRods(length.length, spacing?.length ?? length.length);
  const drawn = Math.min(count, MOST_DRAWN);
  const gap = count > 1 ? Math.min(size.spacing, WIDEST_ROW / (drawn - 1)) : 0;
  const places = Array.from({ length: drawn }, (_, index) => index * gap);
  const last = places.at(-1)!;
  const broken = count > MOST_DRAWN;
  return finishDrawing(
    [
      groundLine(-170, last + 190, 0),
      ...places.map((x) => drawRod(x, size.length)),
      ...(count > 1
        ? [connectRods(places, broken)]
        : [conductor([point(0, 0), point(0, -LINE_ABOVE - 20)], 'line')]),
      dimension(point(0, 0), point(0, size.length), length.shown, { offset: -64, label: 'beside' }),
      ...(count > 1 && spacing !== undefined
        ? [dimension(point(0, -LINE_ABOVE), point(gap, -LINE_ABOVE), spacing.shown, { offset: 46 })]
        : []),
      drawDiameter(last, size.length, definition.diameter.shown),
      text(point(last + 40, size.length + 34), 'not to scale', { size: SMALL_SIZE }),
      text(point(last + 40, size.length * 0.42), definition.resistivity, { size: SMALL_SIZE }),
      text(point(last + 40, size.length * 0.42 + 36), definition.resistance ?? '', { size: SMALL_SIZE }),
      ...(broken
        ? [
            text(point(last / 2, size.length + 50), `${count} rods in all`, {
              anchor: 'middle',
              size: SMALL_SIZE,
            }),
          ]
        : []),
    ],
    { label: definition.title },
  );
}

function fitRods(length: number, spacing: number): { readonly length: number; readonly spacing: number } {
  if (!(length >= 0 && spacing >= 0 && Number.isFinite(length) && Number.isFinite(spacing)))
    throw new NotDrawable(`a sketch cannot show rods of ${length} m at ${spacing} m`);
  const scale = Math.min(ROD.longest / Math.max(length, 1e-300), SPACING.widest / Math.max(spacing, 1e-300));
  return {
    length: Math.max(ROD.shortest, Math.min(ROD.longest, length * scale)),
    spacing: Math.max(SPACING.narrowest, Math.min(SPACING.widest, spacing * scale)),
  };
}

function drawRod(x: number, length: number): Mark {
  const half = ROD_WIDTH / 2;
  const tip = [point(x - half, length - 14), point(x, length), point(x + half, length - 14)];
  return group([
    rect(
      { left: x - half, top: -14, right: x + half, bottom: length - 14 },
      { weight: 'thin', fill: 'middle' },
    ),
    path(`M${x - half} ${length - 14}L${x} ${length}L${x + half} ${length - 14}Z`, tip, {
      weight: 'thin',
      fill: 'middle',
    }),
  ]);
}

/** The conductor above ground that joins the rods, with a gap before the last where not all are drawn. */
function connectRods(places: readonly number[], broken: boolean): Mark {
  const last = places.at(-1)!;
  const stubs = places.map((x) => line(point(x, -14), point(x, -LINE_ABOVE), { weight: 'medium' }));
  if (!broken) return group([...stubs, conductor([point(0, -LINE_ABOVE), point(last, -LINE_ABOVE)], 'line')]);
  const before = places.at(-2)!;
  const third = (last - before) / 3;
  return group([
    ...stubs,
    conductor([point(0, -LINE_ABOVE), point(before + third, -LINE_ABOVE)], 'line'),
    line(point(before + third, -LINE_ABOVE), point(last - third, -LINE_ABOVE), {
      weight: 'medium',
      dash: 'dotted',
    }),
    conductor([point(last - third, -LINE_ABOVE), point(last, -LINE_ABOVE)], 'line'),
  ]);
}

function drawDiameter(x: number, length: number, label: string): Mark {
  const half = ROD_WIDTH / 2;
  const y = length * 0.75;
  return group([
    dimension(point(x - half, y), point(x + half, y), ''),
    text(point(x + half + 56, y), label, { vertical: 'middle', size: SMALL_SIZE }),
  ]);
}
