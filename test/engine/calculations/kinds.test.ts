import { expect, test } from 'vitest';
import { CALCULATIONS } from '../../../src/engine/calculations/registry.ts';
import { declaredKinds } from '../../../src/engine/definition/infer-kinds.ts';
import { hasKind } from '../../../src/quantity/voltage-kind.ts';

/** Voltages and currents that are not one or the other by their nature, with the reason. */
const OPEN: Readonly<Record<string, string>> = {
  'arrester-protective-distance-statistical.line_factor':
    'a coefficient of the line, counted in kV by its standard',
  'insulation-withstand.withstand': 'peak or r.m.s. by the test that is chosen',
  'insulation-withstand.required_test_voltage': 'peak or r.m.s. by the test that is chosen',
  'insulation-withstand.selected_level': 'peak or r.m.s. by the test that is chosen',
};

test('every voltage and current of the catalogue says whether it is a peak or an r.m.s. value', () => {
  const open = [...CALCULATIONS].flatMap(([calculation, { givens, steps }]) => {
    const ofGivens = [...givens.values()].flatMap(declaredKinds);
    const ofSteps = steps
      .filter(({ unit }) => hasKind(unit.dimension))
      .map(({ name, definition }) => [name, definition.voltage] as const);
    return [...ofGivens, ...ofSteps]
      .filter(([, kind]) => !kind?.measure)
      .map(([name]) => `${calculation}.${name}`);
  });
  expect([...new Set(open)].sort()).toEqual(Object.keys(OPEN).sort());
});
