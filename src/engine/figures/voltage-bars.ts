import { group, label, line, type Mark, rect, text } from './drawing.ts';
import { type Point, point } from './geometry.ts';
import { type Hatch, hatchedRect } from './hatch.ts';
import { NotDrawable } from './not-drawable.ts';

/** A voltage in volts, as it is printed beside its bar. */
export interface ShownVoltage {
  readonly size: number;
  readonly shown: string;
}

export interface VoltageBar {
  readonly total: ShownVoltage;
  /** What adds up to it, in order; without parts the bar is one piece. */
  readonly parts: readonly ShownVoltage[];
}

export interface VoltageBars {
  readonly bars: readonly VoltageBar[];
  /** What the voltages must not exceed, each as a line through all bars. */
  readonly limits: readonly ShownVoltage[];
}

const HEIGHT = 34;
const PITCH = 120;
const HATCHES: readonly Hatch[] = ['grey', 'rising', 'white', 'falling'];

/**
 * Voltages as bars from nought to one scale, with the limits that they are held against. The upper left corner is at the given point.
 *
 * @throws {NotDrawable} where a voltage is negative or no number, or all are nothing
 */
export function drawVoltageBars({ bars, limits }: VoltageBars, at: Point, width: number): Mark {
  const all = [...bars.map(({ total }) => total), ...limits].map(({ size }) => size);
  const most = Math.max(...all);
  if (!(most > 0 && most < 1e15) || all.some((size) => !(size >= 0)))
    throw new NotDrawable(`bars of ${all.join(', ')} V`);
  const x = (size: number): number => at.x + (size / most) * width;
  const bottom = at.y + (bars.length - 1) * PITCH + HEIGHT;
  return group([
    ...bars.map((bar, index) => drawBar(bar, x, at.y + index * PITCH)),
    line(point(at.x, at.y - 16), point(at.x, bottom + 16), { weight: 'medium' }),
    text(point(at.x - 10, at.y + HEIGHT / 2), '0', { anchor: 'end', vertical: 'middle' }),
    ...limits.map(({ size, shown }) => drawLimit(x(size), at.y - 34, bottom + 22, shown)),
  ]);
}

function drawBar({ total, parts }: VoltageBar, x: (size: number) => number, top: number): Mark {
  let from = 0;
  const pieces = (parts.length > 0 ? parts : [total]).map(({ size }, index) => {
    const box = { left: x(from), right: x(from + size), top, bottom: top + HEIGHT };
    from += size;
    return size > 0 ? hatchedRect(box, HATCHES[index % HATCHES.length]!) : group([]);
  });
  let start = 0;
  const names = parts.map(({ size, shown }) => {
    const middle = x(start + size / 2);
    start += size;
    return label(point(middle, top + HEIGHT), shown, { sides: ['below', 'left', 'right'] });
  });
  return group([
    ...pieces,
    rect({ left: x(0), right: x(total.size), top, bottom: top + HEIGHT }, { weight: 'medium' }),
    label(point(x(total.size), top + HEIGHT / 2), total.shown, {
      sides: ['right', 'above', 'below'],
      joined: true,
    }),
    ...names,
  ]);
}

/** Strokes on the side that must not be reached. */
function drawLimit(x: number, top: number, bottom: number, shown: string): Mark {
  const strokes: Mark[] = [];
  for (let y = top + 14; y < bottom; y += 20)
    strokes.push(line(point(x, y), point(x + 12, y - 12), { weight: 'hair' }));
  return group([
    line(point(x, top), point(x, bottom), { weight: 'strong' }),
    ...strokes,
    label(point(x, top), shown, { sides: ['above', 'left', 'right'] }),
  ]);
}
