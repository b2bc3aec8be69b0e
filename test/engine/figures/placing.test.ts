import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { spreadLabels } from '../../../src/engine/figures/declutter.ts';
import { circle, group, label, line, type Mark, rect } from '../../../src/engine/figures/drawing.ts';
import { fitLengths } from '../../../src/engine/figures/fit-lengths.ts';
import { type Box, clipSegment, point } from '../../../src/engine/figures/geometry.ts';
import { cutPolyline, thinPolyline } from '../../../src/engine/figures/polyline-in-box.ts';
import { settleLabels } from '../../../src/engine/figures/settle-labels.ts';
import { drawVoltageBars } from '../../../src/engine/figures/voltage-bars.ts';
import { trials } from '../../support/at-length.ts';

const places = fc.array(
  fc.record({
    wanted: fc.double({ min: -200, max: 1200, noNaN: true }),
    size: fc.double({ min: 1, max: 90, noNaN: true }),
  }),
  { minLength: 1, maxLength: 12 },
);

/** The common area of two boxes; 0 where they only touch. */
function overlapArea(one: Box, other: Box): number {
  const width = Math.min(one.right, other.right) - Math.max(one.left, other.left);
  const height = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
  return width > 0 && height > 0 ? width * height : 0;
}

describe('labels along a line', () => {
  it('do not touch, keep their order, and stay within the bounds where they fit', () => {
    fc.assert(
      fc.property(places, (labels) => {
        const middles = spreadLabels(labels, { from: 0, to: 1000 }, 5);
        const order = labels
          .map((_, index) => index)
          .sort((a, b) => labels[a]!.wanted - labels[b]!.wanted || a - b);
        let end = Number.NEGATIVE_INFINITY;
        for (const index of order) {
          const half = labels[index]!.size / 2;
          expect(middles[index]! - half).toBeGreaterThanOrEqual(end - 1e-6);
          end = middles[index]! + half + 5;
        }
        const needed = labels.reduce((sum, label) => sum + label.size + 5, -5);
        expect(middles[order[0]!]! - labels[order[0]!]!.size / 2).toBeGreaterThanOrEqual(-1e-6);
        if (needed <= 1000) expect(end - 5).toBeLessThanOrEqual(1000 + 1e-6);
      }),
    );
  });

  it('stay where they want to be when nothing is in the way', () => {
    expect(
      spreadLabels(
        [
          { wanted: 500, size: 40 },
          { wanted: 100, size: 40 },
        ],
        { from: 0, to: 1000 },
      ),
    ).toEqual([500, 100]);
  });

  it('share the way between them', () => {
    expect(
      spreadLabels(
        [
          { wanted: 100, size: 40 },
          { wanted: 100, size: 40 },
        ],
        { from: 0, to: 1000 },
      ),
    ).toEqual([80, 120]);
  });
});

describe('a label without a place', () => {
  const near = { left: -60, top: -60, right: 60, bottom: 60 };
  const settle = (lines: readonly Mark[], words = '12 m') =>
    settleLabels(group([...lines, label(point(0, 0), words, { sides: ['right', 'left'] })]), 1500);
  const boxOf = (drawing: Mark) => drawing.labels.at(-1)!;

  it('stands on the side that is asked for', () => {
    expect(boxOf(settle([circle(point(0, 0), 5)])).left).toBeGreaterThan(5);
  });

  it('goes to the other side of a line that is in the way, and crosses none', () => {
    const wall = line(point(20, -400), point(20, 400));
    const box = boxOf(settle([wall]));
    expect(box.right).toBeLessThan(20);
  });

  it('is joined to its tip where it cannot stand close', () => {
    const cage = rect(near, {});
    const inner = [-40, -20, 0, 20, 40].map((x) => line(point(x, -60), point(x, 60)));
    const drawn = settle([cage, ...inner]);
    const box = boxOf(drawn);
    expect(overlapArea(box, near)).toBe(0);
    // From the tip to the edge of the label: one line more than was drawn, and a dot.
    const joint = drawn.lines.find(({ from, to }) => from.x === 0 && from.y === 0 && to.y !== 60);
    expect(joint).toBeDefined();
  });

  it('keeps the whole within the width as long as there is room above or below', () => {
    const wide = rect({ left: -50, top: -10, right: 1400, bottom: 10 });
    const drawn = settleLabels(group([wide, label(point(1400, 0), 'a label of some length')]), 1470);
    expect(drawn.box.right - drawn.box.left).toBeLessThanOrEqual(1470);
  });

  it('keeps clear of every other, however many name one point', () => {
    const many = Array.from({ length: 30 }, (_, i) => label(point(0, 0), `point ${i}`));
    const { labels } = settleLabels(group(many), 1000);
    expect(labels).toHaveLength(30);
    labels.forEach((one, i) => {
      for (const other of labels.slice(i + 1)) expect(overlapArea(one, other)).toBe(0);
    });
  });
});

