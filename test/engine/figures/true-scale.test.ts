import { describe, expect, it, test } from 'vitest';
import { placeRods } from '../../../src/engine/figures/earth-grid-plan.ts';
import { chooseForceScale } from '../../../src/engine/figures/force-sketches.ts';
import { chooseScale, scaleBar, scaleOf } from '../../../src/engine/figures/scale.ts';
import { type CaseGiven, runCase } from '../calculations/run-case.ts';
import { drawnLines, drawnTexts } from './drawn-lines.ts';
import { findElements, readSvg, walkSvg } from './read-svg.ts';

/** What each test knows of a figure: its SVG, and metres from lengths on paper by the scale that it states. */
function figure(calculation: string, given: CaseGiven) {
  const { svg } = runCase(calculation, given).evaluated!.figure!;
  const stated = /\b1:([\d.]+)/.exec(readSvg(svg).attributes['aria-label']!);
  const reduction = Number(stated![1]);
  return { svg, metres: (paper: number) => (paper * reduction) / 10_000 };
}

/** Lengths of the lines and polylines of one weight, upright ones and level ones, on paper. */
function strokes(svg: string, weight: string): { readonly upright: number[]; readonly level: number[] } {
  const found = { upright: [] as number[], level: [] as number[] };
  walkSvg(readSvg(svg), (element) => {
    const { attributes } = element;
    if (attributes['stroke-width'] !== weight) return;
    const points =
      element.name === 'line'
        ? [
            [attributes.x1, attributes.y1],
            [attributes.x2, attributes.y2],
          ].map((pair) => pair.map(Number))
        : element.name === 'polyline'
          ? attributes.points!.split(' ').map((pair) => pair.split(',').map(Number))
          : [];
    for (let i = 1; i < points.length; i += 1) {
      const [dx, dy] = [
        Math.abs(points[i]![0]! - points[i - 1]![0]!),
        Math.abs(points[i]![1]! - points[i - 1]![1]!),
      ];
      if (dx < 0.01) found.upright.push(dy);
      else if (dy < 0.01) found.level.push(dx);
    }
  });
  return found;
}

const BOLD = '8';
const MEDIUM = '3.5';

describe('scales', () => {
  it.each([
    // Steps 1, 2, 5 of ISO 5455, and 2.5.
    [10, 1000, 100],
    [10.1, 1000, 200],
    [21, 1000, 250],
    [26, 1000, 500],
    [0.04, 1000, 0.5],
    [1700, 850, 20_000],
  ])('%d m on %d units of a tenth of a millimetre: 1 to %d', (length, room, reduction) => {
    expect(chooseScale({ width: length, height: 0 }, { width: room, height: 1 }).reduction).toBeCloseTo(
      reduction,
      9,
    );
  });

  it('are named as ratios', () => {
    expect([scaleOf(250).name, scaleOf(0.5).name, scaleOf(1).name]).toEqual(['1:250', '2:1', '1:1']);
  });

  it.each([0, Number.NaN, Number.POSITIVE_INFINITY])('there is none for %d m', (length) => {
    expect(() => chooseScale({ width: length, height: 0 }, { width: 100, height: 100 })).toThrow(RangeError);
  });

  it.each([2, 7.5, 50, 333, 20_000])('the bar of 1:%d is as long as it says', (reduction) => {
    const scale = scaleOf(reduction);
    const { svg } = scaleBar(scale);
    const texts = findElements(`<svg>${svg}</svg>`, 'text').map((each) => each.children.join(''));
    const [, number, unit] = /^([\d.]+) (m|mm)$/.exec(texts.at(-1)!)!;
    const parts = findElements(`<svg>${svg}</svg>`, 'rect').map(({ attributes }) => Number(attributes.width));
    const paper = parts.reduce((sum, each) => sum + each, 0);
    const real = Number(number) / (unit === 'mm' ? 1000 : 1);
    expect((paper / 10_000) * reduction).toBeCloseTo(real, 3);
    expect(paper).toBeGreaterThan(90);
  });

  it.each([
    [48_000, 260, 2000],
    [50, 260, 2],
    [260, 520, 5],
  ])('%d N/m as an arrow of at most %d units: 1 mm for %d N/m', (force, longest, step) => {
    const scale = chooseForceScale(force, longest);
    expect(scale.perMillimetre).toBeCloseTo(step, 9);
    expect(scale.of(force)).toBeLessThanOrEqual(longest);
  });
});

