import { expect, test } from 'vitest';
import { label, line } from '../../../src/engine/figures/drawing.ts';
import { point } from '../../../src/engine/figures/geometry.ts';
import { NotDrawable } from '../../../src/engine/figures/not-drawable.ts';
import { tryDrawing } from '../../../src/engine/figures/settle-labels.ts';
import { finishDrawing } from '../../../src/engine/figures/sheet.ts';

const BEAM = line(point(0, 0), point(300, 0));

function drawn(x: number): string {
  return finishDrawing([BEAM, label(point(x, 0), '3.2 m')], { label: 'A beam.' });
}

test('a drawing that is tried has its lines and no labels', () => {
  const tried = tryDrawing(() => drawn(140));
  expect(tried).toContain('<line');
  expect(tried).not.toContain('3.2 m');
  expect(drawn(140)).toContain('3.2 m');
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
