import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { armForcePerLength } from '../../../../src/engine/physics/bend-force.ts';
import { type CaseGiven, runCase } from '../run-case.ts';

const span = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('conductor-heating', () => {
  const copper: CaseGiven = { material: 'copper', section: '16 mm^2' };

  test('level and specific energy exclude each other, and one is needed', () => {
    expect(
      runCase('conductor-heating', { ...copper, lpl: 'I', specific_energy: '1 MJ/ohm' }).faults,
    ).toHaveLength(1);
    expect(runCase('conductor-heating', copper).faults).toHaveLength(1);
  });

  test('a conductor that melts does not comply, and no rise is printed for it', () => {
    const run = runCase('conductor-heating', {
      material: 'copper',
      section: '4 mm^2',
      lpl: 'I',
      permitted_rise: '500 K',
    });
    expect(run.result('final_temperature')).toBe('melts');
    expect(run.verdict('permitted_rise')).toBe('does-not-comply');
  });

  // IEC 62305-3:2010, Table 6, from memory: a down conductor of copper has at least 50 mm² whatever the heat.
  test('what the heat alone asks for is less than the standard does, and is told as not to be built', () => {
    const run = runCase('conductor-heating', { ...copper, lpl: 'III', permitted_rise: '60 K' });
    const limiting = run.evaluated!.limiting.find(({ given }) => given === 'section')!;
    const least = runCase('lps-materials', {
      component: 'conductor',
      material: 'copper',
      form: 'round',
      section: '16 mm^2',
    }).number('least_section');
    expect(least).toBeCloseTo(50e-6, 12);
    expect(limiting.result.type === 'number' && limiting.result.si < least).toBe(true);
    expect(limiting.meaning).toMatch(/not one to build where IEC 62305-3, Tables 6 to 9, asks for more/);
  });

  test('a hotter conductor melts sooner', () => {
    const given: CaseGiven = { material: 'aluminium', section: '10 mm^2', specific_energy: '2.5 MJ/ohm' };
    expect(runCase('conductor-heating', given).number('temperature_rise')).toBeCloseTo(566, 0);
    expect(
      runCase('conductor-heating', { ...given, ambient_temperature: '100 degC' }).result('temperature_rise'),
    ).toBe('melts');
  });

  test('the resistance at the temperature before the stroke counts, in frost as in heat', () => {
    const steel: CaseGiven = { material: 'steel', section: '35 mm^2', specific_energy: '5.6 MJ/ohm' };
    const rise = (ambient: number) =>
      runCase('conductor-heating', { ...steel, ambient_temperature: `${ambient} degC` }).number(
        'temperature_rise',
      );
    // By hand: (1 + 0.0065 (θ - 20)) / 0.0065 · (exp(5.6e6 · 0.0065 · 120e-9 / (35e-6² · 7700 · 469)) - 1).
    expect(rise(20)).toBeCloseTo(259.105, 3);
    expect(rise(-25)).toBeCloseTo(183.317, 3);
    expect(rise(-25) / rise(20)).toBeCloseTo(1 - 0.0065 * 45, 12);
  });

  // At 20 °C the rise is 1010 K, 50 K short of melting; at 60 °C the resistance is higher by 15.7 %.
  test('a warm conductor melts where the same one would have stood from 20 °C', () => {
    const given: CaseGiven = { material: 'copper', section: '16 mm^2', specific_energy: '20 MJ/ohm' };
    expect(runCase('conductor-heating', given).cautions).toContain('near-melting');
    expect(
      runCase('conductor-heating', { ...given, ambient_temperature: '60 degC' }).result('temperature_rise'),
    ).toBe('melts');
  });

  test('magnetic and thick conductors are cautioned', () => {
    const cautions = (material: string, section: string) =>
      runCase('conductor-heating', { material, section, specific_energy: '2.5 MJ/ohm' }).cautions;
    expect(cautions('steel', '50 mm^2')).toContain('magnetic-metal');
    expect(cautions('copper', '50 mm^2')).toContain('skin-effect');
    for (const id of ['skin-effect', 'magnetic-metal'])
      expect(cautions('stainless-steel', '50 mm^2')).not.toContain(id);
  });

  test('half of the current at level I heats as the whole of a quarter of its energy', () => {
    const half = runCase('conductor-heating', { ...copper, lpl: 'I', share: '0.5' });
    const quarter = runCase('conductor-heating', { ...copper, specific_energy: '2.5 MJ/ohm' });
    expect(half.number('temperature_rise')).toBeCloseTo(quarter.number('temperature_rise'), 9);
  });

  test('the rise grows with the share and falls with the section', () => {
    const rise = (section: number, share: number) =>
      runCase('conductor-heating', {
        material: 'copper',
        lpl: 'III',
        section: `${section} mm^2`,
        share: `${share}`,
      }).number('temperature_rise');
    fc.assert(
      fc.property(span(16, 400), span(0.1, 0.9), (section, share) => {
        expect(rise(section, share)).toBeLessThan(rise(section, share * 1.1));
        expect(rise(section * 1.1, share)).toBeLessThan(rise(section, share));
      }),
      { numRuns: 20 },
    );
  });
});

