import { describe, expect, it } from 'vitest';
import { drawBars } from '../../../src/engine/figures/bars.ts';
import { findElements, labelBoxes } from './read-svg.ts';

function draw(values: readonly number[], limit: number): string {
  return drawBars({
    title: 'bars',
    scale: { label: 'Voltage in kV', unitSize: 1000 },
    parts: [{ name: 'residual voltage' }, { name: 'leads' }, { name: 'earth' }],
    rows: [
      {
        label: 'case',
        parts: values.map((value, part) => ({ part, value, shown: `${value / 1000} kV` })),
        total: 'sum',
      },
    ],
    limits: [{ value: limit, label: 'permitted' }],
  });
}

/** Outlines of the bar's parts: as high as a bar, from left to right. */
const outlines = (svg: string) =>
  findElements(svg, 'rect')
    .filter((each) => each.attributes.height === '56' && each.attributes.stroke !== undefined)
    .map((each) => ({ left: Number(each.attributes.x), width: Number(each.attributes.width) }));

describe('stacked bars', () => {
  it('draw parts as long as their values, one after the other', () => {
    const [first, second, third] = outlines(draw([30_000, 60_000, 15_000], 80_000));
    expect(second!.width / first!.width).toBeCloseTo(2, 2);
    expect(third!.width / first!.width).toBeCloseTo(0.5, 2);
    expect(second!.left).toBeCloseTo(first!.left + first!.width, 1);
  });

  it('draw the limit at its value', () => {
    const svg = draw([30_000, 60_000], 60_000);
    const [first] = outlines(svg);
    const upright = findElements(svg, 'line').filter(
      (each) => each.attributes['stroke-width'] === '3.5' && each.attributes.x1 === each.attributes.x2,
    );
    expect(upright).toHaveLength(1);
    expect(Number(upright[0]!.attributes.x1)).toBeCloseTo(first!.left + 2 * first!.width, 1);
  });

  it('print every value, also one too small to be drawn', () => {
    const svg = draw([30_000, 1, 0], 60_000);
    expect(outlines(svg)).toHaveLength(1);
    expect(labelBoxes(svg).map((label) => label.words)).toEqual(
      expect.arrayContaining(['30 kV', '0.001 kV', '0 kV']),
    );
  });

  it.each([-1, Number.NaN, Number.POSITIVE_INFINITY])('refuse a part of %d', (value) => {
    expect(() => draw([1, value], 10)).toThrow(RangeError);
  });
});
