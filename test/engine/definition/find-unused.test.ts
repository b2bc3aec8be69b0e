import { expect, test } from 'vitest';
import { CALCULATIONS } from '../../../src/engine/calculations/registry.ts';
import { findUnused } from '../../../src/engine/definition/find-unused.ts';
import { evidenceInputs } from '../../../src/engine/definition/run-evidence.ts';
import type { CaseGiven } from '../calculations/run-case.ts';

const unused = (name: string, given: CaseGiven): string[] => {
  const calculation = CALCULATIONS.get(name)!;
  return findUnused(calculation, evidenceInputs(calculation, given));
};

const ROD: CaseGiven = { kind: 'rod', resistivity: '100 ohm m', length: '3 m', diameter: '16 mm' };
const DUTY: CaseGiven = {
  class: 'SH',
  rated_voltage: '36 kV',
  residual_voltage: '71 kV',
  line_length: '24 km',
  surge_impedance: '380 ohm',
};

test.each<[string, CaseGiven, readonly string[]]>([
  ['earth-electrode', { ...ROD, count: '4', spacing: '3 m' }, ['count', 'spacing']],
  ['earth-electrode', ROD, []],
  [
    'earth-electrode',
    { kind: 'plate', resistivity: '100 ohm m', length: '0.6 m', width: '0.6 m', depth: '1 m' },
    ['depth'],
  ],
  ['line-constants', { kind: 'overhead', radius: '10 mm', height: '10 m', spacing: '1 m' }, ['spacing']],
  [
    'touch-and-step-limits',
    { method: 'en-50522', duration: '1 s', surface_resistivity: '2500 ohm m', surface_depth: '0.1 m' },
    ['surface_resistivity', 'surface_depth'],
  ],
  // Half of a pair does nothing by itself.
  [
    'arrester-duty',
    { ...DUTY, switching_overvoltage: '88 kV', flashover_voltage: '800 kV' },
    ['flashover_voltage'],
  ],
  // Words in place of a number came of all that the formula would have used.
  ['arrester-duty', { ...DUTY, switching_overvoltage: '60 kV' }, []],
  // A number that was compared decided something, also where it says that there is none.
  [
    'impulse-earth-resistance',
    { resistance: '10 ohm', resistivity: '100 ohm m', current: '10 kA', earth_lead: '0 m' },
    [],
  ],
  // An edition may be named where it makes no difference.
  ['altitude-correction', { altitude: '-100 m', reference: 'sea-level', exponent: '1' }, ['exponent']],
])('%s with %j: without use are %j', (name, given, expected) => {
  expect(unused(name, given)).toEqual(expected);
});

test('no evidence writes a value that does nothing', () => {
  const idle = [...CALCULATIONS].flatMap(([name, { definition }]) =>
    name.startsWith('surge-')
      ? []
      : definition.evidence.flatMap(({ about, given }) =>
          unused(name, given).map((one) => [name, about, one]),
        ),
  );
  expect(idle).toEqual([]);
});

test('a given that a step finds where it is absent is not asked for', () => {
  for (const { definition, required } of CALCULATIONS.values()) {
    for (const name of required) expect(Object.keys(definition.steps)).not.toContain(name);
  }
  expect(CALCULATIONS.get('insulation-withstand')!.required).not.toContain('coordination_factor');
});