describe('joint-heating', () => {
  test('a joint of known metal melts by its heat capacity as by its mass', () => {
    const given: CaseGiven = { contact_resistance: '4 mohm', lpl: 'II', material: 'aluminium' };
    // 5.6 MJ/ohm · 4 mohm = 22.4 kJ; 0.03 kg of aluminium take 27.24 J/K: 822 K, against 638 K to melting.
    expect(runCase('joint-heating', { ...given, mass: '0.03 kg' }).result('temperature_rise')).toBe('melts');
    expect(
      runCase('joint-heating', { ...given, heat_capacity: '27.24 J/K' }).result('temperature_rise'),
    ).toBe('melts');
    expect(
      runCase('joint-heating', { ...given, heat_capacity: '60 J/K' }).number('temperature_rise'),
    ).toBeCloseTo(22400 / 60, 9);
  });

  test('without a mass the energy stands alone', () => {
    const run = runCase('joint-heating', { contact_resistance: '1 mohm', specific_energy: '2.5 MJ/ohm' });
    expect(run.number('energy')).toBeCloseTo(2500, 9);
    expect(run.result('temperature_rise')).toBeUndefined();
    expect(run.verdict('contact_resistance')).toBe('cannot-be-judged');
    expect(run.cautions).toContain('no-mass');
  });
});

describe('conductor-force and bend-force', () => {
  test('short conductors are cautioned', () => {
    const run = runCase('conductor-force', { current: '10 kA', spacing: '0.5 m', length: '1 m' });
    expect(run.cautions).toContain('validity-long-conductors');
  });

  test('force and moment at any angle are the integrals of the force per length', () => {
    fc.assert(
      fc.property(span(15, 170), span(0.002, 0.04), (angle, radius) => {
        const run = runCase('bend-force', {
          current: '80 kA',
          arm_length: '0.7 m',
          conductor_radius: `${radius} m`,
          bend_angle: `${angle} deg`,
        });
        const [force, moment] = integrate(80e3, 0.7, (angle * Math.PI) / 180, radius);
        expect(Math.abs(run.number('force') / force - 1)).toBeLessThan(1e-5);
        expect(Math.abs(run.number('moment') / moment - 1)).toBeLessThan(1e-5);
      }),
      { numRuns: 10 },
    );
  });

  // Beam over two equal spans under an even load, any handbook of statics: 3/8, 10/8 and 3/8 of the load of a span.
  test('a stiff conductor loads the middle one of three fixings by a quarter more than its span', () => {
    const given: CaseGiven = { current: '40 kA', spacing: '0.16 m', length: '9 m', fixing_distance: '0.9 m' };
    // 2e-7 · 40 kA² / 0.16 m = 2000 N/m: 1800 N a span.
    const fixed = (strength: string) =>
      runCase('conductor-force', { ...given, fixing_strength: strength }).verdict('fixing_strength');
    expect(runCase('conductor-force', given).number('stiff_fixing_force')).toBeCloseTo(2250, 9);
    expect(fixed('2000 N')).toBe('does-not-comply');
    expect(fixed('2300 N')).toBe('complies');
  });

  test('what the fixing of an arm does not take across, the other arm takes along itself', () => {
    const run = runCase('bend-force', {
      current: '60 kA',
      arm_length: '0.8 m',
      conductor_radius: '4 mm',
      fixing_distance: '0.7 m',
    });
    expect(run.number('pull_along') + run.number('fixing_force')).toBeCloseTo(run.number('force'), 9);
    expect(run.cautions).toContain('pull-along');
  });

  test('the nearest place of a fixing is looked for along the arm alone', () => {
    const limit = (strength: string) =>
      runCase('bend-force', {
        current: '70 kA',
        arm_length: '0.6 m',
        conductor_radius: '5 mm',
        fixing_distance: '0.4 m',
        fixing_strength: strength,
      }).evaluated?.limiting[0]?.result;
    // The moment is about 254 N m: 1 kN from 0.254 m on, and nowhere on the arm with 0.3 kN.
    const found = limit('1 kN');
    expect(found?.type === 'number' && found.si).toBeCloseTo(0.255, 2);
    const weak = limit('0.3 kN');
    expect(weak?.type === 'words' && weak.words).toBe('no value examined complies');
  });

  test('a radius that leaves nothing of the arm is an error', () => {
    const run = runCase('bend-force', {
      current: '80 kA',
      arm_length: '0.1 m',
      conductor_radius: '4 mm',
      bend_radius: '0.2 m',
    });
    expect(run.faults.some((fault) => fault.includes('leaves nothing of the arm'))).toBe(true);
  });
});

