import { DASHES, group, INK, type Mark, onPaper, rect, STROKES } from './drawing.ts';
import { type Box, clipSegment, point, type Segment } from './geometry.ts';
import { writeAttributes } from './svg-text.ts';

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
  if (hatch === 'rising') return drawLines(slopes(box, -1, PITCH), box);
  if (hatch === 'falling') return drawLines(slopes(box, 1, PITCH), box);
  if (hatch === 'crossed')
    return drawLines([...slopes(box, -1, PITCH * 1.3), ...slopes(box, 1, PITCH * 1.3)], box);
  if (hatch === 'level') return drawLines(levels(box, 9), box);
  if (hatch === 'dotted') return drawLines(levels(box, 11), box, 'dotted');
  return group([]);
}

/** Lines at 45 degrees that lie on one grid of the whole sheet, so that neighbouring areas do not jump. */
function slopes(box: Box, slope: 1 | -1, pitch: number): readonly Segment[] {
  const step = pitch * Math.SQRT2;
  const height = box.bottom - box.top;
  const start = slope === 1 ? box.left - height : box.left;
  const end = slope === 1 ? box.right : box.right + height;
  const segments: Segment[] = [];
  for (let x = Math.ceil(start / step) * step; x < end; x += step) {
    const whole = { from: point(x, box.top), to: point(x + slope * height, box.bottom) };
    const part = clipSegment(whole, box);
    if (part !== undefined) segments.push(part);
  }
  return segments;
}

function levels(box: Box, pitch: number): readonly Segment[] {
  const count = Math.floor((box.bottom - box.top) / pitch);
  const first = (box.bottom - box.top - (count - 1) * pitch) / 2;
  return Array.from({ length: Math.max(0, count) }, (_, row) => {
    const y = box.top + first + row * pitch;
    return { from: point(box.left, y), to: point(box.right, y) };
  });
}

/** All lines of a hatching in one path: short text, and one stroke for the printer. */
function drawLines(segments: readonly Segment[], box: Box, dash?: 'dotted'): Mark {
  if (segments.length === 0) return group([]);
  const d = segments.map(({ from, to }) => `M${onPaper(from)}L${onPaper(to)}`).join('');
  const look = writeAttributes({
    d,
    fill: 'none',
    stroke: INK,
    'stroke-width': dash === undefined ? STROKES.hair : 3,
    'stroke-dasharray': dash === undefined ? undefined : DASHES.dotted,
  });
  return { svg: `<path${look}/>`, box, labels: [] };
}
