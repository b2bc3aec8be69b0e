import { describe, expect, it } from 'vitest';
import { text, textBlock } from '../../../src/engine/figures/drawing.ts';
import { point } from '../../../src/engine/figures/geometry.ts';
import {
  literalText,
  plainText,
  readMarkedText,
  wrapMarkedText,
} from '../../../src/engine/figures/marked-text.ts';
import { finishDrawing } from '../../../src/engine/figures/sheet.ts';
import { coordinate } from '../../../src/engine/figures/svg-text.ts';
import { measureText } from '../../../src/engine/figures/text-width.ts';
import { findElements, textOf } from './read-svg.ts';

describe('markup of labels', () => {
  it('reads indices and italics', () => {
    expect(readMarkedText('*U*_{res} = 33 mm^{2}')).toEqual([
      { characters: 'U', level: 'line', italic: true },
      { characters: 'res', level: 'subscript', italic: false },
      { characters: ' = 33 mm', level: 'line', italic: false },
      { characters: '2', level: 'superscript', italic: false },
    ]);
  });

  it.each(['a_b', 'x^2', '2 * 3 * 4', 'U_{', '}{', 'a*', '\\'])('leaves %s as it is', (words) => {
    expect(plainText(words)).toBe(words);
  });

  it.each(['U_{res}', '*a*', 'x^{2} \\*', '\\\\_{}'])('shows %s as written where it is literal', (words) => {
    expect(readMarkedText(literalText(words))).toEqual([{ characters: words, level: 'line', italic: false }]);
  });

  it('sets an index lower and smaller and returns to the line', () => {
    const svg = finishDrawing([text(point(0, 0), 'U_{p} = 1')], { label: '' });
    const [index, rest] = findElements(svg, 'tspan');
    expect(index?.attributes).toEqual({ dy: '6', 'font-size': '24.9' });
    expect(rest?.attributes).toEqual({ dy: '-6' });
    expect(textOf(findElements(svg, 'text')[0]!)).toBe('Up = 1');
  });
});

describe('lines of text', () => {
  it('breaks between words, never between a number and its unit or at a relation', () => {
    const lines = wrapMarkedText('voltage at the transformer U = 126 kV', 230);
    expect(lines).toEqual(['voltage at the', 'transformer', 'U = 126 kV']);
  });

  it('places a block of two lines evenly about its height', () => {
    const block = textBlock(point(0, 0), 'HH\nHH', { vertical: 'middle' });
    const [first, second] = block.labels;
    // Type of 30 units: capitals of 19.8 and descenders of 7.2 units, 37.5 from line to line.
    expect(first!.bottom - 7.2).toBeCloseTo(-18.75 + 9.9, 6);
    expect(second!.bottom - 7.2).toBeCloseTo(18.75 + 9.9, 6);
  });
});

/** Sums of advances, in thousandths of the type size, from the `hmtx` tables of Source Sans 3, version 3.052. */
const FONT_WIDTHS: readonly (readonly [string, 'regular' | 'semibold', number])[] = [
  ['Voltage at the transformer in kV (peak, phase to earth)', 'regular', 22517],
  ['permitted 82.6 kV', 'regular', 7350],
  ['illicit tilting jig: fill it', 'regular', 8194],
  ['ρ = 50 Ω m', 'regular', 4347],
  ['Straße über dem Fluß', 'regular', 9084],
  ['1.2 µH/m, 1320 kV', 'regular', 7483],
  ['THIS CASE', 'regular', 4361],
  ['bdhnopqu', 'regular', 4395],
  ['bdhnopqu', 'semibold', 4478],
  ['Voltage at the transformer in kV (peak, phase to earth)', 'semibold', 23279],
  ['permitted 82.6 kV', 'semibold', 7614],
];

describe('widths of text', () => {
  it.each(FONT_WIDTHS)('holds %s (%s), with little to spare', (words, weight, width) => {
    const measured = measureText(words, 1000, weight);
    expect(measured).toBeGreaterThanOrEqual(width);
    expect(measured).toBeLessThan(1.12 * width);
  });
});

describe('coordinates', () => {
  it.each([
    [1.005, '1'],
    [-0.001, '0'],
    [100, '100'],
    [0.25, '0.25'],
    [-12.5, '-12.5'],
  ])('writes %d as %s', (value, written) => {
    expect(coordinate(value)).toBe(written);
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY])('refuses %d', (value) => {
    expect(() => coordinate(value)).toThrow(RangeError);
  });
});
