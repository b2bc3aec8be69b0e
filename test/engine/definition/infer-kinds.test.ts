import { describe, expect, test } from 'vitest';
import { inferKinds } from '../../../src/engine/definition/infer-kinds.ts';
import { type KindTerm, knownKind } from '../../../src/quantity/kind-term.ts';
import type { VoltageKind } from '../../../src/quantity/voltage-kind.ts';
import { basis, check, compiled, faultsOf, length, type Parts } from './made-up.ts';

function voltage(symbol: string, kind?: VoltageKind) {
  return length(symbol, { unit: 'kV', ...(kind ? { voltage: kind } : {}) });
}

function step(formula: string, kind?: VoltageKind, more = {}) {
  const own = { symbol: 'U', meaning: 'a voltage', unit: 'kV', basis, formula, ...more };
  return kind ? { ...own, voltage: kind } : own;
}

const peak: VoltageKind = { measure: 'peak' };
const rms: VoltageKind = { measure: 'rms' };
const givens = {
  residual: voltage('U_r', { measure: 'peak', between: 'phase-earth' }),
  system: voltage('U_s', { measure: 'rms', between: 'phase-phase' }),
  some: voltage('U'),
};

describe('a definition whose kinds contradict each other is refused', () => {
  test.each<[string, Parts, string]>([
    ['a step that declares another kind', { steps: { a: step('1.2 * residual', rms) } }, 'steps.a.0:'],
    [
      'between phases, where to earth is declared',
      { steps: { a: step('0.9 * system', { measure: 'rms', between: 'phase-earth' }) } },
      'steps.a.0:',
    ],
    ['a sum', { steps: { a: step('residual + sqrt(2) * system', peak) } }, 'steps.a.0:'],
    [
      'a step built on a step',
      { steps: { a: step('system / sqrt(3)'), b: step('a + residual') } },
      'steps.b.0:',
    ],
    [
      'a check',
      { steps: { a: step('2 * residual') }, checks: { c: check('a <= 3 * system') } },
      'checks.c.limit:',
    ],
    [
      'a competing value',
      {
        steps: { a: step('residual'), b: step('system') },
        checks: { c: check('a <= some', { competing: [{ meaning: 'the other', value: 'b' }] }) },
      },
      'checks.c.competing.0.limit:',
    ],
    ['a condition', { steps: { a: step('residual', peak, { when: 'system < residual' }) } }, 'steps.a.when:'],
    [
      'a limit of validity',
      {
        steps: { a: step('residual') },
        validity: { v: { requires: 'a < system', otherwise: 'error', text: '' } },
      },
      'validity.v:',
    ],
    [
      'a given of open kind in two uses',
      { steps: { a: step('some + residual'), b: step('some - system') } },
      'steps.b.0:',
    ],
  ])('%s', (_, parts, where) => {
    const faults = faultsOf({ givens, ...parts });
    expect(faults[0]).toContain(where);
  });
});

test('what converts, and what says that it goes across kinds on purpose, is taken', () => {
  const steps = {
    base: step('sqrt(2) * system / sqrt(3)', { measure: 'peak', between: 'phase-earth' }),
    ratio: { symbol: 'k', meaning: 'ratio', unit: '1', basis, formula: 'residual / base' },
    crossed: step(
      '0.8 * system',
      { measure: 'rms', between: 'phase-earth' },
      { acrossKinds: 'a coefficient' },
    ),
    counted: step('1.5 * system', peak, { numeric: { system: 'kV' } }),
  };
  expect(faultsOf({ givens, steps, checks: { c: check('residual <= base') } })).toEqual([]);
});

test('of a run the variant that applies gives its kind', () => {
  const calculation = compiled({
    givens: {
      ...givens,
      mode: { type: 'choice', symbol: 'm', meaning: 'mode', options: { one: '1', two: '2' } },
    },
    steps: {
      a: {
        symbol: 'U',
        meaning: 'a voltage',
        unit: 'kV',
        basis,
        variants: [{ when: 'mode is one', formula: 'residual' }, { formula: 'system' }],
      },
    },
  });
  const kindOf = (values?: ReadonlyMap<string, string>) => {
    const terms = new Map<string, KindTerm>();
    expect(inferKinds(calculation, terms, values)).toEqual([]);
    return knownKind(terms.get('a')!);
  };
  expect(kindOf()).toBeUndefined();
  expect(kindOf(new Map([['mode', 'one']]))).toEqual({ measure: 'peak', between: 'phase-earth' });
  expect(kindOf(new Map([['mode', 'two']]))).toEqual({ measure: 'rms', between: 'phase-phase' });
});
