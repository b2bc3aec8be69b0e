import type { Sentence } from '../../../words/sentence.ts';
import type { PieceTask, Spread } from '../../definition/piece-task.ts';
import { refusal } from '../../definition/refusal.ts';
import { type Stroke, type StrokeDistribution, strokeOfSample } from '../../physics/stroke-sample.ts';
import { peakAtTerminals } from './simulate-terminals.ts';
import type { TerminalPath, TerminalSurge } from './terminal-network.ts';

/** A sample of strokes to a line that ends at an arrester and its transformer; SI units. */
export interface StrokeCase {
  readonly path: TerminalPath;
  readonly distribution: StrokeDistribution;
  readonly size: number;
  readonly seed: number;
  /** From the crest to half the peak. */
  readonly tailTime: number;
  /** Peak above which the line's insulation flashes over; infinite where none is known. */
  readonly flashover: number;
}

export interface SampledStroke extends Stroke {
  /** Peak across the protected insulation, volts. */
  readonly voltage: number;
}

export type StrokesOutcome =
  | { readonly ok: true; readonly strokes: readonly SampledStroke[] }
  | { readonly ok: false; readonly reason: Sentence };

/** The peak voltage across the protected insulation at one stroke of a sample. */
export const strokeVoltage: PieceTask<StrokeCase> = {
  name: 'stroke-voltage',
  work: (asked, index) => {
    const outcome = peakAtTerminals(surgeOfStroke(asked, strokeOfSample(asked.distribution, asked, index)));
    return outcome.ok ? outcome.peak : Number.NaN;
  },
};

/** Simulates every stroke of a sample, in the order of its strata. */
export function simulateStrokes(asked: StrokeCase, spread: Spread): StrokesOutcome {
  const voltages = spread(strokeVoltage, asked, asked.size);
  const strokes: SampledStroke[] = [];
  for (const [index, voltage] of voltages.entries()) {
    const stroke = strokeOfSample(asked.distribution, asked, index);
    if (Number.isNaN(voltage)) return { ok: false, reason: reasonAt(asked, stroke, index) };
    strokes.push({ ...stroke, voltage });
  }
  return { ok: true, strokes };
}

/** Half of the current runs each way; what the line's insulation does not hold is cut off, at the same steepness. */
export function surgeOfStroke(asked: StrokeCase, { current, steepness }: Stroke): TerminalSurge {
  const half = asked.path.lineImpedance / 2;
  const peak = Math.min(current * half, asked.flashover);
  const frontTime = peak / (steepness * half);
  return { ...asked.path, peak, frontTime, halfValueTime: frontTime + asked.tailTime };
}

function reasonAt(asked: StrokeCase, stroke: Stroke, index: number): Sentence {
  const outcome = peakAtTerminals(surgeOfStroke(asked, stroke));
  const size = `${(stroke.current / 1e3).toPrecision(3)} kA, ${(stroke.steepness / 1e9).toPrecision(3)} kA/us`;
  return refusal('stroke', 'stroke {stroke} of the sample ({size}): {reason}', {
    stroke: index + 1,
    size,
    reason: outcome.ok ? refusal('no-result', 'no result') : outcome.reason,
  });
}
