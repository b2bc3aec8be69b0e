import { expect, test } from 'vitest';
import { compareDrawings } from '../../src/pdf/compare-drawings.ts';
import { comparePageTexts } from '../../src/pdf/compare-page-texts.ts';
import type { DrawnPage } from '../../src/pdf/drawn-page.ts';

/** A white page with black rectangles: left, top, width, height in points. */
function draw(...rectangles: readonly (readonly [number, number, number, number])[]): DrawnPage {
  const [width, height] = [300, 200];
  const points = new Uint8Array(4 * width * height).fill(255);
  for (const [left, top, wide, high] of rectangles)
    for (let y = top; y < top + high; y += 1)
      for (let x = left; x < left + wide; x += 1) points.set([0, 0, 0, 255], 4 * (y * width + x));
  return { width, height, points };
}

test('what moved by a point looks alike, what moved by more or was added does not', () => {
  const page = draw([50, 50, 40, 12]);
  expect(compareDrawings(page, draw([51, 51, 40, 12]))).toBeUndefined();
  expect(compareDrawings(page, draw([56, 50, 40, 12]))).toBeDefined();
  // 72 points are an inch of 25.4 mm.
  expect(compareDrawings(page, draw([50, 50, 40, 12], [144, 72, 72, 36]))).toEqual({
    left: 51,
    top: 25,
    width: 25,
    height: 13,
  });
});

test('pages of other sizes differ as a whole', () => {
  const wide = { ...draw(), width: 200, height: 300 };
  expect(compareDrawings(draw(), wide)).toMatchObject({ left: 0, top: 0, width: 106, height: 106 });
});

const HEAD = 'CN-7 · Revision A Weir\n';
const foot = (page: number, of: number): string => `\nFor approval Page ${page} of ${of}`;
const pages = (...texts: readonly string[]): string[] =>
  texts.map((text, i) => (i === 0 ? text : `${HEAD}${text}${foot(i + 1, texts.length)}`));

test('other breaks of lines, with and without a hyphen, are no difference', () => {
  const one = pages('Cover', 'the arrester stands at the trans-\nformer', 'U = 126 kV complies');
  const other = pages('Cover', 'the arrester stands at\nthe transformer', 'U = 126 kV\ncomplies');
  expect(comparePageTexts(one, other)).toEqual({ kind: 'same pages', differing: [] });
});

test('other breaks of pages are told from another text', () => {
  const one = pages('Cover', 'Contents\nResults 3', 'first second', 'third 126 kV complies');
  const moved = pages('Cover', 'Contents\nResults 4', 'first', 'second', 'third 126 kV complies');
  expect(comparePageTexts(one, moved)).toMatchObject({ kind: 'same text', differing: [2, 3, 4, 5] });
  const changed = pages('Cover', 'Contents\nResults 4', 'first', 'second', 'third 136 kV complies');
  expect(comparePageTexts(one, changed)).toMatchObject({ kind: 'other' });
  const turned = pages('Cover', 'Contents\nResults 3', 'first second', 'third 126 kV does not comply');
  expect(comparePageTexts(one, turned)).toEqual({ kind: 'other', differing: [4] });
});
