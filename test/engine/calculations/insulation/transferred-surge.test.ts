import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const run = (given: CaseGiven) => runCase('transferred-surge', given);
const surge: CaseGiven = {
  surge_voltage: '90 kV',
  winding_capacitance: '0.8 nF',
  lv_capacitance: '2.4 nF',
  hv_voltage: '33 kV',
  lv_voltage: '690 V',
  neutral: 'joined',
  system: 'TN',
};
const fault: CaseGiven = {
  earth_fault_current: '100 A',
  earth_resistance: '8 ohm',
  duration: '1 s',
  nominal_voltage: '230 V',
};

describe('transferred-surge', () => {
  // By hand: 90 · 0.8/3.2 = 22.5 kV, with a cable of 16.8 nF 90 · 0.8/20 = 3.6 kV; 1.3 · 90/47.826 = 2.446 kV.
  test('joined capacitance lowers what the capacitances transfer, the turns transfer the rest', () => {
    expect(run(surge).number('capacitive_voltage')).toBeCloseTo(22_500, 6);
    const cable = run({ ...surge, connected_capacitance: '16.8 nF' });
    expect(cable.number('capacitive_voltage')).toBeCloseTo(3600, 6);
    expect(cable.number('inductive_voltage')).toBeCloseTo((1.3 * 90_000 * 0.69) / 33, 6);
    expect(run({ ...surge, surge_kind: 'switching' }).number('response')).toBe(1.8);
    expect(run({ ...surge, response_factor: '1.05' }).number('inductive_voltage')).toBeCloseTo(
      (1.05 * 90_000 * 0.69) / 33,
      6,
    );
  });

  test('the larger of both is judged', () => {
    const judged = (connected: string, withstand: string) =>
      run({ ...surge, connected_capacitance: connected, withstand_voltage: withstand }).verdict(
        'transferred',
      );
    expect(judged('16.8 nF', '3.5 kV')).toBe('does-not-comply');
    expect(judged('16.8 nF', '3.7 kV')).toBe('complies');
    // With 0.9 µF the capacitances give 80 V, and 2.45 kV come through the turns.
    expect(judged('900 nF', '2.4 kV')).toBe('does-not-comply');
    expect(judged('900 nF', '2.5 kV')).toBe('complies');
    const { lv_capacitance: _, ...lacking } = surge;
    expect(run({ ...lacking, withstand_voltage: '100 kV' }).verdict('transferred')).toBe('cannot-be-judged');
  });

  // IEC 60364-4-44, Table 44.A1, from memory: which equipment the rise of 800 V stresses.
  test.each([
    ['joined', 'TN', 230, 230],
    ['joined', 'TT', 230, 1030],
    ['separate', 'TN', 1030, 230],
    ['separate', 'TT', 1030, 230],
  ])('neutral %s, %s: %d V in the station, %d V at the consumers', (neutral, system, station, consumer) => {
    const found = run({ ...fault, neutral, system });
    expect(found.number('station_stress')).toBeCloseTo(station, 9);
    expect(found.number('consumer_stress')).toBeCloseTo(consumer, 9);
  });

  test('250 V beyond five seconds, 1200 V up to them', () => {
    const at = (resistance: number, duration: string) =>
      run({
        ...fault,
        neutral: 'joined',
        system: 'TT',
        earth_resistance: `${resistance} ohm`,
        duration,
      }).verdict('consumer_stress');
    expect(at(12, '5 s')).toBe('complies');
    expect(at(12.1, '5 s')).toBe('does-not-comply');
    expect(at(2.5, '5.1 s')).toBe('complies');
    expect(at(2.6, '5.1 s')).toBe('does-not-comply');
  });

  test('arresters raise a joined neutral, not a separate one', () => {
    const discharge: CaseGiven = {
      arrester_current: '4 kA',
      earth_resistance: '1.4 ohm',
      withstand_voltage: '6 kV',
      system: 'TN',
    };
    expect(run({ ...discharge, neutral: 'joined' }).verdict('neutral_rise')).toBe('complies');
    expect(
      run({ ...discharge, neutral: 'joined', earth_resistance: '1.6 ohm' }).verdict('neutral_rise'),
    ).toBe('does-not-comply');
    expect(run(discharge).faults.join()).toContain('write neutral');
    expect(run({ ...discharge, neutral: 'separate' }).verdict('neutral_rise')).toBeUndefined();
  });
});
