/** How a voltage (or current) is measured: its value in time, and between what it stands. */
export interface VoltageKind {
  readonly measure?: 'peak' | 'rms';
  readonly between?: 'phase-earth' | 'phase-phase' | 'line-neutral';
}

const WORDS: Readonly<Record<string, VoltageKind>> = {
  peak: { measure: 'peak' },
  rms: { measure: 'rms' },
  'r.m.s.': { measure: 'rms' },
  'phase-earth': { between: 'phase-earth' },
  'phase-phase': { between: 'phase-phase' },
  'line-neutral': { between: 'line-neutral' },
};

/** The words that may follow a voltage: `36 kV rms phase-phase`. */
export const VOLTAGE_WORDS: readonly string[] = Object.keys(WORDS);

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
  return kind.between ? `${measure}, ${kind.between.replace('-', ' to ')}` : measure;
}
