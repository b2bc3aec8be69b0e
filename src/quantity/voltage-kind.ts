import { type Dimension, sameDimension } from './dimension.ts';

/** How a voltage (or current) is measured: its value in time, and between what it stands. */
export interface VoltageKind {
  readonly measure?: 'peak' | 'rms';
  readonly between?: 'phase-earth' | 'phase-phase' | 'line-neutral';
}

export const VOLTAGE: Dimension = [2, 1, -3, -1, 0];
export const CURRENT: Dimension = [0, 0, 0, 1, 0];

/** Whether values of a dimension have a kind: voltages and currents have. */
export function hasKind(dimension: Dimension): boolean {
  return sameDimension(dimension, VOLTAGE) || sameDimension(dimension, CURRENT);
}

/** Two kinds as one, each saying what the other leaves open; where both say something, the first counts. */
export function mergeKinds(a: VoltageKind | undefined, b: VoltageKind | undefined): VoltageKind | undefined {
  return a || b ? { ...b, ...a } : undefined;
}

export type Aspect = keyof VoltageKind;
/** A word that says one aspect of a kind. */
export type KindWord = NonNullable<VoltageKind[Aspect]>;

/** The words that may follow a voltage: `36 kV rms phase-phase`. */
const WORDS: Readonly<Record<string, VoltageKind>> = {
  peak: { measure: 'peak' },
  rms: { measure: 'rms' },
  'r.m.s.': { measure: 'rms' },
  'phase-earth': { between: 'phase-earth' },
  'phase-phase': { between: 'phase-phase' },
  'line-neutral': { between: 'line-neutral' },
};

export function readVoltageWord(word: string): VoltageKind | undefined {
  return Object.hasOwn(WORDS, word) ? WORDS[word] : undefined;
}

/** Whether a value of one kind may stand for another: what is not stated on either side does not clash. */
export function clash(a: VoltageKind | undefined, b: VoltageKind | undefined): boolean {
  if (!a || !b) return false;
  const differ = (x: string | undefined, y: string | undefined) =>
    x !== undefined && y !== undefined && x !== y;
  return differ(a.measure, b.measure) || differ(a.between, b.between);
}

/** A kind in words: 'an r.m.s. value, phase to phase'. */
export function describeVoltageKind(kind: VoltageKind): string {
  const measure =
    kind.measure === 'rms' ? 'an r.m.s. value' : kind.measure === 'peak' ? 'a peak value' : 'a value';
  return kind.between ? `${measure}, ${printBetween(kind.between)}` : measure;
}

/** A kind as it stands behind a value in print: 'r.m.s., phase to phase'; empty where nothing is known. */
export function printVoltageKind(kind: VoltageKind | undefined): string {
  const measure = kind?.measure === 'rms' ? 'r.m.s.' : kind?.measure;
  const between = kind?.between && printBetween(kind.between);
  return [measure, between].filter((words) => words !== undefined).join(', ');
}

/** A printed value with its kind behind it, where one is known: '36 kV r.m.s., phase to phase'. */
export function withKind(print: string, kind: VoltageKind | undefined): string {
  const words = printVoltageKind(kind);
  return words === '' ? print : `${print} ${words}`;
}

/** A kind as an author writes it behind a unit: 'rms phase-phase'; empty where nothing is known. */
export function writeVoltageKind(kind: VoltageKind | undefined): string {
  return [kind?.measure, kind?.between].filter((word) => word !== undefined).join(' ');
}

function printBetween(between: NonNullable<VoltageKind['between']>): string {
  return between.replace('-', ' to ');
}

/**
 * How a value of one kind is made one of another, for a sinusoidal voltage of a symmetrical three-phase system:
 * 'sqrt(2) * {grid.voltage} / sqrt(3)'. Undefined where no factor does it.
 */
export function writeConversion(text: string, from: VoltageKind, to: VoltageKind): string | undefined {
  let converted = text;
  if (from.measure && to.measure && from.measure !== to.measure) {
    converted = to.measure === 'peak' ? `sqrt(2) * ${converted}` : `${converted} / sqrt(2)`;
  }
  if (from.between && to.between && from.between !== to.between) {
    if (from.between === 'phase-phase') converted = `${converted} / sqrt(3)`;
    else if (to.between === 'phase-phase') converted = `sqrt(3) * ${converted}`;
    else return undefined;
  }
  return converted;
}
