import type { SurgeElement } from '../element.ts';
import {
  type ArresterCharacteristic,
  characteristicLaw,
  faultsOfCharacteristic,
  highestKnownCurrent,
  referenceConductance,
} from './arrester-characteristic.ts';
import { NonlinearPart } from './nonlinear-part.ts';

export interface ArresterValues {
  readonly name: string;
  /** Line side. */
  readonly from: string;
  /** Earth side. */
  readonly to: string;
  readonly characteristic: ArresterCharacteristic;
}

/** Gapless arrester whose voltage depends on the present current alone. */
export function arrester({ name, from, to, characteristic }: ArresterValues): SurgeElement {
  return {
    name,
    kind: 'arrester',
    nodes: [from, to],
    innerNodes: [],
    faults: faultsOfCharacteristic(characteristic),
    paths: [[from, to]],
    mayEndOpen: false,
    highestCurrent: highestKnownCurrent(characteristic),
    start: () => [
      new NonlinearPart(from, to, characteristicLaw(characteristic), referenceConductance(characteristic)),
    ],
  };
}
