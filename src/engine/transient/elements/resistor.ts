import { faultsOfPositive, type SurgeElement } from '../element.ts';
import { LumpedPart } from './lumped-part.ts';

export interface ResistorValues {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Ohms. */
  readonly resistance: number;
}

/** Linear resistor. */
export function resistor({ name, from, to, resistance }: ResistorValues): SurgeElement {
  return {
    name,
    kind: 'resistor',
    nodes: [from, to],
    innerNodes: [],
    faults: faultsOfPositive({ resistance }),
    paths: [[from, to]],
    mayEndOpen: false,
    start: () => [resistorPart(from, to, resistance)],
  };
}

export function resistorPart(from: string, to: string, resistance: number): LumpedPart {
  return new LumpedPart({
    branches: [[from, to]],
    conductance: [1 / resistance],
    energy: ({ received }) => ({ supplied: 0, dissipated: received, stored: 0 }),
  });
}
