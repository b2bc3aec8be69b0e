import { faultsOfPositive, type SurgeElement, type ValueFault } from '../element.ts';
import { inductive, LumpedPart } from './lumped-part.ts';

export interface CoupledInductorsValues {
  readonly name: string;
  readonly firstFrom: string;
  readonly firstTo: string;
  readonly secondFrom: string;
  readonly secondTo: string;
  /** Henries. */
  readonly firstInductance: number;
  readonly secondInductance: number;
  /** Henries; its square is less than the product of the inductances. Positive where both currents run alongside. */
  readonly mutualInductance: number;
}

/** Two leads with mutual inductance. */
export function coupledInductors(values: CoupledInductorsValues): SurgeElement {
  const { firstInductance, secondInductance, mutualInductance } = values;
  const faults: ValueFault[] = faultsOfPositive({
    first_inductance: firstInductance,
    second_inductance: secondInductance,
  });
  if (!(mutualInductance ** 2 < firstInductance * secondInductance)) {
    faults.push({ quantity: 'mutual_inductance', value: mutualInductance, requirement: 'definite' });
  }
  return {
    name: values.name,
    kind: 'coupled inductors',
    nodes: [values.firstFrom, values.firstTo, values.secondFrom, values.secondTo],
    innerNodes: [],
    faults,
    paths: [
      [values.firstFrom, values.firstTo],
      [values.secondFrom, values.secondTo],
    ],
    mayEndOpen: false,
    start: (step) => [coupledPart(values, step)],
  };
}

function coupledPart(values: CoupledInductorsValues, step: number): LumpedPart {
  const { firstInductance, secondInductance, mutualInductance } = values;
  const factor = step / 2 / (firstInductance * secondInductance - mutualInductance ** 2);
  const mutual = -factor * mutualInductance;
  return new LumpedPart({
    branches: [
      [values.firstFrom, values.firstTo],
      [values.secondFrom, values.secondTo],
    ],
    conductance: [factor * secondInductance, mutual, mutual, factor * firstInductance],
    shares: inductive,
    energy: (first, second) => {
      const own = firstInductance * first.current ** 2 + secondInductance * second!.current ** 2;
      const stored = 0.5 * own + mutualInductance * first.current * second!.current;
      return { supplied: 0, dissipated: 0, stored };
    },
  });
}