describe('lengths on paper', () => {
  it('fill the stretch, none below the least, the longer never drawn shorter', () => {
    const lengths = fc.array(
      fc.oneof(
        fc.constant(0),
        fc.double({ min: 0, max: 1.7e308, noNaN: true }),
        fc.double({ min: 0, max: 20, noNaN: true }),
      ),
      {
        minLength: 1,
        maxLength: 6,
      },
    );
    fc.assert(
      fc.property(lengths, (real) => {
        const drawn = fitLengths(real, 600, 70);
        expect(drawn.reduce((sum, length) => sum + length, 0)).toBeCloseTo(600, 6);
        for (const length of drawn) expect(length).toBeGreaterThanOrEqual(70 - 1e-9);
        real.forEach((one, index) => {
          real.forEach((other, second) => {
            if (one > other) expect(drawn[index]!).toBeGreaterThanOrEqual(drawn[second]! - 1e-6);
          });
        });
      }),
    );
  });

  it('keep their proportion where all find room', () => {
    expect(fitLengths([1, 2, 3], 600, 70)).toEqual([100, 200, 300]);
  });

  it('are equal where nothing has room', () => {
    expect(fitLengths([1, 2, 30], 150, 70)).toEqual([50, 50, 50]);
  });

  it.each([-1, Number.NaN, Number.POSITIVE_INFINITY])('cannot be %d', (length) => {
    expect(() => fitLengths([1, length], 600, 70)).toThrow(RangeError);
  });
});

describe('polylines', () => {
  const box = { left: 0, top: 0, right: 10, bottom: 10 };

  it('are cut where they leave the box and where they return', () => {
    const runs = cutPolyline([point(-5, 5), point(5, 5), point(5, -5), point(8, -5), point(8, 5)], box);
    expect(runs).toEqual([
      [point(0, 5), point(5, 5), point(5, 0)],
      [point(8, 0), point(8, 5)],
    ]);
  });

  it('have no part in a box that they miss', () => {
    expect(clipSegment({ from: point(-5, 0), to: point(0, 20) }, { ...box, left: 2 })).toBeUndefined();
  });

  it('lose points, but nowhere more than the tolerance', () => {
    const wave = Array.from({ length: 2000 }, (_, index) => point(index, 100 * Math.sin(index / 150)));
    const thinned = thinPolyline(wave, 0.2);
    expect(thinned.length).toBeLessThan(200);
    for (const each of wave) {
      const after = thinned.findIndex((kept) => kept.x >= each.x);
      const [one, other] = [thinned[Math.max(0, after - 1)]!, thinned[after]!];
      const part = other.x === one.x ? 0 : (each.x - one.x) / (other.x - one.x);
      // The distance upright is at most 1.2 times that across the line, whose slope stays below 2/3.
      expect(Math.abs(one.y + part * (other.y - one.y) - each.y)).toBeLessThanOrEqual(0.2 * 1.21);
    }
  });
});

it('no hairline strikes through a label, whatever the parts of a bar', () => {
  for (let first = 2; first <= 40; first += trials(6, 2))
    for (let second = 2; second <= 60; second += trials(9, 3)) {
      const part = (size: number, words: string) => ({ size, shown: `${words} ${size} kV` });
      const parts = [part(first, 'steep front'), part(second, 'leads'), part(100 - first - second, 'earth')];
      const bar = { total: part(100, 'total'), parts: parts.filter(({ size }) => size > 0) };
      const drawn = drawVoltageBars({ bars: [bar, bar], limits: [part(14, 'withstand')] }, point(0, 0), 600);
      const { labels, lines } = settleLabels(drawn, 815);
      const stricken = labels.filter((box) => lines.some((each) => clipSegment(each, box) !== undefined));
      expect(stricken, `${first} and ${second} of 100`).toEqual([]);
    }
});
