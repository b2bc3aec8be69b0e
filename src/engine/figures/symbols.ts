import { arrowhead } from './annotations.ts';
import { circle, group, line, type Mark, polyline, rect, textBlock } from './drawing.ts';
import { type Box, type Point, point } from './geometry.ts';
import { NotDrawable } from './not-drawable.ts';
import type { Style, Weight } from './style.ts';

/** Earth: a stub and three level strokes that grow shorter, as in IEC 60617. `at` is where the conductor arrives. */
export function earthSymbol(
  at: Point,
  style: { readonly size?: number; readonly weight?: Weight } = {},
): Mark {
  const size = style.size ?? 60;
  const weight = style.weight ?? 'medium';
  const stub = size * 0.3;
  const strokes = [0.5, 0.32, 0.14].map((half, row) => {
    const y = at.y + stub + row * size * 0.2;
    return line(point(at.x - half * size, y), point(at.x + half * size, y), { weight });
  });
  return group([line(at, point(at.x, at.y + stub), { weight }), ...strokes]);
}

/** Far wider than any page: ends that are at fault. */
const LONGEST_GROUND = 100_000;

/** The surface of the soil with short slanting strokes below it. */
export function groundLine(left: number, right: number, y: number): Mark {
  if (!(right - left < LONGEST_GROUND)) throw new NotDrawable(`a ground line of ${right - left}`);
  const strokes: Mark[] = [];
  for (let x = left + 16; x <= right; x += 26)
    strokes.push(line(point(x, y), point(x - 14, y + 14), { weight: 'hair' }));
  return group([line(point(left, y), point(right, y), { weight: 'thin' }), ...strokes]);
}

/** Surge arrester: a case with an arrow that runs from its head towards a bar at its foot. */
export function arresterSymbol(top: Point, height: number, width = height * 0.45): Mark {
  const [middle, foot] = [top.y + height * 0.62, top.y + height];
  const bar = top.y + height * 0.78;
  return group([
    caseBox(top, height, width),
    line(top, point(top.x, middle - 12), { weight: 'medium' }),
    arrowhead(top, point(top.x, middle), Math.min(30, height * 0.28)),
    line(point(top.x - width * 0.28, bar), point(top.x + width * 0.28, bar), { weight: 'medium' }),
    line(point(top.x, bar), point(top.x, foot), { weight: 'medium' }),
  ]);
}

/** Voltage-dependent resistor: a case crossed by a slanting line with a level foot. */
export function varistorSymbol(top: Point, height: number, width = height * 0.45): Mark {
  const reach = width / 2 + 22;
  const [low, high] = [top.y + height * 0.8, top.y + height * 0.2];
  return group([
    caseBox(top, height, width),
    polyline([point(top.x - reach - 16, low), point(top.x - reach, low), point(top.x + reach, high)], {
      weight: 'thin',
    }),
  ]);
}

/** Fuse: a case through which the conductor runs. */
export function fuseSymbol(
  top: Point,
  height: number,
  width = height * 0.38,
  weight: Weight = 'medium',
): Mark {
  return group([caseBox(top, height, width), line(top, point(top.x, top.y + height), { weight })]);
}

/** Disconnector: a blade, open, hinged at the lower contact, with a stroke across the fixed upper one. */
export function disconnectorSymbol(top: Point, height: number, weight: Weight = 'medium'): Mark {
  const [fixed, hinge] = [top.y + height * 0.2, top.y + height * 0.85];
  return group([
    line(top, point(top.x, fixed), { weight }),
    line(point(top.x - 14, fixed), point(top.x + 14, fixed), { weight: 'medium' }),
    line(point(top.x, hinge), point(top.x - height * 0.3, fixed), { weight: 'medium' }),
    line(point(top.x, hinge), point(top.x, top.y + height), { weight }),
  ]);
}

/** Transformer: two circles that overlap, one below the other; `top` is the terminal. */
export function transformerSymbol(top: Point, height: number): Mark {
  const radius = height / 3.3;
  return group([
    circle(point(top.x, top.y + radius), radius, { weight: 'medium' }),
    circle(point(top.x, top.y + height - radius), radius, { weight: 'medium' }),
  ]);
}

/** A box for a piece of equipment with its name in the middle. */
export function equipmentBox(box: Box, label: string, style: Style = {}): Mark {
  const middle = point((box.left + box.right) / 2, (box.top + box.bottom) / 2);
  return group([
    rect(box, { weight: 'medium', fill: 'white', ...(style.dash === undefined ? {} : { dash: style.dash }) }),
    textBlock(middle, label, {
      anchor: 'middle',
      vertical: 'middle',
      width: box.right - box.left - 16,
    }),
  ]);
}

/** What a conductor means in a sketch. */
export const CONDUCTORS = {
  /** A live conductor that is not in question. */
  line: { weight: 'medium' },
  /** Counts in the loop between arrester and protected insulation. */
  counted: { weight: 'bold' },
  /** Carries current, but does not count. */
  uncounted: { weight: 'thin', dash: 'dashed' },
  /** Earthing and bonding conductors that are not in question. */
  bond: { weight: 'thin' },
} as const satisfies Readonly<Record<string, Style>>;
export type ConductorKind = keyof typeof CONDUCTORS;

export function conductor(points: readonly Point[], kind: ConductorKind): Mark {
  return polyline(points, CONDUCTORS[kind]);
}

/** A bus-bar or an earth bar, seen from the front; `y` is its middle. */
export function barSymbol(left: number, right: number, y: number): Mark {
  return rect({ left, top: y - 7, right, bottom: y + 7 }, { weight: 'thin', fill: 'light' });
}

function caseBox(top: Point, height: number, width: number): Mark {
  const box = { left: top.x - width / 2, top: top.y, right: top.x + width / 2, bottom: top.y + height };
  return rect(box, { weight: 'medium', fill: 'white' });
}
