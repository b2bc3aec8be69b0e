import { describe, expect, test } from 'vitest';
import { findElements, textOf } from '../../figures/read-svg.ts';
import { type CaseGiven, runCase } from '../run-case.ts';

const intake: CaseGiven = {
  arrangement: 'common-earth',
  line_lead: '0.6 m',
  earth_lead: '14 m',
  residual_voltage: '33 kV',
  residual_current: '10 kA',
  exponent: '30',
  surge_peak: '500 kV',
  surge_steepness: '500 kV/us',
  line_impedance: '400 ohm',
  distance: '6 m',
  impulse_withstand: '75 kV',
};
const { residual_voltage: _v, residual_current: _i, exponent: _e, ...withoutCharacteristic } = intake;
const run = (changed: CaseGiven = {}) => runCase('surge-at-terminals', { ...intake, ...changed });

describe('arrangements', () => {
  test('a shorter loop leaves less at the terminals', () => {
    const peaks = ['14 m', '7 m', '2 m', '0 m'].map((bond) =>
      run({ bond_position: bond }).number('peak_terminal_voltage'),
    );
    expect(peaks).toEqual([...peaks].sort((a, b) => b - a));
    const across = run({ arrangement: 'across-terminals' }).number('peak_terminal_voltage');
    expect(across).toBeLessThan(peaks.at(-1)!);
  });

  test('an earth of its own adds the drop on its resistance; an earth in common lifts the tank only', () => {
    const separate = ['1 ohm', '20 ohm'].map((resistance) =>
      run({ arrangement: 'separate-earths', earth_resistance: resistance, distance: '0 m' }),
    );
    const [low, high] = separate.map((one) => one.number('peak_terminal_voltage'));
    expect(high! - low!).toBeGreaterThan(30e3);
    const common = ['1 ohm', '20 ohm'].map((resistance) =>
      run({ bond_position: '0.5 m', earth_lead: '0.5 m', earth_resistance: resistance, distance: '0 m' }),
    );
    const peaks = common.map((one) => one.number('peak_terminal_voltage'));
    expect(peaks[1]! / peaks[0]!).toBeCloseTo(1, 1);
    expect(common[1]!.number('tank_rise')).toBeGreaterThan(30e3);
  });

  test('without an earth resistance no rise of the equipment is stated where none is known', () => {
    const bonded = run({ bond_position: '3 m', earth_lead: '3 m' });
    expect(bonded.result('tank_rise')).toBe('not calculated without earth_resistance');
    expect(bonded.cautions).toContain('earth-resistance-missing');
    expect(bonded.cautions).not.toContain('earth-rise');
    const lead = run({ bond_position: '1 m', earth_lead: '6 m' });
    expect(lead.cautions).toEqual(expect.arrayContaining(['earth-rise', 'earth-resistance-missing']));
    const known = run({ bond_position: '3 m', earth_lead: '3 m', earth_resistance: '4 ohm' });
    expect(known.cautions).not.toContain('earth-resistance-missing');
  });

  test('the figure shows this arrangement alone, with its peak and the permitted voltage at withstand over safety factor', () => {
    for (const [withstand, factor] of [
      [75, 1.15],
      [95, 1.4],
    ] as const) {
      const { svg } = run({ impulse_withstand: `${withstand} kV`, safety_factor: String(factor) }).evaluated!
        .figure!;
      const courses = findElements(svg, 'polyline').filter((one) => one.attributes['stroke-width'] === '5');
      expect(courses).toHaveLength(1);
      const height = readHeights(svg);
      const [limit] = findElements(svg, 'line').filter(
        ({ attributes }) => attributes['stroke-width'] === '3.5' && attributes.y1 === attributes.y2,
      );
      expect(height(Number(limit!.attributes.y1))).toBeCloseTo(withstand / factor, 1);
    }
  });
});

/** The axis of voltages as it is printed: from the height on paper to kV. */
function readHeights(svg: string): (y: number) => number {
  const ticks = findElements(svg, 'text')
    .filter(({ attributes }) => attributes['text-anchor'] === 'end' && attributes.transform === undefined)
    .map((element) => ({ y: Number(element.attributes.y), value: Number(textOf(element)) }))
    .filter(({ value }) => Number.isFinite(value));
  const [low, high] = [ticks[0]!, ticks.at(-1)!];
  // The foot of a label lies a third of the capitals' height below its tick.
  const shift = 9.9;
  return (y) => low.value + ((y + shift - low.y) / (high.y - low.y)) * (high.value - low.value);
}

