import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const dwelling: CaseGiven = { consequence: 'other', lightning_protection_system: 'absent' };
const run = (given: CaseGiven) => runCase('spd-need', { ...dwelling, ...given });
const need = (given: CaseGiven) => run(given).number('need');

describe('spd-need', () => {
  test('what a failure affects decides before the risk level', () => {
    const safe: CaseGiven = {
      environment: 'urban',
      ground_flash_density: '0.1 1/km^2/year',
      lv_cable: '0.3 km',
      end_of_lengths: 'protective-device',
    };
    // 850 / (0.3 · 0.1) = 28 333
    expect(run(safe).number('risk_level')).toBeCloseTo(28_333.33, 1);
    expect(need(safe)).toBe(0);
    for (const consequence of ['life', 'public-service', 'business', 'many-people'])
      expect(need({ ...safe, consequence })).toBe(1);
    expect(need({ ...safe, lightning_protection_system: 'present' })).toBe(1);
  });

  test('the level of 1000 itself is not below it', () => {
    const at = (density: string): CaseGiven => ({
      ground_flash_density: `${density} 1/km^2/year`,
      lv_cable: '0.5 km',
      end_of_lengths: 'protective-device',
      spd: 'absent',
    });
    // 85 / (0.5 · 0.17) = 1000
    expect(need(at('0.17'))).toBe(0);
    expect(need(at('0.1701'))).toBe(1);
    expect(run(at('0.17')).verdict('protection')).not.toBe('does-not-comply');
    expect(run(at('0.1701')).verdict('protection')).toBe('does-not-comply');
  });

  test('lengths weigh by their kind, and what is not known counts as low-voltage overhead line', () => {
    const found = run({ lv_cable: '0.2 km', hv_overhead: '0.3 km', hv_cable: '0.1 km' });
    // 2 · 0.4 + 0.2 + 0.12 + 0.02
    expect(found.number('assessment_length')).toBeCloseTo(1140, 9);
    expect(found.cautions).toContain('unknown-as-overhead');
    const ended = run({ lv_cable: '0.2 km', end_of_lengths: 'protective-device' });
    expect(ended.number('assessment_length')).toBeCloseTo(200, 9);
    expect(ended.cautions).not.toContain('unknown-as-overhead');
  });

  test('without a density, and without any line, nothing is taken as safe that is not', () => {
    const unknown = run({ spd: 'absent' });
    expect(unknown.result('risk_level')).toBeUndefined();
    expect(unknown.number('need')).toBe(1);
    expect(unknown.cautions).toContain('no-risk-level');
    const none = run({ ground_flash_density: '1 1/km^2/year', end_of_lengths: 'protective-device' });
    expect(none.result('risk_level')).toBe('no line');
    expect(none.number('need')).toBe(1);
  });

  test('thunderstorm days stand for a tenth of a flash each, and a country may raise the factor', () => {
    const found = run({ thunderstorm_days: '12', adjustment_factor: '3' });
    // 3 · 85 / (2 · 1.2)
    expect(found.number('risk_level')).toBeCloseTo(106.25, 9);
  });

  test.each<[CaseGiven, number]>([
    [{ thunderstorm_days: '25', lv_overhead: '0.3 km' }, 0],
    [{ thunderstorm_days: '26', lv_overhead: '0.3 km' }, 1],
    [{ ground_flash_density: '2.6 1/km^2/year', lv_overhead: '0.3 km' }, 1],
    [{ ground_flash_density: '9 1/km^2/year', lv_cable: '0.3 km' }, 0],
    [{ lv_overhead: '0.3 km' }, 1],
  ])('edition of 2007, %j: %d', (given, expected) => {
    expect(need({ edition: 'iec-60364-4-44-2007', end_of_lengths: 'protective-device', ...given })).toBe(
      expected,
    );
  });

  test('an unsaid protection is not judged', () => {
    expect(run({}).verdict('protection')).toBe('cannot-be-judged');
    expect(run({ spd: 'present' }).verdict('protection')).toContain('complies');
  });
});
