import { group, type Mark, move, text } from './drawing.ts';
import { growBox, point } from './geometry.ts';
import { plainText } from './marked-text.ts';
import { settleLabels } from './settle-labels.ts';
import { COLUMN_WIDTH, HALF_WIDTH } from './style.ts';
import { coordinate, writeAttributes } from './svg-text.ts';

export interface SheetOptions {
  /** What the figure shows, with its values: the text alternative. May carry markup. */
  readonly label: string;
  /** Stands below the drawing and its labels, at its left: the scale, the key. */
  readonly foot?: Mark;
  /** What the figure may take up; the column where absent. Labels are placed within it as far as they find room there. */
  readonly width?: number;
}

const MARGIN = 10;
/** What a drawing with its labels may take up. */
export const ROOM = COLUMN_WIDTH - 2 * MARGIN;
/** And one that stands beside another, or beside text. */
export const HALF_ROOM = HALF_WIDTH - 2 * MARGIN;
const FOOT_DISTANCE = 34;
const TITLE_DISTANCE = 30;

/** A drawing with all its labels placed, and with what stands at its foot. */
export function finishView(marks: readonly Mark[], foot: Mark | undefined, width = ROOM): Mark {
  const settled = settleLabels(group(marks), width);
  if (foot === undefined || foot.svg === '') return settled;
  const below = settled.box.bottom + FOOT_DISTANCE - foot.box.top;
  return group([settled, move(foot, settled.box.left - foot.box.left, below)]);
}

/** A finished view with its name above it. */
export function titledView(
  title: string,
  marks: readonly Mark[],
  foot: Mark | undefined,
  width: number,
): Mark {
  const view = finishView(marks, undefined, width);
  const middle = (view.box.left + view.box.right) / 2;
  const name = text(point(middle, view.box.top - TITLE_DISTANCE), title, {
    anchor: 'middle',
    weight: 'semibold',
  });
  return finishView([group([view, name])], foot, width);
}

/**
 * The finished `<svg>`, cropped to what is drawn. Where it is wider than the column it is scaled down as a whole, so
 * that nothing is ever cut off; the figures of this folder keep within the column for labels of ordinary length.
 */
export function finishDrawing(marks: readonly Mark[], options: SheetOptions): string {
  const whole = finishView(marks, options.foot, (options.width ?? COLUMN_WIDTH) - 2 * MARGIN);
  const drawn = growBox(whole.box, MARGIN);
  const [width, height] = [drawn.right - drawn.left, drawn.bottom - drawn.top];
  const scale = Math.min(1, COLUMN_WIDTH / width) / 10;
  const attributes = writeAttributes({
    role: 'img',
    'aria-label': plainText(options.label),
    xmlns: 'http://www.w3.org/2000/svg',
    class: 'fig',
    viewBox: [drawn.left, drawn.top, width, height].map(coordinate).join(' '),
    width: `${coordinate(width * scale)}mm`,
    height: `${coordinate(height * scale)}mm`,
  });
  return `<svg${attributes}>${whole.svg}</svg>`;
}

const BETWEEN = 90;

/** Finished views beside each other on one foot where both fit the column, else one below the other. */
export function arrangeViews(views: readonly Mark[]): Mark {
  const widths = views.map(({ box }) => box.right - box.left);
  const inRow = widths.reduce((sum, width) => sum + width, BETWEEN * (views.length - 1)) <= ROOM;
  let [x, y] = [0, 0];
  return group(
    views.map((view, index) => {
      const placed = move(view, x - view.box.left, inRow ? -view.box.bottom : y - view.box.top);
      if (inRow) x += widths[index]! + BETWEEN;
      else y += view.box.bottom - view.box.top + BETWEEN;
      return placed;
    }),
  );
}
