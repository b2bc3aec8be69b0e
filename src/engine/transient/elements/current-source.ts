import type { Waveform } from '../../physics/waveform.ts';
import type { SurgeElement } from '../element.ts';
import { FeedPart } from './feed-part.ts';

export interface CurrentSourceValues {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Amperes that flow through the source from `from` to `to`: a stroke to a line flows from earth to the line. */
  readonly waveform: Waveform;
}

/** Ideal current source. */
export function currentSource({ name, from, to, waveform }: CurrentSourceValues): SurgeElement {
  return {
    name,
    kind: 'current source',
    nodes: [from, to],
    innerNodes: [],
    faults: [],
    paths: [],
    mayEndOpen: false,
    shortestTime: waveform.shortestTime,
    start: (step) => [new FeedPart([from, to], 0, waveform, step)],
  };
}
