import { chooseBox } from './declutter.ts';
import { LINE_SPACING, type Mark, SMALL_SIZE, text } from './drawing.ts';
import { type Box, growBox, point } from './geometry.ts';

export interface LabelOverLine {
  readonly label: Mark;
  /** Where the line has to end so as to meet its label. */
  readonly lineTop: number;
}

const ROWS = [0, 1, 2, 3, 4, 5];
const LINE_HEIGHT = SMALL_SIZE * LINE_SPACING * 1.1;

/**
 * Labels for upright lines at positions `at`, each over its line or beside its upper end, in the lowest row in which it
 * covers neither another label nor another line. `foot` is the baseline of the lowest row.
 */
export function labelOverLines(
  lines: readonly { readonly at: number; readonly label: string }[],
  foot: number,
  weight: 'regular' | 'semibold' = 'regular',
): readonly LabelOverLine[] {
  const taken: Box[] = [];
  return lines.map(({ at, label }, index) => {
    // Another line may run up through every row.
    const others = lines
      .filter((_, other) => other !== index)
      .map((other) => ({ from: point(other.at, foot + 20), to: point(other.at, foot - 1000) }));
    const candidates = ROWS.flatMap((row) => aroundLine(at, foot - row * LINE_HEIGHT, label, weight));
    const chosen =
      candidates[
        chooseBox(
          candidates.map((each) => each.box),
          taken,
          others,
        )
      ]!;
    taken.push(growBox(chosen.box, 6));
    const over = chosen.box.left < at && chosen.box.right > at;
    return { label: chosen, lineTop: over ? chosen.box.bottom : chosen.box.top };
  });
}

function aroundLine(
  at: number,
  foot: number,
  label: string,
  weight: 'regular' | 'semibold',
): readonly Mark[] {
  const look = { size: SMALL_SIZE, weight } as const;
  return [
    text(point(at, foot), label, { ...look, anchor: 'middle' }),
    text(point(at + 10, foot), label, look),
    text(point(at - 10, foot), label, { ...look, anchor: 'end' }),
  ];
}