describe('sections and plans to scale', () => {
  test('rolling sphere: the rod, and the arc through its tip and the ground, of the radius of the sphere', () => {
    for (const [radius, height] of [
      [45, 8],
      [30, 21.5],
      [60, 0.9],
    ] as const) {
      const { svg, metres } = figure('rolling-sphere', {
        sphere_radius: `${radius} m`,
        rod_height: `${height} m`,
      });
      expect(metres(strokes(svg, BOLD).upright[0]!)).toBeCloseTo(height, 1);
      const arcs = [...svg.matchAll(/A([\d.]+) ([\d.]+) 0/g)];
      expect(arcs.length).toBeGreaterThan(0);
      for (const [, level, upright] of arcs) {
        expect(level).toBe(upright);
        expect(metres(Number(level))).toBeCloseTo(radius, 1);
      }
      // Where the sphere touches the ground, by Pythagoras: r² = (r − h)² + x².
      const reach = Math.sqrt(radius ** 2 - (radius - height) ** 2);
      const [touch] = findElements(svg, 'circle').filter(({ attributes }) => attributes.r === '7');
      expect(metres(Number(touch!.attributes.cx))).toBeCloseTo(reach, 1);
    }
  });

  test('earth grid: sides, conductors and rods lie where the givens place them, on both axes to one scale', () => {
    const given = {
      resistivity: '120 ohm m',
      current: '1800 A',
      length: '64 m',
      width: '24 m',
      conductors_along: '5',
      conductors_across: '9',
      depth: '0.6 m',
      conductor_diameter: '11 mm',
      rods: '11',
      rod_length: '4 m',
    };
    const { svg, metres } = figure('earth-grid', given);
    const [outer] = findElements(svg, 'rect').filter(
      ({ attributes }) => attributes['stroke-width'] === MEDIUM,
    );
    expect(metres(Number(outer!.attributes.width))).toBeCloseTo(64, 1);
    expect(metres(Number(outer!.attributes.height))).toBeCloseTo(24, 1);
    const thin = strokes(svg, '1.8');
    const across = thin.upright.filter((each) => Math.abs(metres(each) - 24) < 0.05);
    const along = thin.level.filter((each) => Math.abs(metres(each) - 64) < 0.05);
    expect([across.length, along.length]).toEqual([7, 3]);
    const rods = findElements(svg, 'circle').filter(
      ({ attributes }) => attributes.r === '7' && attributes.stroke !== undefined,
    );
    expect(rods).toHaveLength(11);
    for (const { attributes } of rods) {
      const [x, y] = [metres(Number(attributes.cx)), metres(Number(attributes.cy))];
      const onEdge = [x, x - 64, y, y - 24].some((each) => Math.abs(each) < 0.05);
      expect(onEdge, `${x} ${y}`).toBe(true);
    }
    // In section: those rods that are seen, each as long as it is.
    const hanging = thin.upright.filter((each) => Math.abs(metres(each) - 4) < 0.05);
    expect(hanging.length).toBeGreaterThan(2);
  });

  test('rods along a perimeter are equally far apart, and one stands at a corner', () => {
    for (const [count, wide, high] of [
      [4, 30, 30],
      [9, 70, 20],
      [20, 55, 41],
    ] as const) {
      const rods = placeRods({ count, places: 'perimeter' }, [0, wide], [0, high]);
      const way = ({ x, y }: { x: number; y: number }): number =>
        y === 0 ? x : x === wide ? wide + y : y === high ? 2 * wide + high - x : 2 * (wide + high) - y;
      const step = (2 * (wide + high)) / count;
      rods.forEach((rod, index) => {
        expect(way(rod)).toBeCloseTo(step * index, 6);
      });
    }
  });

  test('rods in a line: as long and as far apart as given', () => {
    const { svg, metres } = figure('earth-electrode', {
      kind: 'rods-in-line',
      method: 'bs-7430-2011',
      resistivity: '80 ohm m',
      length: '2.4 m',
      diameter: '16 mm',
      count: '4',
      spacing: '5 m',
    });
    expect(strokes(svg, BOLD).upright.map((each) => Number(metres(each).toFixed(2)))).toEqual([
      2.4, 2.4, 2.4, 2.4,
    ]);
    const places = findElements(svg, 'line')
      .filter(({ attributes }) => attributes['stroke-width'] === BOLD)
      .map(({ attributes }) => metres(Number(attributes.x1)));
    expect(places.slice(1).map((x, i) => x - places[i]!)).toEqual(
      [5, 5, 5].map((each) => expect.closeTo(each, 1)),
    );
  });

  test('an SPD: the leads that count are to one scale', () => {
    const { svg, metres } = figure('spd-effective-protection-level', {
      protection_level: '1.3 kV',
      drop_basis: 'one-kv-per-metre',
      spd_type: 'limiting',
      lead_a: '0.18 m',
      lead_b: '0.12 m',
      lead_c: '0.34 m',
    });
    const bold = strokes(svg, BOLD).upright.map((each) => metres(each));
    expect(bold).toEqual([0.18, 0.12, 0.34].map((each) => expect.closeTo(each, 2)));
  });

  test('an SPD with a lead too short beside the others is not to scale, and says so', () => {
    const { svg } = runCase('spd-effective-protection-level', {
      protection_level: '1.3 kV',
      drop_basis: 'one-kv-per-metre',
      spd_type: 'limiting',
      lead_a: '0.01 m',
      lead_b: '0.12 m',
      lead_c: '6 m',
    }).evaluated!.figure!;
    expect(drawnTexts(svg).map(({ words }) => words)).toContain('not to scale');
    expect(readSvg(svg).attributes['aria-label']).toContain('Not to scale');
  });

  test('collection area: the outline lies as far beyond the structure as the formula says', () => {
    // Three times the height (IEC 62305-2, slope 1 to 3).
    const { svg, metres } = figure('collection-area', { length: '32 m', width: '14 m', height: '9 m' });
    const [outline] = findElements(svg, 'polygon').filter(
      ({ attributes }) => attributes['stroke-dasharray'] !== undefined,
    );
    const points = outline!.attributes.points!.split(' ').map((pair) => pair.split(',').map(Number));
    const extent = (axis: 0 | 1): number =>
      Math.max(...points.map((each) => each[axis]!)) - Math.min(...points.map((each) => each[axis]!));
    expect(metres(extent(0))).toBeCloseTo(32 + 2 * 27, 0);
    expect(metres(extent(1))).toBeCloseTo(14 + 2 * 27, 0);
  });

  test('a loop: its conductor is as long as given, its open side as wide, and the required width lies beside it', () => {
    const { svg, metres } = figure('conductor-loop', {
      lpl: 'II',
      loop_length: '3.6 m',
      gap: '0.8 m',
      current_share: '0.66',
    });
    const [course] = findElements(svg, 'polyline').filter(
      ({ attributes }) => attributes['stroke-width'] === BOLD,
    );
    const points = course!.attributes.points!.split(' ').map((pair) => pair.split(',').map(Number));
    // Without the conductor that comes and the one that goes on.
    const around = points.slice(1, -1);
    const length = around
      .slice(1)
      .reduce((sum, [x, y], i) => sum + Math.hypot(x! - around[i]![0]!, y! - around[i]![1]!), 0);
    expect(metres(length)).toBeCloseTo(3.6, 2);
    expect(metres(around.at(-1)![1]! - around[0]![1]!)).toBeCloseTo(0.8, 2);
    const [required] = findElements(svg, 'line').filter(
      ({ attributes }) =>
        attributes['stroke-dasharray'] !== undefined && attributes['stroke-width'] === MEDIUM,
    );
    // ki 0.06 of class II: 0.06 · 0.66 · 3.6 m.
    expect(metres(Number(required!.attributes.y1))).toBeCloseTo(0.06 * 0.66 * 3.6, 2);
  });

  test('a bend: arms of their length, arrows as long as their forces', () => {
    const places = ['0.1 m', '0.25 m', '0.6 m'];
    const { svg, metres } = figure('bend-force', {
      current: '60 kA',
      arm_length: '0.8 m',
      bend_angle: '90 deg',
      conductor_radius: '5 mm',
      distances: places,
    });
    const [arms] = findElements(svg, 'polyline').filter(
      ({ attributes }) => attributes['stroke-width'] === BOLD,
    );
    const corners = arms!.attributes.points!.split(' ').map((pair) => pair.split(',').map(Number));
    expect(metres(Math.hypot(corners[0]![0]!, corners[0]![1]!))).toBeCloseTo(0.8, 2);
    expect(metres(corners[2]![0]!)).toBeCloseTo(0.8, 2);
    const [, step, prefix] = /1 mm = ([\d.]+) (k?)N\/m/.exec(readSvg(svg).attributes['aria-label']!)!;
    const perUnit = (Number(step) * (prefix === 'k' ? 1000 : 1)) / 10;
    // Biot and Savart for a right angle: F' = µ0 I²/(4π) · L / (x √(x² + L²)).
    const tips = findElements(svg, 'polygon')
      .map(({ attributes }) => attributes.points!.split(' ')[0]!.split(',').map(Number))
      .filter(([, y]) => y! > 6);
    for (const [place, x] of [0.1, 0.25, 0.6].map((x) => [x, x] as const)) {
      const force = (1e-7 * 60_000 ** 2 * 0.8) / (x * Math.hypot(x, 0.8));
      const tip = tips.find(([at]) => Math.abs(metres(at!) - place) < 0.01);
      expect((tip![1]! - 6) * perUnit).toBeCloseTo(force, -2);
    }
  });
});

