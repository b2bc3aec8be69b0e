import { describe, expect, test } from 'vitest';
import { displaySi } from '../../../../src/quantity/display.ts';
import { unit } from '../../../../src/quantity/unit.ts';
import { runCase } from '../run-case.ts';

type Row = Readonly<Record<string, string>>;

const wave: Row = {
  name: 'wave',
  type: 'source',
  from: 'tap',
  to: 'earth',
  peak_voltage: '500 kV',
  surge_impedance: '400 ohm',
  front_time: '1 us',
  half_value_time: '50 us',
};
const arrester: Row = {
  name: 'SA',
  type: 'arrester',
  from: 'tap',
  to: 'base',
  residual_voltage: '33 kV',
  residual_current: '10 kA',
  exponent: '30',
};
const lead: Row = { name: 'lead', type: 'inductor', from: 'base', to: 'earth', inductance: '14.6 uH' };
const bus: Row = {
  name: 'bus',
  type: 'line',
  from: 'tap',
  to: 'terminal',
  surge_impedance: '400 ohm',
  length: '6 m',
  velocity: '300 m/us',
};
const circuit = [wave, arrester, lead, bus];

function run(elements: readonly Row[], observe: readonly string[] = ['tap'], step?: string) {
  const given = { elements, observe, duration: '5 us', ...(step ? { step } : {}) };
  const outcome = runCase('surge-network', given);
  const list = (name: string) => {
    const found = outcome.evaluated?.steps.find((one) => one.name === name)?.result;
    return found?.type === 'list' ? found.items.map(({ si }) => si) : [];
  };
  return { ...outcome, list };
}

test('the circuit of an arrester with its leads gives what the ready-made calculation gives', () => {
  const ready = runCase('surge-at-terminals', {
    arrangement: 'common-earth',
    line_lead: '0.6 m',
    earth_lead: '14 m',
    residual_voltage: '33 kV',
    residual_current: '10 kA',
    exponent: '30',
    surge_peak: '500 kV',
    front_time: '1 us',
    line_impedance: '400 ohm',
    distance: '6 m',
  });
  const own = run(circuit, ['terminal']);
  expect(own.list('peak_voltages')[0]! / ready.number('peak_terminal_voltage')).toBeCloseTo(1, 2.5);
  expect(own.list('arrester_currents')[0]! / ready.number('peak_arrester_current')).toBeCloseTo(1, 2.5);
  expect(own.list('at_times')[0]! / ready.number('peak_time')).toBeCloseTo(1, 1);
});

test('results stand in the order of observe, and the figure names every node with its peak', () => {
  const one = run(circuit, ['terminal', 'tap', 'base']);
  const other = run(circuit, ['base', 'tap', 'terminal']);
  expect(one.list('peak_voltages')).toHaveLength(3);
  for (const [i, peak] of other.list('peak_voltages').reverse().entries()) {
    expect(one.list('peak_voltages')[i]! / peak).toBeCloseTo(1, 6);
  }
  const { svg } = one.evaluated!.figure!;
  const first = displaySi(one.list('peak_voltages')[0]!, unit('kV')).print;
  for (const label of ['terminal', 'tap', 'base', first]) expect(svg).toContain(label);
});

test('a first step of the author is halved until the peaks settle', () => {
  const stepped = run(circuit, ['terminal'], '20 ns');
  expect(stepped.number('time_step')).toBeLessThan(20e-9);
  expect(stepped.number('peak_change')).toBeLessThanOrEqual(1e-3);
  expect(
    stepped.list('peak_voltages')[0]! / run(circuit, ['terminal']).list('peak_voltages')[0]!,
  ).toBeCloseTo(1, 2.5);
});

test('a cable counts against its sheath', () => {
  const cable = { ...bus, type: 'cable', sheath: 'tank' };
  const earthed = { name: 'tank lead', type: 'inductor', from: 'tank', to: 'earth', inductance: '1 uH' };
  const lifted = run([...circuit.slice(0, 3), cable, earthed], ['terminal', 'tank']);
  expect(lifted.faults).toEqual([]);
  expect(Math.abs(lifted.list('peak_voltages')[1]!)).toBeGreaterThan(1);
});

describe('what is wrong is said with element and row', () => {
  test.each<[string, readonly Row[], readonly string[], readonly string[]]>([
    [
      'a missing value',
      [wave, { ...lead, type: 'resistor' }],
      ['tap'],
      ["'lead' (resistor, row 2)", 'resistance'],
    ],
    ['a value without use', [{ ...wave, inductance: '1 uH' }], ['tap'], ['no use for inductance', 'row 1']],
    [
      'a source without a peak',
      [{ name: 'w', type: 'source', from: 'tap', to: 'earth' }],
      ['tap'],
      ['exactly one'],
    ],
    ['two names alike', [...circuit, { ...bus, to: 'far' }], ['tap'], ["'bus' (line, row 4; line, row 5)"]],
    [
      'a node that nothing else reaches',
      [wave, { ...lead, from: 'bse' }],
      ['tap'],
      ["'lead' (inductor, row 2)", "'bse'"],
    ],
    [
      'a floating part',
      [wave, { ...lead, from: 'p', to: 'q' }, { ...lead, name: 'second', from: 'q', to: 'p' }],
      ['tap'],
      ["'p' and 'q'", 'row 2', 'row 3'],
    ],
    ['a wrong node', circuit, ['termnal'], ["'termnal'", 'terminal']],
    ['a sheath on a line', [wave, { ...bus, sheath: 'tank' }], ['tap'], ['sheath', 'row 2']],
    ['a short circuit', [wave, { ...lead, from: 'earth' }], ['tap'], ["'lead' (inductor, row 2)", "'earth'"]],
    [
      'a tail shorter than its front',
      [{ ...wave, half_value_time: '0.5 us' }],
      ['tap'],
      ['half_value_time', 'row 1'],
    ],
  ])('%s', (_, elements, observe, said) => {
    const { faults } = run(elements, observe);
    expect(faults).toHaveLength(1);
    for (const words of said) expect(faults[0]).toContain(words);
  });

  test('a step longer than a travel time', () => {
    const { faults } = run(circuit, ['tap'], '30 ns');
    expect(faults[0]).toContain("'bus' (line, row 4)");
  });
});
