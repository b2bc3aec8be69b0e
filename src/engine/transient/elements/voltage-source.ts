import type { Waveform } from '../../physics/waveform.ts';
import type { SurgeElement } from '../element.ts';

export interface VoltageSourceValues {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Volts of `from` over `to`. */
  readonly waveform: Waveform;
}

/** Ideal voltage source. Its own current counts from `from` to `to`: negative while it delivers. */
export function voltageSource({ name, from, to, waveform }: VoltageSourceValues): SurgeElement {
  return {
    name,
    kind: 'voltage source',
    nodes: [from, to],
    innerNodes: [],
    faults: [],
    paths: [[from, to]],
    mayEndOpen: false,
    shortestTime: waveform.shortestTime,
    imposedVoltage: waveform,
    start: () => [],
  };
}