test('of many places at a bend some have their force in words, so far apart that they can be read, and all an arrow', () => {
  const at = Array.from({ length: 41 }, (_, i) => (0.1 + (0.7 * i) / 40).toFixed(4));
  const { svg } = figure('bend-force', {
    current: '60 kA',
    arm_length: '0.8 m',
    bend_angle: '90 deg',
    conductor_radius: '5 mm',
    distances: at.map((place) => `${place} m`),
  });
  const words = /, (\d+) of 41 with their value\./.exec(readSvg(svg).attributes['aria-label']!);
  // From 0.1 m to 0.8 m in steps of 0.0175 m, at least 0.1 m apart: every sixth.
  expect(Number(words![1])).toBe(7);
  expect(findElements(svg, 'polygon').length).toBeGreaterThanOrEqual(41);
});

describe('bars of voltages', () => {
  /** The strong upright line of the limit, and the outlines of the bars, on paper. */
  const read = (svg: string) => ({
    limit: findElements(svg, 'line')
      .filter(({ attributes }) => attributes['stroke-width'] === '5' && attributes.x1 === attributes.x2)
      .map(({ attributes }) => Number(attributes.x1)),
    bars: findElements(svg, 'rect')
      .filter(({ attributes }) => attributes['stroke-width'] === MEDIUM && attributes.height === '34')
      .map(({ attributes }) => ({ left: Number(attributes.x), width: Number(attributes.width) })),
  });

  test.each([
    [95, 1.15, 28],
    [170, 1.4, 61],
    [60, 1, 19],
  ])(
    'arrester: withstand %d kV over %d stands beside what %d kV and leads leave',
    (withstand, factor, residual) => {
      const { svg } = runCase('arrester-connection', {
        arrangement: 'common-earth',
        line_lead: '0.8 m',
        earth_lead: '2 m',
        residual_voltage: `${residual} kV`,
        steepness: '5 kA/us',
        impulse_withstand: `${withstand} kV`,
        safety_factor: String(factor),
      }).evaluated!.figure!;
      const { limit, bars } = read(svg);
      const [bar] = bars;
      // 1 µH/m, 2.8 m, 5 kA/µs: 14 kV along the leads.
      const perKilovolt = bar!.width / (residual + 14);
      expect((limit[0]! - bar!.left) / perKilovolt).toBeCloseTo(withstand / factor, 1);
    },
  );

  test('SPD: four fifths of the withstand beside the effective level (IEC 62305-4, circuit of at most 10 m)', () => {
    const { svg } = runCase('spd-effective-protection-level', {
      spd_type: 'limiting',
      protection_level: '1.4 kV',
      lead_a: '0.2 m',
      lead_b: '0.2 m',
      lead_c: '0.3 m',
      drop_basis: 'one-kv-per-metre',
      circuit_length: '6 m',
      impulse_withstand: '4 kV',
    }).evaluated!.figure!;
    const { limit, bars } = read(svg);
    expect((limit[0]! - bars[0]!.left) / bars[0]!.width).toBeCloseTo((0.8 * 4) / 2.1, 2);
  });
});

test('labels of a figure with hatching and arcs are checked against lines that the parser really finds', () => {
  const { svg } = figure('collection-area', { length: '40 m', width: '20 m', height: '10 m' });
  expect(drawnLines(svg).length).toBeGreaterThan(60);
});
