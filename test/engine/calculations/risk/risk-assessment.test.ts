import { describe, expect, test } from 'vitest';
import type { EvidenceGiven } from '../../../../src/engine/definition/definition.ts';
import { runCase } from '../run-case.ts';

const NAME = 'risk-assessment';
type Given = Readonly<Record<string, EvidenceGiven>>;

const works = {
  ground_flash_density: '4 1/km^2/year',
  structure: [{ length: '40 m', width: '20 m', height: '15 m', location: 'isolated' }],
  lines: [{ installation: 'buried', surroundings: 'suburban', impulse_withstand: '2.5 kV' }],
  zones: [{ persons: 20, floor: 'concrete', fire: 'ordinary' }],
  losses: [{ damage: 0.02, systems: 0.001, service_damage: 0.01, service_systems: 0.001 }],
  systems_endanger_life: 'no',
} satisfies Given;

const run = (given: Given = {}, base: Given = works) => runCase(NAME, { ...base, ...given });
const items = (ran: ReturnType<typeof run>, name: string) => {
  const result = ran.evaluated?.steps.find((step) => step.name === name)?.result;
  return result?.type === 'list' ? result.items.map(({ si }) => si) : undefined;
};
const remedies = (ran: ReturnType<typeof run>) =>
  ran.evaluated!.checks.find(({ name }) => name === 'R1')!.remedies.join(' ');

describe('components', () => {
  test('every component scales with the flash density', () => {
    const [once, twice] = [run(), run({ ground_flash_density: '8 1/km^2/year' })];
    for (const name of ['RA', 'RB', 'RC', 'RM', 'RU', 'RV', 'RW', 'RZ', 'R1', 'R2'])
      expect(twice.number(name) / once.number(name)).toBeCloseTo(2, 9);
  });

  test('two like zones that share the people are one zone', () => {
    const zone = works.zones[0]!;
    const two = run({
      zones: [
        { ...zone, persons: 5 },
        { ...zone, persons: 15 },
      ],
    });
    expect(two.number('R1')).toBeCloseTo(run().number('R1'), 15);
  });

  test('lines and zones of different kinds add up, each by its own factors', () => {
    const two = run({
      lines: [
        { length: '200 m', installation: 'aerial', surroundings: 'rural' },
        {
          length: '500 m',
          installation: 'buried',
          surroundings: 'urban',
          supply: 'high-voltage',
          direct_probability: 0.4,
          adjacent_events: '0.01 1/year',
        },
      ],
      zones: [
        { persons: 30, presence: '2190 h', floor: 'ceramic', fire: 'high', fire_protection: 'automatic' },
        { persons: 10, floor: 'concrete', fire: 'low', hazard: 'low-panic' },
      ],
      losses: [{ damage: 0.1 }, { damage: 0.05, touch: 0.02 }],
      measures: [{ protection_system: 'III', bonding: 'II', line_touch: 'warning', touch: 'insulation' }],
      systems_endanger_life: 'no',
    });
    // By hand. NL: 4e-6 · 8000 = 0.032; 4e-6 · 20000 · 0.5 · 0.1 · 0.2 = 8e-4, and 0.01 from the far end.
    expect(items(two, 'NL_')!.map(perYear)).toEqual([expect.closeTo(0.032, 12), expect.closeTo(8e-4, 12)]);
    // LA: 0.001 · 0.01 · 0.75 · 0.25 + 0.01 · 0.02 · 0.25; LB: 0.2 · 0.1 · 0.1 · 0.1875 + 0.001 · 2 · 0.05 · 0.25.
    const [touch, damage] = [1.875e-6 + 5e-5, 3.75e-4 + 2.5e-5];
    const arriving = 0.032 * 0.02 + 0.0108 * 0.02 * 0.4;
    expect(perYear(two.number('RU'))).toBeCloseTo(arriving * 0.1 * touch, 15);
    expect(perYear(two.number('RV'))).toBeCloseTo(arriving * damage, 15);
    const struck = perYear(two.number('ND'));
    expect(perYear(two.number('RA'))).toBeCloseTo(struck * 0.01 * 0.1 * touch, 15);
    expect(perYear(two.number('RB'))).toBeCloseTo(struck * 0.1 * damage, 15);
  });

  test('systems at several lines: that one at least fails', () => {
    const line = { installation: 'buried', surroundings: 'rural' };
    const two = run({
      lines: [
        { ...line, impulse_withstand: '2 kV' },
        { ...line, wiring_factor: 0.2, direct_shielding: 0 },
      ],
      measures: [{ coordinated: 'III-IV' }],
    });
    // 1 − (1 − 0.05 · 0.5²)(1 − 0.05 · 0.2²); the isolated line does not fail by a flash to the structure.
    expect(two.number('PM')).toBeCloseTo(1 - (1 - 0.0125) * (1 - 0.002), 12);
    expect(two.number('PC')).toBeCloseTo(0.05, 12);
  });

  test('without lines the note says so', () => {
    const { lines: _, ...rest } = works;
    const ran = run({}, rest);
    expect(ran.cautions).toContain('no-lines');
    expect([ran.number('RV'), ran.number('RZ'), ran.number('RM')]).toEqual([0, 0, 0]);
  });

  test('rows that do not belong together are refused', () => {
    const [loss, structure] = [works.losses[0]!, works.structure[0]!];
    expect(run({ losses: [loss, loss] }).faults.join()).toContain("'losses' has 2 rows, and 'zones' has 1");
    expect(run({ structure: [structure, structure] }).faults.join()).toContain('takes one row');
    expect(run({ measures: [{}, {}] }).faults.join()).toContain('takes one row');
  });

  test('no line protects against touch voltages by bonding of the soil', () => {
    expect(run({ measures: [{ line_touch: 'equipotential' }] }).faults.join()).toContain('equipotential');
    expect(run({ measures: [{ touch: 'equipotential' }] }).faults).toEqual([]);
  });
});

