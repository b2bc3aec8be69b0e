import { type Basis, quote, recall } from '../definition/basis.ts';
import type { ChoiceGiven, QuantityGiven } from '../definition/definition.ts';

/** The lightning protection level, or class of the protection system: the same four steps in IEC 62305. */
export const protectionLevel: ChoiceGiven = {
  type: 'choice',
  symbol: '\\text{LPL}',
  meaning: 'lightning protection level (class of the protection system)',
  options: {
    I: 'level I: the severest lightning parameters',
    II: 'level II',
    III: 'level III',
    IV: 'level IV: the parameters of level III, with a larger rolling sphere and wider spacing',
  },
};

type ByLevel = Readonly<Record<'I' | 'II' | 'III' | 'IV', string>>;

/** A quantity of the standard's tables for each level, with its source. */
interface LevelTable {
  readonly values: ByLevel;
  readonly basis: Basis;
}

const firstPositive = recall('iec-62305-1-2010', 'Table 3, first positive stroke');
const classTable = (clause: string): Basis =>
  quote(
    'iec-62305-3-2010',
    clause,
    'quick-reference-is-iec-62305-3',
    'table of the classes of protection system',
  );

/** Peak of the first positive stroke 10/350. */
export const firstStrokeCurrent: LevelTable = {
  values: { I: '200 kA', II: '150 kA', III: '100 kA', IV: '100 kA' },
  basis: firstPositive,
};

/** Largest peak current of each kind of stroke: 'subsequent / II'. */
export const strokePeaks = {
  values: {
    'first-positive / I': '200 kA',
    'first-positive / II': '150 kA',
    'first-positive / III': '100 kA',
    'first-positive / IV': '100 kA',
    'first-negative / I': '100 kA',
    'first-negative / II': '75 kA',
    'first-negative / III': '50 kA',
    'first-negative / IV': '50 kA',
    'subsequent / I': '50 kA',
    'subsequent / II': '37.5 kA',
    'subsequent / III': '25 kA',
    'subsequent / IV': '25 kA',
  },
  basis: recall('iec-62305-1-2010', 'Table 3'),
} as const;

/** Charge of the first positive stroke. */
export const firstStrokeCharge: LevelTable = {
  values: { I: '100 C', II: '75 C', III: '50 C', IV: '50 C' },
  basis: firstPositive,
};

/** Specific energy of the first positive stroke. */
export const firstStrokeEnergy: LevelTable = {
  values: { I: '10 MJ/ohm', II: '5.6 MJ/ohm', III: '2.5 MJ/ohm', IV: '2.5 MJ/ohm' },
  basis: firstPositive,
};

/** Radius of the rolling sphere. */
export const sphereRadius: LevelTable = {
  values: { I: '20 m', II: '30 m', III: '45 m', IV: '60 m' },
  basis: classTable('Table 2'),
};

/** Typical distance between down conductors. */
export const downConductorSpacing: LevelTable = {
  values: { I: '10 m', II: '10 m', III: '15 m', IV: '20 m' },
  basis: classTable('Table 4'),
};

/** Coefficient ki of the separation distance. */
export const separationCoefficient: LevelTable = {
  values: { I: '0.08', II: '0.06', III: '0.04', IV: '0.04' },
  basis: classTable('Table 10'),
};

/** The specific energy of the whole lightning current, where it is not taken from the protection level. */
export const specificEnergy: QuantityGiven = {
  type: 'quantity',
  symbol: 'W/R',
  meaning: 'specific energy of the whole lightning current',
  unit: 'MJ/ohm',
  permitted: { above: '0 MJ/ohm' },
  usual: {
    from: '0.01 MJ/ohm',
    to: '10 MJ/ohm',
    because:
      'the severest protection level has 10 MJ/Ω (from memory), and a fifteenth of the current of the mildest has 0.01 MJ/Ω',
  },
};
