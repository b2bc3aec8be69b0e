import { group, line, type Mark, rect, text, textBlock } from './drawing.ts';
import { type Point, point } from './geometry.ts';
import { measureMarkedText } from './marked-text.ts';
import { NotDrawable } from './not-drawable.ts';
import { HALF_WIDTH } from './style.ts';

/** A scale of reduction, 1 to `reduction`; below 1 of enlargement. One for both axes. */
export interface Scale {
  readonly reduction: number;
  /** '1:200', '5:1'. */
  readonly name: string;
  /** On paper, in 0.1 mm, of a length in metres. */
  of(length: number): number;
}

/** Steps within a decade: those of ISO 5455, and 2.5, which is customary in plans (common practice). */
const STEPS = [1, 2, 2.5, 5] as const;
const UNITS_PER_METRE = 10_000;

/** The scale 1 to `reduction`, whatever it is. */
export function scaleOf(reduction: number): Scale {
  const round = (value: number): string => String(Number(value.toPrecision(6)));
  return {
    reduction,
    name: reduction >= 1 ? `1:${round(reduction)}` : `${round(1 / reduction)}:1`,
    of: (length) => (length * UNITS_PER_METRE) / reduction,
  };
}

/**
 * The largest scale of the series at which an extent in metres fits into a room on paper.
 *
 * @throws {NotDrawable} where the extent is nothing, or no number
 */
export function chooseScale(
  extent: { readonly width: number; readonly height: number },
  room: { readonly width: number; readonly height: number },
): Scale {
  const least = Math.max(
    (extent.width * UNITS_PER_METRE) / room.width,
    (extent.height * UNITS_PER_METRE) / room.height,
  );
  if (!(least > 1e-9 && least < 1e12))
    throw new NotDrawable(`no scale for ${extent.width} m by ${extent.height} m`);
  const decade = 10 ** Math.floor(Math.log10(least));
  // A hundredth of a percent too large still fits.
  const step = STEPS.find((each) => each * decade >= least * 0.9999) ?? 10;
  return scaleOf(step * decade);
}

/** The scale in the words of a text alternative. */
export function sayScale(scale: Scale | undefined): string {
  return scale === undefined ? 'Not to scale' : `Scale ${scale.name}`;
}

const BAR_HEIGHT = 10;
const LONGEST_BAR = 420;
const LONGEST_NOTE = 300;

/**
 * The scale as a bar with its length, and as a ratio. The ratio holds for the drawing in its own size: where a page shows it in
 * another one, the style sheet hides the class `fig-ratio`, and the bar remains. Its upper left corner is at the given point. A long
 * note stands above it.
 */
export function scaleBar(scale: Scale, at: Point = point(0, 0), note = ''): Mark {
  if (measureMarkedText(note) > LONGEST_NOTE) {
    const above = textBlock(point(at.x, at.y + 4), note, { vertical: 'top', width: HALF_WIDTH - 40 });
    return group([above, scaleBar(scale, point(at.x, above.box.bottom + 6))]);
  }
  const longest = (LONGEST_BAR * scale.reduction) / UNITS_PER_METRE;
  const decade = 10 ** Math.floor(Math.log10(longest));
  const length = [4, 2, 1].map((step) => step * decade).find((each) => each <= longest)!;
  const before = note === '' ? 0 : measureMarkedText(note) + 14;
  const left = at.x + before + measureMarkedText(scale.name) + 40;
  const paper = scale.of(length);
  const top = at.y + 40;
  const part = (from: number, to: number, fill: 'ink' | 'white'): Mark =>
    rect(
      { left: left + from * paper, right: left + to * paper, top, bottom: top + BAR_HEIGHT },
      { weight: 'thin', fill },
    );
  const [small, unit] = length < 1 ? [1000, 'mm'] : [1, 'm'];
  const number = (value: number): string => String(Number((value * small).toPrecision(6)));
  return group([
    text(point(at.x, top + BAR_HEIGHT / 2), note, { vertical: 'middle' }),
    group(
      [text(point(at.x + before, top + BAR_HEIGHT / 2), scale.name, { vertical: 'middle' })],
      'fig-ratio',
    ),
    part(0, 0.25, 'ink'),
    part(0.25, 0.5, 'white'),
    part(0.5, 1, 'ink'),
    ...[0, 0.5, 1].map((share) =>
      line(point(left + share * paper, top), point(left + share * paper, top - 8), { weight: 'hair' }),
    ),
    text(point(left, top - 18), '0', { anchor: 'middle' }),
    ...(paper < 200
      ? []
      : [text(point(left + paper / 2, top - 18), number(length / 2), { anchor: 'middle' })]),
    text(point(left + paper, top - 18), `${number(length)} ${unit}`, { anchor: 'middle' }),
  ]);
}
