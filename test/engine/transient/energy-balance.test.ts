import { describe, expect, it } from 'vitest';
import { triangle } from '../../../src/engine/physics/piecewise-linear.ts';
import {
  atCurrent,
  atHistory,
  type Part,
  type PartPlace,
  type RunningParts,
  type SurgeElement,
} from '../../../src/engine/transient/element.ts';
import { arrester } from '../../../src/engine/transient/elements/arrester.ts';
import { capacitorPart } from '../../../src/engine/transient/elements/capacitor.ts';
import { incomingWave } from '../../../src/engine/transient/elements/incoming-wave.ts';
import { inductorPart } from '../../../src/engine/transient/elements/inductor.ts';
import { line } from '../../../src/engine/transient/elements/line.ts';
import { NonlinearPart } from '../../../src/engine/transient/elements/nonlinear-part.ts';
import { resistorPart } from '../../../src/engine/transient/elements/resistor.ts';
import { simulate } from '../../../src/engine/transient/simulate.ts';
import { simulateToTolerance } from '../../../src/engine/transient/simulate-to-tolerance.ts';
import { voltageAt } from './solved.ts';

const device = (part: (step: number) => Part): SurgeElement => ({
  name: 'device',
  kind: 'device',
  nodes: ['b', 'earth'],
  innerNodes: [],
  faults: [],
  paths: [['b', 'earth']],
  mayEndOpen: false,
  start: (step) => [part(step)],
});

const networkWith = (part: (step: number) => Part) => ({
  elements: [
    incomingWave({
      name: 'W',
      node: 'a',
      reference: 'earth',
      surgeImpedance: 400,
      waveform: triangle(300e3, 1e-6, 20e-6),
    }),
    line({ name: 'L', from: 'a', to: 'b', surgeImpedance: 300, delay: 0.4e-6 }),
    arrester({
      name: 'A',
      from: 'b',
      to: 'earth',
      characteristic: { coefficient: 1e4 / 80e3 ** 25, exponent: 25 },
    }),
    device(part),
  ],
});

const options = { duration: 10e-6, step: 5e-9, observe: [voltageAt('b')] };

/** The same part, of a kind that does something else than its own at each step. */
function disturbed(
  part: Part,
  change: (sound: RunningParts, place: PartPlace) => Partial<RunningParts>,
): Part {
  const kind: Part['kind'] = (parts, place) => {
    const sound = part.kind(parts, place);
    const own: RunningParts = {
      finish: (...step) => sound.finish(...step),
      energyOf: (index) => sound.energyOf(index),
      ...change(sound, place),
    };
    return own;
  };
  return { ...part, kind };
}

/** A capacitor whose history comes out a tenth too small. */
const leakingCapacitor = (step: number): Part =>
  disturbed(
    capacitorPart({ from: 'b', to: 'earth', capacitance: 2e-9 }, step),
    (sound, { places, numbers }) => ({
      finish: (...asked) => {
        sound.finish(...asked);
        numbers[places[0]! + atHistory]! *= 0.9;
      },
    }),
  );

/** An inductor that forgets the voltage at the begin of the step. */
const forgetfulInductor = (step: number): Part =>
  disturbed(
    inductorPart({ from: 'b', to: 'earth', inductance: 1e-3 }, step),
    (sound, { places, numbers }) => ({
      finish: (...asked) => {
        sound.finish(...asked);
        numbers[places[0]! + atHistory] = numbers[places[0]! + atCurrent]!;
      },
    }),
  );

/** Enters the network with another conductance than the one it computes with. */
const resistorOfTwoMinds = (): Part => ({
  ...resistorPart('b', 'earth', 500),
  kind: (_, place) => {
    const other = resistorPart('b', 'earth', 417);
    return other.kind([other], place);
  },
});

/** A law that knows no current beyond 10 kV. */
const endingLaw = {
  current: 0,
  slope: 0,
  referenceVoltage: 1,
  evaluate(voltage: number) {
    this.current = voltage > 1e4 ? Number.NaN : 1e-4 * voltage;
    this.slope = 1e-4;
  },
};

describe('balance of energy', () => {
  it.each([
    ['a capacitor', (step: number) => capacitorPart({ from: 'b', to: 'earth', capacitance: 2e-9 }, step)],
    ['an inductor', (step: number) => inductorPart({ from: 'b', to: 'earth', inductance: 1e-3 }, step)],
    ['a resistor', () => resistorPart('b', 'earth', 500)],
  ] as const)('holds with %s', (_, part) => {
    const outcome = simulate(networkWith(part), options);
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    expect(outcome.result.imbalance).toBeLessThan(1e-4);
    expect(outcome.result.balance.supplied).toBeGreaterThan(100);
  });

  it.each([
    ['a capacitor that loses its charge', leakingCapacitor],
    ['an inductor that forgets', forgetfulInductor],
    ['a resistor of two minds', resistorOfTwoMinds],
  ] as const)('catches %s', (_, part) => {
    const outcome = simulate(networkWith(part), options);
    expect(outcome).toMatchObject({
      ok: false,
      problems: [{ code: 'energy-imbalance', limit: 0.01, step: 5e-9 }],
    });
    if (outcome.ok || outcome.problems[0]?.code !== 'energy-imbalance') return;
    expect(outcome.problems[0].relative).toBeGreaterThan(0.01);
  });

  it('is not met by making the step smaller where an element is wrong', () => {
    const network = networkWith(resistorOfTwoMinds);
    const outcome = simulateToTolerance(network, { ...options, firstStep: 40e-9, halvingLimit: 4 });
    expect(outcome).toMatchObject({ ok: false, problems: [{ code: 'energy-imbalance' }] });
  });

  it('tells which element, when and at which values the search found nothing', () => {
    const network = networkWith(() => new NonlinearPart('b', 'earth', endingLaw, 1e-4));
    const outcome = simulate(network, options);
    expect(outcome.ok).toBe(false);
    if (outcome.ok) return;
    const [problem] = outcome.problems;
    expect(problem).toMatchObject({ code: 'not-converged', iterations: expect.any(Number) });
    if (problem?.code !== 'not-converged') return;
    expect(['device', 'A']).toContain(problem.element);
    expect(problem.time).toBeGreaterThan(0.4e-6);
    expect(problem.time).toBeLessThan(0.5e-6);
  });
});