describe('accuracy', () => {
  test('a tighter tolerance moves no result by more than the wider one', () => {
    const [wide, tight] = ['0.5 %', '0.01 %'].map((tolerance) =>
      run({ tolerance, transformer_capacitance: '1 nF' }),
    );
    for (const name of [
      'peak_terminal_voltage',
      'peak_arrester_current',
      'arrester_charge',
      'arrester_energy',
    ]) {
      expect(wide!.number(name) / tight!.number(name), name).toBeGreaterThan(0.99);
      expect(wide!.number(name) / tight!.number(name), name).toBeLessThan(1.01);
    }
    expect(tight!.number('time_step')).toBeLessThan(wide!.number('time_step'));
    expect(wide!.number('energy_imbalance')).toBeLessThan(0.01);
  });

  test('charge and energy are those of the triangular surge on the load line', () => {
    // 2U - Ures over Z, in the mean half of its peak over the 99 us that the surge lasts; Ures at the mean current.
    const flat = run({ arrangement: 'across-terminals', surge_peak: '2000 kV', exponent: '50' });
    const lasts = 100e-6 - 4e-6;
    const charge = (0.5 * lasts * 4000e3 - lasts * 32.5e3) / 400;
    expect(flat.number('arrester_charge') / charge).toBeCloseTo(1, 1.5);
    expect(flat.number('arrester_energy') / (32.5e3 * charge)).toBeCloseTo(1, 1);
  });

  test('where the step cannot settle or the front is longer than the tail the block is refused', () => {
    expect(run({ half_value_time: '0.5 us' }).faults.join()).toContain('half_value_time');
    expect(run({ bond_position: '15 m' }).faults.join()).toContain('bond_position');
    expect(run({ distance: '0.0001 m' }).faults.join()).toContain('steps');
  });
});

describe('characteristic', () => {
  const points = [
    { voltage: '22 kV', current: '0.001 A' },
    { voltage: '28 kV', current: '100 A' },
    { voltage: '33 kV', current: '10 kA' },
  ];

  test('a table that holds the law gives what the law gives', () => {
    const law = run({ exponent: '20', residual_voltage: '30 kV' });
    const table = runCase('surge-at-terminals', {
      ...withoutCharacteristic,
      points: [0.001, 10, 1000, 10e3].map((current) => ({
        voltage: `${30 * (current / 10e3) ** (1 / 20)} kV`,
        current: `${current} A`,
      })),
    });
    const ratio = table.number('peak_terminal_voltage') / law.number('peak_terminal_voltage');
    expect(ratio).toBeCloseTo(1, 3);
    expect(table.cautions).not.toContain('first-point');
  });

  test.each([
    [points.slice(1), 'first-point', undefined],
    [points, undefined, undefined],
    [points.slice(0, 2), undefined, 'which is not extrapolated'],
    [[points[1]!, points[0]!], undefined, 'must rise'],
  ])('table %#', (table, caution, fault) => {
    const outcome = runCase('surge-at-terminals', { ...withoutCharacteristic, points: table });
    if (fault) expect(outcome.faults.join()).toContain(fault);
    else if (caution) expect(outcome.cautions).toContain(caution);
    else expect(outcome.cautions).not.toContain('first-point');
  });

  test('a residual voltage without its exponent is no characteristic, and is said once', () => {
    const outcome = runCase('surge-at-terminals', { ...withoutCharacteristic, residual_voltage: '33 kV' });
    expect(outcome.faults).toHaveLength(1);
    expect(outcome.faults[0]).toContain('exponent');
  });
});

test('equal surges give equal results, whatever was worked out between', () => {
  const first = run().number('peak_terminal_voltage');
  for (let length = 1; length <= 12; length++) run({ earth_lead: `${length} m` });
  expect(run().number('peak_terminal_voltage')).toBe(first);
  expect(run({ earth_lead: '13 m' }).number('peak_terminal_voltage')).not.toBe(first);
});
