import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { writeResults } from '../../src/review/write-results.ts';
import { calcBlock, evaluateText } from './evaluate-text.ts';

test('limiting values of one given for several checks are told apart by the check', () => {
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
  const found = parse(text) as { blocks: { grid: { limiting: Record<string, string> } } };
  expect(Object.keys(found.blocks.grid.limiting)).toEqual([
    'largest_current_for_touch_safety',
    'largest_current_for_step_safety',
  ]);
});
