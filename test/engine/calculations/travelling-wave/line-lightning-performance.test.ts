import { describe, expect, test } from 'vitest';
import { exposedWidth, meanExposedWidth, shareAbove } from '../../../../src/engine/physics/line-exposure.ts';
import { type CaseGiven, runCase } from '../run-case.ts';

const line: CaseGiven = {
  ground_flash_density: '1.4 1/km^2/year',
  tower_height: '32 m',
  wire_separation: '6 m',
  shield_height: '27 m',
  phase_height: '20 m',
  phase_offset: '5 m',
  flashover_voltage: '1100 kV',
};
const towers: CaseGiven = { wire_impedance: '420 ohm', coupling: '0.28', span: '330 m' };
const run = (given: CaseGiven = {}) => runCase('line-lightning-performance', { ...line, ...given });

/** Where upright leaders end, tried one by one: the width over which the phase is met first. */
function widthByTrial(h: number, y: number, a: number, current: number): number {
  const radius = 10 * current ** 0.65;
  const ground = (y < 40 ? 3.6 + 1.7 * Math.log(43 - y) : 5.5) * current ** 0.65;
  const top = (x: number, at: number, height: number) =>
    Math.abs(x - at) > radius ? Number.NEGATIVE_INFINITY : height + Math.sqrt(radius ** 2 - (x - at) ** 2);
  const step = 0.005;
  let met = 0;
  for (let x = -radius; x < a + radius + 1; x += step) {
    const phase = top(x, a, y);
    if (phase > Math.max(top(x, 0, h), ground)) met += step;
  }
  return met;
}

describe('line-lightning-performance', () => {
  // Independent: leaders that come straight down, tried at every 5 mm.
  test.each([
    [27, 20, 5, 4],
    [27, 20, 5, 12],
    [35, 24, 9, 25],
    [45, 41, 6, 9],
    [27, 20, 0.5, 4],
    [18, 12, 2, 60],
  ])('wire at %d m, phase at %d m and %d m outside, %d kA', (h, y, a, current) => {
    const found = exposedWidth({ shieldHeight: h, phaseHeight: y, phaseOffset: a }, current);
    expect(found).toBeCloseTo(widthByTrial(h, y, a, current), 1);
  });

  test('the mean width weighs the widths with the distribution of the strokes', () => {
    const geometry = { shieldHeight: 27, phaseHeight: 20, phaseOffset: 5 };
    const [least, pieces] = [5, 4000];
    let sum = 0;
    for (let i = 0; i < pieces; i++) {
      const [from, to] = [least + (i * 100) / pieces, least + ((i + 1) * 100) / pieces];
      sum += exposedWidth(geometry, (from + to) / 2) * (shareAbove(from) - shareAbove(to));
    }
    expect(meanExposedWidth(geometry, least) / sum).toBeCloseTo(1, 3);
  });

  test('nothing flashes over that cannot pass, and the largest passing current is where exposure ends', () => {
    const found = run();
    const largest = found.number('largest_passing') / 1000;
    const geometry = { shieldHeight: 27, phaseHeight: 20, phaseOffset: 5 };
    expect(exposedWidth(geometry, largest * 0.999)).toBeGreaterThan(0);
    expect(exposedWidth(geometry, largest * 1.001)).toBe(0);
    const strong = run({ flashover_voltage: `${largest * 200 + 1} kV` });
    expect(strong.number('shielding_rate')).toBe(0);
    expect(found.number('shielding_rate')).toBeGreaterThan(0);
  });

  test('the current found fulfils the equation of the back-flashover, with ionised footing', () => {
    const given: CaseGiven = {
      ...towers,
      footing_resistance: '45 ohm',
      soil_resistivity: '800 ohm m',
      power_voltage: '100 kV',
    };
    const found = run(given);
    const current = found.number('backflash_current');
    const onset = (400e3 * 800) / (2 * Math.PI * 45 ** 2);
    // The footing is ionised by its own share of the stroke: settled turn by turn, from the resistance at low current on.
    let footing = 45;
    for (let turn = 0; turn < 100; turn++)
      footing = 45 / Math.sqrt(1 + (current * 420) / (420 + 2 * footing) / onset);
    expect(found.number('footing_at_flashover')).toBeCloseTo(footing, 9);
    const across = (current * 0.72 * footing * 420) / (420 + 2 * footing) + 100e3;
    const tail = (420 / footing) * 1.1;
    expect(found.number('tail_constant')).toBeCloseTo(tail / 1e6, 12);
    const strength = (0.977 + 2.82 / tail) * (1100e3 - 20e3);
    expect(across / strength).toBeCloseTo(1, 9);
    // Without ionisation the footing stays what it is, and less current flashes over.
    const { soil_resistivity: _, ...dry } = given;
    expect(run(dry).number('footing_at_flashover')).toBe(45);
    expect(run(dry).number('backflash_current')).toBeLessThan(current);
  });

  test('earth wires that carry more away leave the footing less ionised', () => {
    const given: CaseGiven = { ...towers, footing_resistance: '60 ohm', soil_resistivity: '400 ohm m' };
    const footing = (impedance: string) => run({ ...given, wire_impedance: impedance });
    // With wires that carry nothing away, the whole stroke goes through the footing.
    const alone = footing('1e6 ohm');
    const onset = (400e3 * 400) / (2 * Math.PI * 60 ** 2);
    const whole = 60 / Math.sqrt(1 + alone.number('backflash_current') / onset);
    expect(alone.number('footing_at_flashover') / whole).toBeCloseTo(1, 3);
    const shared = footing('200 ohm');
    expect(shared.number('footing_at_flashover')).toBeGreaterThan(
      60 / Math.sqrt(1 + shared.number('backflash_current') / onset),
    );
  });

  test('rates add up and grow with footing, density and length', () => {
    const rate = (given: CaseGiven) => run({ ...towers, footing_resistance: '15 ohm', ...given });
    const base = rate({});
    expect(base.number('total_rate')).toBeCloseTo(
      base.number('shielding_rate') + base.number('backflash_rate'),
      15,
    );
    expect(rate({ footing_resistance: '60 ohm' }).number('backflash_rate')).toBeGreaterThan(
      base.number('backflash_rate'),
    );
    const longer = rate({ line_length: '250 km', ground_flash_density: '2.8 1/km^2/year' });
    expect(longer.number('total_rate') / base.number('total_rate')).toBeCloseTo(5, 9);
  });

  test('without a footing resistance only the shielding is judged', () => {
    const bare = run({ permitted_rate: '1 1/year', permitted_shielding_rate: '5 1/year' });
    expect(bare.verdict('total_rate')).toBe('cannot-be-judged');
    expect(bare.verdict('shielding_rate')).toBe('met');
    expect(bare.cautions).toContain('no-footing');
  });
});
