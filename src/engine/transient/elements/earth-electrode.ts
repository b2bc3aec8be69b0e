import { type CurrentLaw, faultsOfPositive, type SurgeElement } from '../element.ts';
import { NonlinearPart } from './nonlinear-part.ts';

export interface EarthElectrodeValues {
  readonly name: string;
  readonly node: string;
  /** Remote earth, unless another electrode's field is taken as the reference. */
  readonly reference: string;
  /** Resistance at small current, ohms. */
  readonly resistance: number;
  /** Current at which the soil around the electrode begins to ionise, amperes; infinite for a linear electrode. */
  readonly ionisationCurrent: number;
}

/** Earth electrode with soil ionisation: R = R0/sqrt(1 + |i|/Ig). */
export function earthElectrode(values: EarthElectrodeValues): SurgeElement {
  const { name, node, reference, resistance, ionisationCurrent } = values;
  const faults = faultsOfPositive({ resistance });
  if (!(ionisationCurrent > 0)) {
    faults.push({ quantity: 'ionisation_current', value: ionisationCurrent, requirement: 'positive' });
  }
  return {
    name,
    kind: 'earth electrode',
    nodes: [node, reference],
    innerNodes: [],
    faults,
    paths: [[node, reference]],
    mayEndOpen: false,
    start: () => [
      new NonlinearPart(node, reference, new IonisationLaw(resistance, ionisationCurrent), 1 / resistance),
    ],
  };
}

/** v = R0 i/sqrt(1 + i/Ig) solved for the current: i = v^2 c + sqrt(v^4 c^2 + v^2/R0^2) with c = 1/(2 R0^2 Ig). */
class IonisationLaw implements CurrentLaw {
  current = 0;
  slope = 0;
  readonly referenceVoltage: number;
  private readonly conductance: number;
  private readonly curvature: number;

  constructor(resistance: number, ionisationCurrent: number) {
    this.conductance = 1 / resistance;
    this.curvature = 1 / (2 * resistance ** 2 * ionisationCurrent);
    this.referenceVoltage = resistance * Math.min(ionisationCurrent, 1e3);
  }

  evaluate(voltage: number): void {
    const magnitude = Math.abs(voltage);
    const bend = this.curvature * magnitude;
    // Not Math.hypot, which allocates.
    const root = Math.sqrt(bend * bend + this.conductance * this.conductance);
    const current = magnitude * (bend + root);
    this.slope = 2 * bend + root + bend ** 2 / root;
    this.current = voltage < 0 ? -current : current;
  }
}
