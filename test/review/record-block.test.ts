import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { writeResults } from '../../src/review/write-results.ts';
import { calcBlock, evaluateText } from './evaluate-text.ts';

test('a limiting value is recorded with the check that sets it', () => {
  const grid = {
    resistivity: '180 ohm m',
    current: '900 A',
    length: '40 m',
    width: '25 m',
    conductors_along: '6',
    conductors_across: '9',
    depth: '0.6 m',
    conductor_diameter: '0.01 m',
    touch_limit: '500 V',
    step_limit: '1600 V',
  };
  const text = writeResults(evaluateText(calcBlock('grid', 'earth-grid', grid)), 'abc', undefined);
  const found = parse(text) as {
    'block grid': { limiting: Record<string, string> };
  };
  // Mesh and step voltage grow with the current: the one with less in hand sets the limit of both.
  expect(Object.keys(found['block grid'].limiting)).toEqual([
    'largest_current',
    'largest_current_governed_by',
  ]);
  expect(found['block grid'].limiting.largest_current_governed_by).toBe('touch_safety');
  expect(Number.parseFloat(found['block grid'].limiting.largest_current!)).toBeGreaterThan(0);
});

test('a check that is asked at the stated value is named before one that is asked beyond the limit only', () => {
  const ring = {
    lpl: 'I',
    resistivity: '1200 ohm m',
    arrangement: 'type-b',
    area: '3000 m^2',
    share_in_soil: '100 %',
  };
  const text = writeResults(evaluateText(calcBlock('ring', 'electrode-length', ring)), 'abc', undefined);
  const { limiting } = (parse(text) as { 'block ring': { limiting: Record<string, string> } })['block ring'];
  // Without electrodes that are added there is nothing to count: in a smaller area the first to fail is their length.
  expect(limiting.smallest_area_governed_by).toBe('added_length');
  // IEC 62305-3:2010, Figure 3, class I: 0.03 times 1200 less 10 gives 26 m, the radius of 2124 m². (Recalled, not read.)
  expect(Number.parseFloat(limiting.smallest_area!)).toBeCloseTo(Math.PI * 26 ** 2, -1);
});
