import { describe, expect, it } from 'vitest';
import { drawMargins, type MarginRow, type MarginSeries } from '../../../src/engine/figures/margin-chart.ts';
import { findElements, labelBoxes, readSvg, type SvgElement } from './read-svg.ts';

const WORDS = {
  margin: 'Margin in % of the limit',
  order: 'Number of rows',
  limit: 'limit',
  outcomes: { unmet: 'does not comply', open: 'cannot be judged', met: 'complies' },
  beyond: (count: number, end: number) => `${count} beyond ${Math.round(end * 100)} %`,
};

const rowsOf = (margins: readonly (number | undefined)[]): MarginRow[] =>
  margins.map((margin) => ({
    margin,
    outcome: margin === undefined ? 'open' : margin < 0 ? 'unmet' : 'met',
  }));

const series = (rows: readonly MarginRow[], name = ''): MarginSeries => ({
  name,
  label: `${name} rows`,
  least: '',
  rows,
});

const draw = (...all: readonly MarginSeries[]) =>
  drawMargins({ title: 'margins', series: all, words: WORDS });

const texts = (svg: string) => findElements(svg, 'text').map(textOf);
const textOf = (element: SvgElement): string =>
  element.children.map((child) => (typeof child === 'string' ? child : textOf(child))).join('');
const discs = (svg: string) =>
  findElements(svg, 'circle').map(({ attributes }) => ({
    x: Number(attributes['cx']),
    y: Number(attributes['cy']),
  }));

describe('the chart of margins', () => {
  it('has a mark for each of few rows, as far from the limit as its margin', () => {
    const svg = draw(series(rowsOf([-0.4, -0.1, 0, 0.2, 0.3])));
    const marks = discs(svg);
    expect(marks).toHaveLength(5);
    // Equal distances from row to row; heights in the ratio of the margins, the limit at that of nought.
    const [a, b, limit, c, d] = marks as [Mark, Mark, Mark, Mark, Mark];
    expect(b.x - a.x).toBeCloseTo(d.x - c.x, 1);
    expect(a.y).toBeGreaterThan(limit.y);
    expect((a.y - limit.y) / (b.y - limit.y)).toBeCloseTo(4, 1);
    expect((limit.y - d.y) / (limit.y - c.y)).toBeCloseTo(1.5, 1);
    const lines = findElements(svg, 'line').filter(({ attributes }) => attributes['y1'] === attributes['y2']);
    expect(lines.some(({ attributes }) => Math.abs(Number(attributes['y1']) - limit.y) < 0.1)).toBe(true);
  });

  it('has a bar whose parts are as long as there are rows of each verdict', () => {
    const svg = draw(
      series(rowsOf([...Array(30).fill(-0.2), ...Array(10).fill(undefined), ...Array(60).fill(0.5)])),
    );
    const widths = findElements(svg, 'rect')
      .map(({ attributes }) => attributes)
      .filter((attributes) => attributes['height'] === '34' && attributes['stroke'] !== undefined)
      .map((attributes) => Number(attributes['width']));
    expect(widths).toHaveLength(3);
    const whole = widths.reduce((sum, width) => sum + width, 0);
    expect(widths.map((width) => Math.round((100 * width) / whole))).toEqual([30, 10, 60]);
    expect(texts(svg)).toEqual(expect.arrayContaining(['does not comply: 30', 'complies: 60']));
  });

  it('counts those that lie far beyond the others, and keeps the others apart', () => {
    const svg = draw(series(rowsOf([...Array.from({ length: 38 }, (_, i) => i / 100), 25, 90])));
    expect(texts(svg).filter((text) => text.startsWith('2 beyond'))).toHaveLength(1);
    const heights = discs(svg).map(({ y }) => y);
    // Forty rows lie on more than half of the plot, 560 high.
    expect(heights[0]! - heights[37]!).toBeGreaterThan(100);
  });

  it('tells series apart by marks', () => {
    const svg = draw(series(rowsOf([-0.2, 0.1]), 'as found'), series(rowsOf([0.1, 0.2]), 'proposed'));
    const fills = findElements(svg, 'circle').map(({ attributes }) => attributes['fill']);
    expect(fills).toEqual(['#000', '#000', '#fff', '#fff']);
    expect(texts(svg)).toEqual(expect.arrayContaining(['as found', 'proposed']));
  });

  it.each([1, 10, 121, 500, 10_000])('stays small and legible with %d rows', (count) => {
    const svg = draw(series(rowsOf(Array.from({ length: count }, (_, i) => Math.sin(i / count) - 0.4))));
    expect(svg.length).toBeLessThan(60_000);
    const sizes = findElements(svg, 'text').map(({ attributes }) => Number(attributes['font-size']));
    // 7 pt in tenths of a millimetre.
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(24.7);
    expect(Number.parseFloat(readSvg(svg).attributes['width']!)).toBeLessThanOrEqual(160);
    expect(labelBoxes(svg).length).toBeGreaterThan(5);
  });

  it('draws rows of which none has a margin, or all are alike', () => {
    expect(texts(draw(series(rowsOf([undefined, undefined]))))).toContain('cannot be judged: 2');
    expect(discs(draw(series(rowsOf([0, 0, 0]))))).toHaveLength(3);
    expect(discs(draw(series(rowsOf([-7, -7, -7]))))).toHaveLength(3);
  });
});

interface Mark {
  readonly x: number;
  readonly y: number;
}