describe('life and failures of systems', () => {
  test('they count for life only where they endanger it', () => {
    const [no, yes] = [run(), run({ systems_endanger_life: 'yes' })];
    const systems = ['RC', 'RM', 'RW', 'RZ'].reduce((sum, name) => sum + no.number(name), 0);
    expect(yes.number('R1') - no.number('R1')).toBeCloseTo(systems, 15);
    expect(no.cautions).toContain('systems-not-counted');
    expect(yes.cautions).not.toContain('systems-not-counted');
  });

  test('a loss of which it is not said whether it counts is asked about', () => {
    const { systems_endanger_life: _, ...unsaid } = works;
    const ran = run({}, unsaid);
    expect(ran.faults.join()).toContain('zone 1: there is a loss by failure of systems');
    expect(ran.places).toEqual(['losses[0].systems']);
  });

  test('a risk of explosion: no fire protection counts, systems do, and what is missing is an error', () => {
    const zones = [
      { persons: 8, floor: 'wood', fire: 'low', fire_protection: 'manual' },
      { persons: 2, floor: 'wood', fire: 'explosion-2', fire_protection: 'automatic' },
    ];
    const { systems_endanger_life: _, ...rest } = works;
    const missing = run({ zones, losses: [{ damage: 0.02 }, { damage: 0.1 }] }, rest);
    expect(missing.faults.join()).toContain(
      'zone 2: there is a risk of explosion, and no loss by failure of systems',
    );
    expect(missing.places).toEqual(['losses[1].systems']);
    const losses = [{ damage: 0.02 }, { damage: 0.1, systems: 0.1 }];
    const ran = run({ zones, losses }, rest);
    expect(items(ran, 'rp_')).toEqual([0.5, 1]);
    const all = ['RA', 'RB', 'RC', 'RM', 'RU', 'RV', 'RW', 'RZ'];
    expect(ran.number('R1')).toBeCloseTo(
      all.reduce((sum, name) => sum + ran.number(name), 0),
      18,
    );
    expect(perYear(ran.number('RC'))).toBeCloseTo(perYear(ran.number('ND')) * 0.1 * 0.2, 12);
    expect(ran.verdict('R1')).toBe('does-not-comply');
    expect(ran.cautions).toContain('explosion-surroundings');
    expect(run({ zones, losses, systems_endanger_life: 'no' }, rest).faults.join()).toContain(
      'zone 2: there is a risk',
    );
    const alike = run({ zones, losses: [{ damage: 0.05, systems: 0.1 }] }, rest);
    expect(alike.cautions).toEqual(expect.arrayContaining(['like-losses', 'explosion-damage']));
  });

  test.each([
    ['hospital', { zones: [{ ...works.zones[0]!, hazard: 'evacuation' }], losses: [{ damage: 0.1 }] }],
    ['panic', { zones: [{ ...works.zones[0]!, persons: 101 }] }],
    ['people-outside-zones', { persons_total: '21' }],
    ['no-adjacent-structure', {}],
    ['isolated-line', { lines: [{ ...works.lines[0]!, direct_shielding: 0.5 }] }],
    ['shielded-line', { lines: [{ ...works.lines[0]!, direct_probability: 0.6 }] }],
    ['coordinated-without-system', { measures: [{ coordinated: 'II' }] }],
    ['usual-range-tolerable_r1', { tolerable_r1: '2e-5 1/year' }],
    ['usual-range-losses.damage', { losses: [{ damage: 0.001 }] }],
    ['usual-range-zones.presence', { zones: [{ ...works.zones[0]!, presence: '10 h' }] }],
    ['service-and-heritage', { losses: [{ damage: 0.1, heritage: 0.1 }] }],
  ] satisfies [string, Given][])('what lowers a risk is told: %s', (caution, given) => {
    expect(run(given).cautions).toContain(caution);
  });

  test('and is not told where it does not hold', () => {
    const ran = run({
      lines: [{ ...works.lines[0]!, adjacent_events: '0.001 1/year' }],
      measures: [{ protection_system: 'II', bonding: 'II', coordinated: 'II' }],
      losses: [{ ...works.losses[0]!, heritage: 0.1 }],
    });
    expect(ran.cautions).toEqual([
      'edition',
      'factors-of-the-tables',
      'economic-loss',
      'systems-not-counted',
    ]);
  });
});

