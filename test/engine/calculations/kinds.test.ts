import { expect, test } from 'vitest';
import { CALCULATIONS } from '../../../src/engine/calculations/registry.ts';
import { declaredKinds, inferKinds } from '../../../src/engine/definition/infer-kinds.ts';
import { runCalculation } from '../../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import { kindTerm } from '../../../src/quantity/kind-term.ts';
import { hasKind } from '../../../src/quantity/voltage-kind.ts';

const DIRECT = 'direct voltage or current';

/** Voltages and currents that are not one or the other by their nature, with the reason. */
const OPEN: Readonly<Record<string, string>> = {
  'arrester-protective-distance-statistical.line_factor':
    'a coefficient of the line, counted in kV by its standard',
  'insulation-withstand.withstand': 'peak or r.m.s. by the test that is chosen',
  'insulation-withstand.required_test_voltage': 'peak or r.m.s. by the test that is chosen',
  'insulation-withstand.selected_level': 'peak or r.m.s. by the test that is chosen',
  'pv-spd.continuous_voltage': DIRECT,
  'pv-spd.module_current': DIRECT,
  'pv-spd.module_voltage': DIRECT,
  'pv-spd.open_circuit_voltage': DIRECT,
  'pv-spd.short_circuit_current': DIRECT,
  'pv-spd.short_circuit_rating': DIRECT,
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

/** What stands between phase and earth or between phases by a choice in its block: the other is a contradiction. */
const BY_CHOICE = ['insulation-withstand.two_percent_overvoltage'];

test('between what a voltage stands may be said wherever it is left open: that alone contradicts nothing', () => {
  const faults = [...CALCULATIONS].flatMap(([calculation, compiled]) => {
    const inputs = evidenceInputs(compiled, compiled.definition.evidence[0]!.given);
    const run = runCalculation(compiled, inputs);
    if (!run.ok) throw new Error(calculation);
    const declared = [...compiled.givens.values()].flatMap(declaredKinds);
    return declared.flatMap(([name, kind]) => {
      if (!kind?.measure || kind.between || BY_CHOICE.includes(`${calculation}.${name}`)) return [];
      return (['phase-earth', 'phase-phase', 'line-neutral'] as const).flatMap((between) => {
        const terms = declared.map(
          ([other, own]) => [other, kindTerm(other === name ? { ...own, between } : own)] as const,
        );
        const found = inferKinds(compiled, new Map(terms), run.state.values);
        return found.map(({ where }) => `${calculation}: ${name} ${between}: ${where}`);
      });
    });
  });
  expect(faults).toEqual([]);
});
