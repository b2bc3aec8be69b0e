import type { Waveform } from '../physics/waveform.ts';
import type { SurgeElement } from './element.ts';
import { dampedSamples, sourceValue } from './source-value.ts';

/** An ideal voltage source during a run. It imposes a voltage between nodes instead of being a branch. */
export class Drive {
  readonly name: string;
  /** Its number among the ideal sources of the network. */
  readonly index: number;
  readonly from: string;
  readonly to: string;
  /** Volts at the last instant asked for. */
  voltage = 0;
  private readonly waveform: Waveform;
  private readonly gridStep: number;
  /** Numbers of the samples whose step begins with a jump of the source. */
  readonly damped: ReadonlySet<number>;
  private instant = Number.NEGATIVE_INFINITY;

  constructor(element: SurgeElement, waveform: Waveform, gridStep: number, index: number) {
    this.index = index;
    this.name = element.name;
    this.from = element.nodes[0]!;
    this.to = element.nodes[1]!;
    this.waveform = waveform;
    this.gridStep = gridStep;
    this.damped = dampedSamples(waveform, gridStep);
  }

  moveTo(instant: number): void {
    if (instant === this.instant) return;
    this.instant = instant;
    this.voltage = sourceValue(this.waveform, instant, this.gridStep);
  }

  breaks(sample: number): boolean {
    return this.damped.has(sample);
  }
}