describe('the class that is selected', () => {
  const house = { ...works, zones: [{ ...works.zones[0]!, fire: 'high' }], losses: [{ damage: 0.01 }] };
  const order = ['none', 'IV', 'III', 'II', 'I'];
  const devices = (level: string) => (level === 'III' || level === 'IV' ? 'III-IV' : level);
  const protectedBy = (level: string, base: Given = house) =>
    run({ measures: [{ protection_system: level, bonding: devices(level) }] }, base);

  test('suffices, and the next lower one does not', () => {
    const ran = run({}, house);
    const index = order.indexOf(String(ran.result('selected_lpl')));
    expect(index).toBeGreaterThan(0);
    expect(protectedBy(order[index]!).verdict('R1')).toBe('complies');
    expect(protectedBy(order[index - 1]!).verdict('R1')).toBe('does-not-comply');
  });

  test('the risks that led to it are those of blocks with these measures', () => {
    const risks = items(run({}, house), 'R1_by_level')!;
    expect(risks).toEqual(order.map((level) => protectedBy(level).number('R1')));
    const { heritage } = { heritage: 0.05 };
    const museum = { ...works, losses: [{ damage: 0.05, service_damage: 0.1, heritage }] };
    for (const risk of ['R2', 'R3'])
      expect(items(run({}, museum), `${risk}_by_level`)).toEqual(
        order.map((level) => protectedBy(level, museum).number(risk)),
      );
  });

  test('does not depend on the system that is there, and is never said to be needed below it', () => {
    const selected = run({}, house).result('selected_lpl');
    for (const level of order) {
      const ran = protectedBy(level);
      const index = order.indexOf(String(ran.result('selected_lpl')));
      // Better devices that stand stay: with them no higher class is needed than without.
      expect(index).toBeLessThanOrEqual(order.indexOf(String(selected)));
      expect(index === 0 && level === 'none').toBe(false);
    }
  });

  test('a system without its devices is told, and the remedy is to complete it', () => {
    const bare = run({ measures: [{ protection_system: 'I' }] }, house);
    expect(bare.cautions).toContain('bonding-below-class');
    expect(bare.verdict('R1')).toBe('does-not-comply');
    expect(remedies(bare)).toContain('devices of the level of the protection system that is given (class I)');
    expect(remedies(bare)).not.toMatch(/class (IV|III|II)\b/);
    for (const [protection_system, bonding, told] of [
      ['II', 'III-IV', true],
      ['II', 'II', false],
      ['IV', 'III-IV', false],
      ['III', 'none', true],
      ['I', 'II', true],
      ['III', 'I', false],
    ] as const) {
      const ran = run({ measures: [{ protection_system, bonding }] }, house);
      expect(ran.cautions.includes('bonding-below-class'), `${protection_system}, ${bonding}`).toBe(told);
    }
  });

  test('a lower system that stands is to be raised', () => {
    const high = { ...house, losses: [{ damage: 0.05 }] };
    expect(run({}, high).result('selected_lpl')).toBe('I');
    const ran = protectedBy('IV', high);
    expect(remedies(ran)).toContain('Raise the protection system that is given (class IV) to class I');
  });

  test('losses by systems that do not endanger life do not move it', () => {
    const level = (systems: number) => run({ losses: [{ damage: 0.01, systems }] }).result('selected_lpl');
    expect(level(1)).toBe(level(0));
    expect(level(1)).not.toBe('insufficient');
  });
});

function perYear(si: number): number {
  return si * 365 * 86_400;
}
