import type { SurgeElement } from '../../../src/engine/transient/element.ts';
import type { Observation } from '../../../src/engine/transient/network.ts';
import { type Simulation, simulate } from '../../../src/engine/transient/simulate.ts';

export const voltageAt = (node: string, reference?: string): Observation =>
  reference === undefined ? { kind: 'voltage', node } : { kind: 'voltage', node, reference };

export const currentInto = (element: string, terminal = 0): Observation => ({
  kind: 'current',
  element,
  terminal,
});

export interface SolvedNetwork extends Simulation {
  /** Value of an observation at an instant, straight between samples. */
  at(observation: number, time: number): number;
}

/** Runs a network that is meant to have no fault. */
export function solved(
  elements: readonly SurgeElement[],
  options: { duration: number; step: number; observe: readonly Observation[]; energyLimit?: number },
): SolvedNetwork {
  const outcome = simulate({ elements }, options);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  const { result } = outcome;
  const at = (observation: number, time: number): number => {
    const { values } = result.records[observation]!;
    const position = time / options.step;
    const before = Math.min(Math.floor(position + 1e-6), values.length - 2);
    return values[before]! + (position - before) * (values[before + 1]! - values[before]!);
  };
  return { ...result, at };
}

/** Difference as a share of the value expected. */
export const shareApart = (found: number, expected: number): number => Math.abs(found / expected - 1);
