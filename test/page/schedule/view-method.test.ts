import { expect, test } from 'vitest';
import { setsOut } from '../../../src/page/schedule/view-method.ts';

type Method = Parameters<typeof setsOut>[0];

const step = (symbol: string, formula: string): Method['steps'][number] => ({
  name: symbol,
  symbol,
  units: '',
  meaning: `meaning of ${symbol}`,
  basis: '',
  note: '',
  origin: '',
  isWide: false,
  lines: [{ html: formula, size: '', result: '' }],
});
const check = (letter: string, requirement: string): Method['requirements'][number] => ({
  letter,
  criterion: 'Length',
  isRecommendation: false,
  basis: '',
  requirement,
  size: '',
});
const method = (steps: Method['steps'], requirements: Method['requirements']): Method => ({
  steps,
  hasVariants: false,
  requirements,
});

test('a method is set out where each of its formulas stands before it, in any order, with the same checks', () => {
  const long = method([step('l', 'a + b'), step('l', 'a + b + c'), step('U', 'k l')], [check('A', 'l <= 2')]);
  expect(setsOut(long, method([step('U', 'k l'), step('l', 'a + b')], [check('A', 'l <= 2')]))).toBe(true);
  expect(setsOut(long, method([step('l', 'a + d')], [check('A', 'l <= 2')]))).toBe(false);
  expect(setsOut(long, method([step('U', 'k l')], [check('B', 'l <= 2')]))).toBe(false);
  expect(setsOut(long, method([step('U', 'k l')], [check('A', 'l <= 3')]))).toBe(false);
  // Nothing to be repeated.
  expect(setsOut(long, method([], [check('A', 'l <= 2')]))).toBe(false);
});
