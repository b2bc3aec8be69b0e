import { describe, expect, it } from 'vitest';
import { stepWaveform } from '../../../src/engine/physics/waveform.ts';
import { checkNetwork } from '../../../src/engine/transient/check-network.ts';
import type { SurgeElement } from '../../../src/engine/transient/element.ts';
import { capacitor } from '../../../src/engine/transient/elements/capacitor.ts';
import { currentSource } from '../../../src/engine/transient/elements/current-source.ts';
import { line } from '../../../src/engine/transient/elements/line.ts';
import { resistor } from '../../../src/engine/transient/elements/resistor.ts';
import { voltageSource } from '../../../src/engine/transient/elements/voltage-source.ts';
import { simulate } from '../../../src/engine/transient/simulate.ts';
import { simulateToTolerance } from '../../../src/engine/transient/simulate-to-tolerance.ts';
import { voltageAt } from './solved.ts';

const ohms = (name: string, from: string, to: string, resistance = 10) =>
  resistor({ name, from, to, resistance });
const volts = (name: string, from: string, to: string) =>
  voltageSource({ name, from, to, waveform: stepWaveform(1) });
const problemsOf = (...elements: SurgeElement[]) => checkNetwork({ elements });

describe('check of a network', () => {
  it('finds nothing wrong with a sound one, an open line end included', () => {
    const open = line({ name: 'L', from: 'a', to: 'b', surgeImpedance: 400, delay: 1e-6 });
    expect(problemsOf(volts('V', 's', 'earth'), ohms('R', 's', 'a'), open)).toEqual([]);
  });

  it('collects every problem in one go, each with its element', () => {
    const problems = problemsOf(
      volts('V', 's', 'earth'),
      ohms('R', 's', 'a', -5),
      ohms('R', 'a', 'earth'),
      ohms('hanging', 'a', 'nowhere'),
      ohms('R2', 'x', 'y'),
      capacitor({ name: 'C', from: 'x', to: 'y', capacitance: Number.NaN }),
      ohms('loop', 'a', 'a'),
    );
    expect(problems).toEqual([
      { code: 'duplicate-name', element: 'R' },
      { code: 'invalid-value', element: 'R', quantity: 'resistance', value: -5, requirement: 'positive' },
      {
        code: 'invalid-value',
        element: 'C',
        quantity: 'capacitance',
        value: Number.NaN,
        requirement: 'positive',
      },
      { code: 'short-circuited', element: 'loop', node: 'a' },
      { code: 'dangling-node', element: 'hanging', node: 'nowhere' },
      { code: 'floating-part', nodes: ['x', 'y'], elements: ['R2', 'C'] },
    ]);
  });

  it('finds a part that only a current source joins to earth', () => {
    const stroke = currentSource({ name: 'I', from: 'earth', to: 'x', waveform: stepWaveform(1) });
    expect(problemsOf(stroke, ohms('R1', 'x', 'y'), ohms('R2', 'x', 'y'))).toEqual([
      { code: 'floating-part', nodes: ['x', 'y'], elements: ['I', 'R1', 'R2'] },
    ]);
  });

  it('finds a line end whose reference floats', () => {
    const cable = line({
      name: 'K',
      from: 'earth',
      to: 'c',
      toReference: 'tank',
      surgeImpedance: 40,
      delay: 1e-6,
    });
    const problems = problemsOf(
      line({ name: 'L', from: 'a', to: 'c', toReference: 'tank', surgeImpedance: 40, delay: 1e-6 }),
      ohms('R', 'a', 'earth'),
    );
    expect(problems).toEqual([{ code: 'floating-part', nodes: ['c', 'tank'], elements: ['L'] }]);
    expect(problemsOf(cable).map(({ code }) => code)).toEqual(['short-circuited', 'floating-part']);
  });

  it('names the sources of a loop and those alone', () => {
    const problems = problemsOf(
      volts('V1', 'a', 'earth'),
      volts('V2', 'b', 'a'),
      volts('V3', 'c', 'b'),
      volts('V4', 'b', 'earth'),
      ohms('R', 'c', 'earth'),
    );
    expect(problems).toEqual([{ code: 'voltage-source-loop', elements: ['V4', 'V2', 'V1'] }]);
  });

  it('knows what can be observed', () => {
    const elements = [volts('V', 's', 'earth'), ohms('R', 's', 'earth')];
    const observed = [
      voltageAt('z'),
      voltageAt('s', 'q'),
      { kind: 'current' as const, element: 'Q' },
      { kind: 'current' as const, element: 'R', terminal: 7 },
    ];
    expect(checkNetwork({ elements }, observed).map(({ code }) => code)).toEqual([
      'unknown-node',
      'unknown-node',
      'unknown-element',
      'unknown-terminal',
    ]);
  });

  it('stands before every run', () => {
    const network = { elements: [ohms('R', 'a', 'b')] };
    const options = { duration: 1e-6, step: 1e-9, observe: [] };
    const outcome = simulate(network, options);
    expect(outcome.ok ? [] : outcome.problems.map(({ code }) => code)).toEqual([
      'dangling-node',
      'dangling-node',
      'floating-part',
    ]);
    expect(simulateToTolerance(network, options)).toEqual(outcome);
    expect(problemsOf()).toEqual([{ code: 'empty-network' }]);
  });

  it('refuses a duration or a step with which nothing can be run', () => {
    const network = { elements: [volts('V', 's', 'earth'), ohms('R', 's', 'earth')] };
    const codeOf = (duration: number, step: number) => {
      const outcome = simulate(network, { duration, step, observe: [] });
      return outcome.ok ? 'none' : outcome.problems[0]!.code;
    };
    expect(codeOf(1, 0)).toBe('invalid-duration');
    expect(codeOf(1, 2)).toBe('invalid-duration');
    expect(codeOf(Number.NaN, 1)).toBe('invalid-duration');
    expect(codeOf(1, 1e-9)).toBe('too-many-steps');
    expect(codeOf(1, 0.1)).toBe('none');
  });
});
