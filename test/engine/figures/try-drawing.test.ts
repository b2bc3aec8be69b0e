import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  arc,
  circle,
  group,
  label,
  line,
  move,
  polygon,
  polyline,
  rect,
  strokes,
  text,
  textBlock,
} from '../../../src/engine/figures/drawing.ts';
import { point } from '../../../src/engine/figures/geometry.ts';
import { NotDrawable } from '../../../src/engine/figures/not-drawable.ts';
import { finishDrawing } from '../../../src/engine/figures/sheet.ts';
import { tryDrawing } from '../../../src/engine/figures/trial-drawing.ts';
import { trials } from '../../support/at-length.ts';

const BEAM = line(point(0, 0), point(300, 0));

function drawn(x: number): string {
  return finishDrawing([BEAM, label(point(x, 0), '3.2 m')], { label: 'A beam.' });
}

test('a drawing that is tried is there, and not written', () => {
  const tried = tryDrawing(() => drawn(140));
  expect(tried).toContain('<svg');
  expect(tried).not.toContain('3.2 m');
  expect(drawn(140)).toContain('3.2 m');
});

const length = fc.oneof(
  { weight: 12, arbitrary: fc.integer({ min: -500, max: 500 }) },
  fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 1e12, -1e12, 0.001),
);
const at = fc.record({ x: length, y: length });
const mark = fc.oneof(
  fc.tuple(at, at).map(
    ([from, to]) =>
      () =>
        line(from, to, { dash: 'dashed' }),
  ),
  fc.array(at, { maxLength: 4 }).map((points) => () => polyline(points)),
  fc.array(at, { maxLength: 4 }).map((points) => () => polygon(points, { fill: 'ink', noLine: true })),
  fc.tuple(at, length).map(
    ([center, radius]) =>
      () =>
        circle(center, radius),
  ),
  fc.tuple(at, length, length).map(
    ([center, from, to]) =>
      () =>
        arc(center, 20, from, to),
  ),
  fc.tuple(at, at).map(
    ([from, to]) =>
      () =>
        strokes([{ from, to }]),
  ),
  fc.tuple(at, at).map(
    ([a, b]) =>
      () =>
        rect({ left: a.x, top: a.y, right: b.x, bottom: b.y }),
  ),
  fc.tuple(at, fc.boolean()).map(
    ([foot, backed]) =>
      () =>
        text(foot, 'words', { backed }),
  ),
  fc.tuple(at, length).map(
    ([foot, rotate]) =>
      () =>
        textBlock(foot, 'two\nlines', { rotate }),
  ),
  at.map((tip) => () => label(tip, 'label')),
);
const figure = fc
  .array(fc.tuple(mark, fc.option(at, { freq: 3 })), { minLength: 1, maxLength: 4 })
  .map((marks) => () => {
    const parts = marks.map(([draw, by]) => (by ? move(draw(), by.x, by.y) : draw()));
    return finishDrawing([group(parts.slice(0, 2), 'part'), ...parts.slice(2)], { label: 'Any.' });
  });

/** How a drawing ends. */
function outcome(draw: () => string | undefined): string {
  try {
    return draw() === undefined ? 'nothing' : 'drawn';
  } catch (error) {
    if (error instanceof NotDrawable) return 'cannot be drawn';
    throw error;
  }
}

test('what can be drawn is told by the trial as by the drawing', () => {
  const seen = new Map<string, number>();
  fc.assert(
    fc.property(figure, (draw) => {
      const told = outcome(draw);
      expect(outcome(() => tryDrawing(draw))).toBe(told);
      seen.set(told, (seen.get(told) ?? 0) + 1);
    }),
    { numRuns: trials(500, 10_000) },
  );
  expect([...seen.keys()].sort()).toEqual(['cannot be drawn', 'drawn']);
});

test.each([Number.NaN, Number.POSITIVE_INFINITY])(
  'a label at %s is told by the trial as by the drawing',
  (x) => {
    expect(() => drawn(x)).toThrow(NotDrawable);
    expect(() => tryDrawing(() => drawn(x))).toThrow(NotDrawable);
  },
);

test('labels are placed again after a trial that failed', () => {
  expect(() => tryDrawing(() => drawn(Number.NaN))).toThrow(NotDrawable);
  expect(drawn(40)).toContain('3.2 m');
});
