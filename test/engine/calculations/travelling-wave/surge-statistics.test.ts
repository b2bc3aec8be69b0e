import { describe, expect, test } from 'vitest';
import {
  type StrokeCase,
  simulateStrokes,
  surgeOfStroke,
} from '../../../../src/engine/calculations/travelling-wave/simulate-strokes.ts';
import { simulateTerminals } from '../../../../src/engine/calculations/travelling-wave/simulate-terminals.ts';
import type { EvidenceGiven } from '../../../../src/engine/definition/definition.ts';
import { oneByOne, type Spread } from '../../../../src/engine/definition/piece-task.ts';
import { ENGLISH } from '../../../../src/words/words.ts';
import { spread, trials } from '../../../support/at-length.ts';
import { strokeCase } from '../../../support/stroke-case.ts';
import { type CaseGiven, runCase } from '../run-case.ts';

const pole: CaseGiven = {
  arrangement: 'common-earth',
  line_lead: '1 m',
  earth_lead: '6 m',
  bond_position: '0.5 m',
  residual_voltage: '33 kV',
  residual_current: '10 kA',
  exponent: '30',
  line_impedance: '400 ohm',
  line_flashover: '300 kV',
  transformer_capacitance: '1 nF',
  impulse_withstand: '75 kV',
  strokes: String(trials(20, 40)),
  stroke_rate: '0.05 1/year',
};
const run = (changed: CaseGiven = {}) => runCase('surge-statistics', { ...pole, ...changed });

describe('what a sample says', () => {
  test('the longer the loop, the more strokes exceed the withstand', () => {
    const shares = ['0 m', '2 m', '6 m'].map((bond) => run({ bond_position: bond }).number('share_over'));
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)! - shares[0]!).toBeGreaterThan(0.1);
  });

  test('a higher withstand is exceeded more rarely; the mean time follows from share and rate', () => {
    const cases = ['78 kV', '81 kV', '84 kV'].map((withstand) => run({ impulse_withstand: withstand }));
    const shares = cases.map((one) => one.number('share_over'));
    expect(shares).toEqual([...shares].sort((a, b) => b - a));
    const [first] = cases;
    // 0.05 strokes a year in seconds of a year of 365 days.
    const rate = 0.05 / (365 * 86400);
    expect(first!.number('mean_time') * rate * shares[0]!).toBeCloseTo(1, 9);
    expect(first!.number('share_bound')).toBeGreaterThan(shares[0]!);
    expect(first!.number('mean_time_bound')).toBeLessThan(first!.number('mean_time'));
  });

  test('samples of other seeds agree within what their size allows', () => {
    const strokes = trials(40, 100);
    const [one, other] = ['1', '2'].map((seed) => run({ seed, strokes: String(strokes) }));
    expect(one!.number('median_terminal_voltage')).not.toBe(other!.number('median_terminal_voltage'));
    expect(Math.abs(one!.number('share_over') - other!.number('share_over'))).toBeLessThan(
      0.5 / Math.sqrt(strokes),
    );
  });

  test('the time asked for is judged by the bound; without a rate it cannot be judged', () => {
    expect(run({ required_mean_time: '1 year' }).verdict('failure_interval')).toBe('complies');
    expect(run({ required_mean_time: '100000 year' }).verdict('failure_interval')).toBe('does-not-comply');
    const { stroke_rate: _, ...without } = pole;
    const unrated = runCase('surge-statistics', { ...without, required_mean_time: '1 year' });
    expect(unrated.verdict('failure_interval')).toBe('cannot-be-judged');
    expect(run().verdict('failure_interval')).toBeUndefined();
  });

  test('a line that never flashes over is cautioned, and so is a sample without a failure', () => {
    const { line_flashover: _, ...uncut } = pole;
    expect(runCase('surge-statistics', uncut).cautions).toContain('no-flashover');
    const none = run({ impulse_withstand: '100 MV' });
    expect(none.cautions).toContain('none-over');
    expect(none.result('mean_time')).toBe('no stroke of the sample exceeds the withstand');
  });

  test('a table of points that ends below the currents of the sample, or begins too high, is cautioned', () => {
    const { residual_voltage: _v, residual_current: _i, exponent: _e, ...bare } = pole;
    const point = (voltage: number, current: number) => ({
      voltage: `${voltage} kV`,
      current: `${current} A`,
    });
    const cautionsOf = (points: EvidenceGiven) =>
      runCase('surge-statistics', { ...bare, points }).cautions.filter(
        (id) => id.includes('point') || id.includes('beyond'),
      );
    // 2 * 300 kV / 400 ohm: the flashover of the line leaves 1.5 kA.
    expect(cautionsOf([point(20, 0.5), point(30, 1600)])).toEqual([]);
    expect(cautionsOf([point(20, 2), point(30, 1400)])).toEqual(['first-point', 'beyond-characteristic']);
  });

  test.each([
    ['line_impedance', /impedance/],
    ['line_lead', /lead/],
    ['impulse_withstand', /withstand/],
  ])('without %s it is refused', (name, words) => {
    const { [name]: _, ...without } = pole;
    expect(runCase('surge-statistics', without).faults.join(' ')).toMatch(words);
  });
});

const path = strokeCase({ tolerance: 1e-3 }).path;
const sample = ({ path: own, ...changed }: Partial<StrokeCase> = {}): StrokeCase =>
  strokeCase(own ?? path, { seed: 3, ...changed });

function strokesOf(asked: StrokeCase, spread: Spread = oneByOne) {
  const outcome = simulateStrokes(asked, spread);
  if (!outcome.ok) throw new Error(ENGLISH.word(outcome.reason));
  return outcome.strokes;
}

test.each(spread(['common-earth', 'separate-earths', 'across-terminals'] as const, 1))(
  'the short run of a stroke finds the peak of the whole surge: %s',
  (arrangement) => {
    const asked = sample({
      size: trials(3, 8),
      path: { ...path, arrangement, distance: arrangement === 'across-terminals' ? 0 : 8 },
    });
    for (const stroke of strokesOf(asked)) {
      const whole = simulateTerminals(surgeOfStroke(asked, stroke));
      if (!whole.ok) throw new Error(ENGLISH.word(whole.reason));
      // Both runs settle within 0.1 %, each with a step of its own.
      expect(Math.abs(stroke.voltage / whole.course.peakTerminalVoltage - 1)).toBeLessThan(0.004);
    }
  },
);

test('the order in which pieces are worked on changes nothing', () => {
  const backwards: Spread = (task, input, pieces) => {
    const results = new Float64Array(pieces);
    for (let index = pieces - 1; index >= 0; index--) results[index] = task.work(input, index);
    return results;
  };
  const asked = sample({ seed: 11, size: trials(6, 20) });
  const forwards = strokesOf(asked);
  expect(strokesOf(asked, backwards)).toEqual(forwards);
});

test('a stroke that cannot be simulated is named with its values', () => {
  const outcome = simulateStrokes(
    sample({ path: { ...path, capacitance: 1e-30, velocity: 1e30 } }),
    oneByOne,
  );
  expect(outcome.ok ? '' : ENGLISH.word(outcome.reason)).toMatch(
    /stroke 1 of the sample \(.* kA, .* kA\/us\): .+/,
  );
});
