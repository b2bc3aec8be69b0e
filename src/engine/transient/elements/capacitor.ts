import { faultsOfFinite, faultsOfPositive, type SurgeElement } from '../element.ts';
import { capacitive, LumpedPart } from './lumped-part.ts';

export interface CapacitorValues {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Farads. */
  readonly capacitance: number;
  /** Volts of `from` over `to` at time zero; zero where absent. */
  readonly initialVoltage?: number;
}

/** Linear capacitor: the surge capacitance of a transformer, a bushing, a generator's charge. */
export function capacitor({
  name,
  from,
  to,
  capacitance,
  initialVoltage = 0,
}: CapacitorValues): SurgeElement {
  return {
    name,
    kind: 'capacitor',
    nodes: [from, to],
    innerNodes: [],
    faults: [...faultsOfPositive({ capacitance }), ...faultsOfFinite({ initialVoltage })],
    paths: [[from, to]],
    mayEndOpen: false,
    start: (step) => [capacitorPart({ from, to, capacitance, initialVoltage }, step)],
  };
}

export function capacitorPart(
  { from, to, capacitance, initialVoltage = 0 }: Omit<CapacitorValues, 'name'>,
  step: number,
): LumpedPart {
  return new LumpedPart({
    branches: [[from, to]],
    conductance: [capacitance / (step / 2)],
    shares: capacitive,
    initialVoltage,
    energy: ({ voltage }) => ({ supplied: 0, dissipated: 0, stored: 0.5 * capacitance * voltage ** 2 }),
  });
}
