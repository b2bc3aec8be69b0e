import { faultsOfFinite, faultsOfPositive, type SurgeElement } from '../element.ts';
import { inductive, LumpedPart } from './lumped-part.ts';

export interface InductorValues {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Henries. */
  readonly inductance: number;
  /** Amperes from `from` to `to` at time zero; zero where absent. */
  readonly initialCurrent?: number;
}

/** Linear inductor: a lead, an earth conductor, a winding. */
export function inductor({ name, from, to, inductance, initialCurrent = 0 }: InductorValues): SurgeElement {
  return {
    name,
    kind: 'inductor',
    nodes: [from, to],
    innerNodes: [],
    faults: [...faultsOfPositive({ inductance }), ...faultsOfFinite({ initialCurrent })],
    paths: [[from, to]],
    mayEndOpen: false,
    start: (step) => [inductorPart({ from, to, inductance, initialCurrent }, step)],
  };
}

export function inductorPart(
  { from, to, inductance, initialCurrent = 0 }: Omit<InductorValues, 'name'>,
  step: number,
): LumpedPart {
  return new LumpedPart({
    branches: [[from, to]],
    conductance: [step / 2 / inductance],
    shares: inductive,
    initialCurrent,
    energy: ({ current }) => ({ supplied: 0, dissipated: 0, stored: 0.5 * inductance * current ** 2 }),
  });
}
