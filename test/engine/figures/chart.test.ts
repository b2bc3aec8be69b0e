import { describe, expect, it } from 'vitest';
import { makeAxis } from '../../../src/engine/figures/axis.ts';
import { type ChartDefinition, drawChart } from '../../../src/engine/figures/chart.ts';
import { findElements, labelBoxes } from './read-svg.ts';

const paper = { paper: [0, 100] as const, ticks: 5, rounded: true };
const labels = (axis: ReturnType<typeof makeAxis>): readonly string[] => axis.ticks.map((tick) => tick.label);

describe('axes', () => {
  it('count in the unit of their label', () => {
    const axis = makeAxis({ label: 'kV', unitSize: 1000 }, [0, 95_000], paper);
    expect(labels(axis)).toEqual(['0', '20', '40', '60', '80', '100']);
    expect(axis.at(50_000)).toBeCloseTo(50, 9);
  });

  it('begin at zero unless the values lie close together', () => {
    expect(makeAxis({ label: '' }, [30, 90], paper).from).toBe(0);
    expect(makeAxis({ label: '' }, [80, 90], paper).from).toBe(80);
  });

  it('write a true minus sign and as many decimals as the step has', () => {
    expect(labels(makeAxis({ label: '' }, [-0.5, 0.5], { ...paper, ticks: 4 }))).toEqual([
      '−0.6',
      '−0.4',
      '−0.2',
      '0.0',
      '0.2',
      '0.4',
      '0.6',
    ]);
  });

  it('take a power of ten out of long numbers', () => {
    const axis = makeAxis({ label: 'N' }, [0, 4e7], { ...paper, ticks: 4 });
    expect(axis.label).toBe('N × 10^{6}');
    expect(labels(axis)).toEqual(['0', '10', '20', '30', '40']);
  });

  it('have their decades at equal distances where they are logarithmic', () => {
    const axis = makeAxis({ label: '', kind: 'log' }, [1, 1e6], paper);
    expect(labels(axis)).toEqual(['1', '10', '100', '1000', '10000', '10^{5}', '10^{6}']);
    expect(axis.at(1000)).toBeCloseTo(50, 9);
  });

  it('keep ends that are given', () => {
    const axis = makeAxis({ label: '', from: 3, to: 17 }, [5], paper);
    expect([axis.from, axis.to]).toEqual([3, 17]);
  });

  it('show a single value, also zero', () => {
    expect(makeAxis({ label: '' }, [0], paper).to).toBeGreaterThan(0);
    expect(makeAxis({ label: '' }, [7], paper).ticks.length).toBeGreaterThan(1);
  });

  it.each([
    ['log', 0],
    ['log', -1],
    ['linear', Number.NaN],
    ['linear', Number.POSITIVE_INFINITY],
  ] as const)('that are %s refuse %d', (kind, value) => {
    expect(() => makeAxis({ label: 'U', kind }, [1, value], paper)).toThrow(RangeError);
  });
});

const chart: ChartDefinition = {
  title: 'voltage against distance',
  x: { label: 'Distance in m' },
  y: { label: 'Voltage in kV', unitSize: 1000, to: 100_000 },
  curves: [
    { label: 'as found', points: [0, 10, 20].map((x) => ({ x, y: 10_000 * x })) },
    { label: 'proposed', points: [0, 10, 20].map((x) => ({ x, y: 1000 * x })) },
  ],
  limits: [{ value: 80_000, label: 'permitted 80 kV', forbidden: 'above' }],
  verticals: [{ value: 5, label: 'present distance' }],
  points: [{ at: { x: 5, y: 50_000 }, label: '50 kV' }],
};

describe('the line chart', () => {
  const svg = drawChart(chart);

  it('tells curves apart by their dashes', () => {
    const dashes = findElements(svg, 'polyline')
      .filter((each) => each.attributes['stroke-width'] === '3.5')
      .map((each) => each.attributes['stroke-dasharray']);
    expect(dashes).toEqual([undefined, '16 9']);
  });

  it('labels everything once', () => {
    const words = labelBoxes(svg).map((label) => label.words);
    for (const label of [
      'as found',
      'proposed',
      'permitted 80 kV',
      'present distance',
      '50 kV',
      'Distance in m',
    ])
      expect(words.filter((each) => each === label)).toHaveLength(1);
  });

  it('cuts a curve at the edge of the plot', () => {
    const [first] = findElements(svg, 'polyline').filter((each) => each.attributes['stroke-width'] === '3.5');
    const ys = first!.attributes.points!.split(' ').map((pair) => Number(pair.split(',')[1]));
    // The axis ends at 100 kV, which the curve reaches halfway.
    expect(Math.min(...ys)).toBe(0);
  });

  it('puts the labelled point where its values are', () => {
    const point = findElements(svg, 'circle')[0]!.attributes;
    const [first] = findElements(svg, 'polyline').filter((each) => each.attributes['stroke-width'] === '3.5');
    const [start, end] = first!.attributes.points!.split(' ').map((pair) => pair.split(',').map(Number));
    // 50 kV at 5 m is the middle of the visible part, from 0 to 100 kV at 10 m.
    expect(Number(point.cx)).toBeCloseTo((start![0]! + end![0]!) / 2, 1);
    expect(Number(point.cy)).toBeCloseTo((start![1]! + end![1]!) / 2, 1);
  });
});
