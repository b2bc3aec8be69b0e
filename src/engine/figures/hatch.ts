import { group, type Mark, rect, strokes } from './drawing.ts';
import { type Box, clipSegment, point, type Segment } from './geometry.ts';
import { NotDrawable } from './not-drawable.ts';

/**
 * How areas are told apart in black and white. Hatching is drawn as lines, each cut to its box: no `<pattern>`, no clip
 * path, no id.
 */
export type Hatch = 'white' | 'rising' | 'grey' | 'crossed' | 'level' | 'dark' | 'falling' | 'dotted';

const PITCH = 14;

export function hatchedRect(box: Box, hatch: Hatch): Mark {
  const fill = hatch === 'grey' ? 'middle' : hatch === 'dark' ? 'dark' : 'white';
  return group([rect(box, { fill, noLine: true }), hatchLines(box, hatch), rect(box, { weight: 'thin' })]);
}

function hatchLines(box: Box, hatch: Hatch): Mark {
  if (hatch === 'rising') return drawLines(slopes(box, -1, PITCH));
  if (hatch === 'falling') return drawLines(slopes(box, 1, PITCH));
  if (hatch === 'crossed')
    return drawLines([...slopes(box, -1, PITCH * 1.3), ...slopes(box, 1, PITCH * 1.3)]);
  if (hatch === 'level') return drawLines(levels(box, 9));
  if (hatch === 'dotted') return drawLines(levels(box, 11), 'dotted');
  return group([]);
}

/** Lines at 45 degrees that lie on one grid of the whole sheet, so that neighbouring areas do not jump. */
function slopes(box: Box, slope: 1 | -1, pitch: number): readonly Segment[] {
  const step = pitch * Math.SQRT2;
  const height = box.bottom - box.top;
  const start = slope === 1 ? box.left - height : box.left;
  const end = slope === 1 ? box.right : box.right + height;
  const segments: Segment[] = [];
  refuseTooMany((end - start) / step);
  for (let x = Math.ceil(start / step) * step; x < end; x += step) {
    const whole = { from: point(x, box.top), to: point(x + slope * height, box.bottom) };
    const part = clipSegment(whole, box);
    if (part !== undefined) segments.push(part);
  }
  return segments;
}

function levels(box: Box, pitch: number): readonly Segment[] {
  const count = Math.floor((box.bottom - box.top) / pitch);
  refuseTooMany(count);
  const first = (box.bottom - box.top - (count - 1) * pitch) / 2;
  return Array.from({ length: Math.max(0, count) }, (_, row) => {
    const y = box.top + first + row * pitch;
    return { from: point(box.left, y), to: point(box.right, y) };
  });
}

function drawLines(segments: readonly Segment[], dash: 'solid' | 'dotted' = 'solid'): Mark {
  return strokes(segments, { weight: dash === 'solid' ? 'hair' : 'medium', dash });
}

/** More than fit a page by far: an area whose size is at fault. */
const MOST_LINES = 5000;

function refuseTooMany(count: number): void {
  if (!(count <= MOST_LINES)) throw new NotDrawable(`an area would be hatched with ${count} lines`);
}
