import type { Waveform } from '../../physics/waveform.ts';
import { faultsOfPositive, type SurgeElement } from '../element.ts';
import { FeedPart } from './feed-part.ts';

export interface IncomingWaveValues {
  readonly name: string;
  /** Where the line ends. */
  readonly node: string;
  /** The line's reference; remote earth where nothing else is known. */
  readonly reference: string;
  /** Ohms. */
  readonly surgeImpedance: number;
  /** The incident wave at the node, in volts. */
  readonly waveform: Waveform;
}

/**
 * The end of a line so long that nothing comes back from it, with a voltage wave arriving: v = 2u - Z i.
 * The wave's own energy counts as supplied, what is reflected into the line as lost to it.
 */
export function incomingWave(values: IncomingWaveValues): SurgeElement {
  const { name, node, reference, surgeImpedance, waveform } = values;
  return {
    name,
    kind: 'incoming wave',
    nodes: [node, reference],
    innerNodes: [],
    faults: faultsOfPositive({ surge_impedance: surgeImpedance }),
    paths: [[node, reference]],
    mayEndOpen: true,
    shortestTime: waveform.shortestTime,
    start: (step) => [new FeedPart([node, reference], 1 / surgeImpedance, waveform, step)],
  };
}
