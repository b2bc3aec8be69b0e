import { expect } from 'vitest';
import type { EvaluatedCheck } from '../../src/engine/definition/evaluated.ts';
import { fromSi } from '../../src/quantity/quantity.ts';

/** Whoever keeps to a limit as it is printed keeps to the true one (but for what counts as equal, 1e-9), and both sides read as the verdict. */
export function expectSafeLimit({ name, value, relation, limit, overRange, verdict }: EvaluatedCheck): void {
  if (limit?.type !== 'number') return;
  const isUpper = relation === '<=' || relation === '<';
  const { displayed, unit } = limit;
  const beyond = (displayed.value - fromSi(limit.si, unit)) * (isUpper ? 1 : -1);
  const told = `${name}: ${displayed.text} for ${fromSi(limit.si, unit)}`;
  expect(beyond, told).toBeLessThanOrEqual(1e-9 * Math.abs(displayed.value) + Number.MIN_VALUE);
  if (value?.type !== 'number' || overRange) return;
  const [small, large] = isUpper ? [value, limit] : [limit, value];
  const apart = large.displayed.value - small.displayed.value;
  const reads = relation.endsWith('=') ? apart >= 0 : apart > 0;
  expect(reads, `${name}: ${value.displayed.text} against ${displayed.text}`).toBe(
    verdict === 'complies' || verdict === 'met',
  );
}
