import { type LightningStroke, lightningStroke, lightningStrokes } from './heidler.ts';
import { type WaveformProperties, waveformProperties } from './waveform-properties.ts';

const known = new Map<LightningStroke, WaveformProperties>();

/**
 * The properties of one of the standard's strokes for a peak of 1 A, found from its function: times in seconds, charge
 * in ampere seconds per ampere, specific energy in joules per ohm and square ampere. All of them scale with the peak or its square.
 */
export function unitStrokeProperties(stroke: LightningStroke): WaveformProperties {
  const found =
    known.get(stroke) ??
    // After thirty time constants of the tail less than 1e-12 of the current is left.
    waveformProperties(lightningStroke(stroke, 1), 'current', 30 * lightningStrokes[stroke].tailConstant);
  known.set(stroke, found);
  return found;
}
