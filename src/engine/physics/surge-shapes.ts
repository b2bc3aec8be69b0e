import { lightningStroke, lightningStrokes } from './heidler.ts';
import { dampedSineCurrent8by20, unipolarCurrent8by20 } from './surge-test-waveforms.ts';
import type { Waveform } from './waveform.ts';
import { type WaveformProperties, waveformProperties } from './waveform-properties.ts';

/** Impulse currents by their customary names; 8/20 in both of its analytic forms. */
export type SurgeShape = '8/20' | '8/20-damped' | '10/350' | '1/200' | '0.25/100';

interface ShapeFacts {
  /** The shape for a given peak in amperes. */
  readonly at: (peak: number) => Waveform;
  /** After this time (s) less than 1e-9 of the peak is left. */
  readonly span: number;
  /** T1 by name, s. */
  readonly nominalFront: number;
}

const SHAPES: Readonly<Record<SurgeShape, ShapeFacts>> = {
  '8/20': { at: unipolarCurrent8by20, span: 200e-6, nominalFront: 8e-6 },
  '8/20-damped': { at: dampedSineCurrent8by20, span: 600e-6, nominalFront: 8e-6 },
  '10/350': strokeFacts('10/350', 10e-6),
  '1/200': strokeFacts('1/200', 1e-6),
  '0.25/100': strokeFacts('0.25/100', 0.25e-6),
};

function strokeFacts(stroke: keyof typeof lightningStrokes, nominalFront: number): ShapeFacts {
  return {
    at: (peak) => lightningStroke(stroke, peak),
    span: 30 * lightningStrokes[stroke].tailConstant,
    nominalFront,
  };
}

export function surgeCurrent(shape: SurgeShape, peak: number): Waveform {
  return SHAPES[shape].at(peak);
}

/** The front time (s) that the shape is named after. */
export function nominalFrontTime(shape: SurgeShape): number {
  return SHAPES[shape].nominalFront;
}

/** How long (s) the shape lasts. */
export function surgeSpan(shape: SurgeShape): number {
  return SHAPES[shape].span;
}

const known = new Map<SurgeShape, WaveformProperties>();

/**
 * The properties of a shape for a peak of 1 A, found from its function: times in seconds, charge in ampere seconds per
 * ampere, specific energy in joules per ohm and square ampere. All of them scale with the peak or its square.
 */
export function unitSurgeProperties(shape: SurgeShape): WaveformProperties {
  const found = known.get(shape) ?? waveformProperties(surgeCurrent(shape, 1), 'current', surgeSpan(shape));
  known.set(shape, found);
  return found;
}