/** Midpoint rule over pieces equally spaced in the logarithm of the distance. */
function integrate(current: number, arm: number, angle: number, start: number): [number, number] {
  const pieces = 4000;
  const step = Math.log(arm / start) / pieces;
  let [force, moment] = [0, 0];
  for (let piece = 0; piece < pieces; piece++) {
    const place = start * Math.exp((piece + 0.5) * step);
    const part = armForcePerLength(current, arm, angle, place) * place * step;
    force += part;
    moment += part * place;
  }
  return [force, moment];
}

describe('down-conductor-voltage', () => {
  const path = (length: number, front: string): CaseGiven => ({
    current: '20 kA',
    front_time: front,
    earth_resistance: '8 ohm',
    sections: [{ length: `${length} m`, inductance: '1.2 uH/m' }],
  });

  test('a run down and back that takes more than a tenth of the front is told', () => {
    // 15 m and back take 0.1 us.
    expect(runCase('down-conductor-voltage', path(15.1, '1 us')).cautions).toContain('travel-time');
    expect(runCase('down-conductor-voltage', path(14.9, '1 us')).cautions).not.toContain('travel-time');
  });

  // Largest slopes of the Heidler functions of IEC 62305-1, Annex B (from memory): 27.3, 139.7 and 279 kA/us at level I.
  test.each([
    ['10 us', 27.3 / 20],
    ['1 us', 139.7 / 100],
    ['0.25 us', 279 / 200],
  ])('the bound holds for the standard function with a front of %s', (front, ratio) => {
    const run = runCase('down-conductor-voltage', path(7, front));
    expect(run.number('voltage_bound')).toBeGreaterThanOrEqual(
      run.number('earth_drop') + ratio * run.number('inductive_drop'),
    );
    expect(run.number('voltage_bound')).toBeGreaterThan(run.number('voltage'));
  });
});

describe('conductor-inductance', () => {
  const inductance = (given: CaseGiven) => runCase('conductor-inductance', given).number('inductance');

  test.each<CaseGiven>([
    { shape: 'round-wire', length: '2 m', diameter: '8 mm' },
    { shape: 'go-and-return', length: '2 m', diameter: '8 mm', spacing: '0.1 m' },
    { shape: 'rectangle', loop_length: '2 m', loop_width: '1 m', diameter: '8 mm' },
  ])('at high frequency there is less by 0.05 µH per metre of wire: %j', (given) => {
    const metres = given.shape === 'rectangle' ? 6 : given.shape === 'go-and-return' ? 4 : 2;
    expect(inductance({ ...given, frequency: 'low' }) - inductance(given)).toBeCloseTo(metres * 0.05e-6, 12);
  });

  test('overlapping wires are an error, close ones a caution', () => {
    const pair: CaseGiven = { shape: 'go-and-return', length: '2 m', diameter: '8 mm' };
    expect(runCase('conductor-inductance', { ...pair, spacing: '7 mm' }).faults).toHaveLength(1);
    expect(runCase('conductor-inductance', { ...pair, spacing: '20 mm' }).cautions).toContain(
      'validity-proximity',
    );
  });
});
