import { describe, expect, test } from 'vitest';
import type { EvidenceGiven } from '../../../../src/engine/definition/definition.ts';
import { runCase } from '../run-case.ts';

const NAME = 'risk-assessment';
const works = {
  ground_flash_density: '4 1/km^2/year',
  structure: [{ length: '40 m', width: '20 m', height: '15 m', location: 'isolated' }],
  lines: [{ installation: 'buried', surroundings: 'suburban', impulse_withstand: '2.5 kV' }],
  zones: [{ persons: 20, floor: 'concrete', fire: 'ordinary' }],
  losses: [{ damage: 0.02, systems: 0.001, service_damage: 0.01, service_systems: 0.001 }],
} satisfies Readonly<Record<string, EvidenceGiven>>;

describe('risk-assessment', () => {
  test('every component scales with the flash density', () => {
    const [once, twice] = [
      runCase(NAME, works),
      runCase(NAME, { ...works, ground_flash_density: '8 1/km^2/year' }),
    ];
    for (const name of ['RA', 'RB', 'RC', 'RM', 'RU', 'RV', 'RW', 'RZ', 'R1', 'R2'])
      expect(twice.number(name) / once.number(name)).toBeCloseTo(2, 9);
  });

  test('two like zones that share the people are one zone', () => {
    const zone = works.zones[0]!;
    const two = runCase(NAME, {
      ...works,
      zones: [
        { ...zone, persons: 5 },
        { ...zone, persons: 15 },
      ],
    });
    expect(two.number('R1')).toBeCloseTo(runCase(NAME, works).number('R1'), 15);
  });

  test('failures of systems count for life only where they endanger it', () => {
    const [no, yes] = [runCase(NAME, works), runCase(NAME, { ...works, systems_endanger_life: 'yes' })];
    const systems = ['RC', 'RM', 'RW', 'RZ'].reduce((sum, name) => sum + no.number(name), 0);
    expect(yes.number('R1') - no.number('R1')).toBeCloseTo(systems, 15);
  });

  test('the level that is selected suffices, and the next lower one does not', () => {
    const house = { ...works, zones: [{ ...works.zones[0]!, fire: 'high' }], losses: [{ damage: 0.01 }] };
    const selected = runCase(NAME, house).result('selected_lpl');
    const order = ['none', 'IV', 'III', 'II', 'I'];
    const risk = (level: string) =>
      runCase(NAME, {
        ...house,
        measures: [
          {
            protection_system: level,
            bonding: level === 'none' ? 'none' : level === 'I' || level === 'II' ? level : 'III-IV',
          },
        ],
      });
    const index = order.indexOf(String(selected));
    expect(index).toBeGreaterThan(0);
    expect(risk(order[index]!).verdict('R1')).toBe('complies');
    expect(risk(order[index - 1]!).verdict('R1')).toBe('does not comply');
  });

  test('losses by systems that do not endanger life do not move the level', () => {
    const level = (systems: number) =>
      runCase(NAME, { ...works, losses: [{ damage: 0.01, systems }] }).result('selected_lpl');
    expect(level(1)).toBe(level(0));
    expect(level(1)).not.toBe('insufficient');
  });

  test('rows that do not belong together are refused', () => {
    const two = { ...works, losses: [works.losses[0]!, works.losses[0]!] };
    expect(runCase(NAME, two).faults.join()).toContain('one row of losses');
    const structures = { ...works, structure: [works.structure[0]!, works.structure[0]!] };
    expect(runCase(NAME, structures).faults.join()).toContain('one row for the structure');
  });

  test('without lines the note says so', () => {
    const { lines: _, ...rest } = works;
    const run = runCase(NAME, rest);
    expect(run.cautions).toContain('no-lines');
    expect(run.number('RV')).toBe(0);
  });
});
