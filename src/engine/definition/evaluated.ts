import type { Basis } from './basis.ts';
import type { Force } from './definition.ts';
import type { ResultValue, Value } from './value.ts';

export const VERDICTS = ['complies', 'does not comply', 'cannot be judged', 'met', 'not met'] as const;

export type Verdict = (typeof VERDICTS)[number];

/** A given as it entered the calculation. */
export interface EvaluatedGiven {
  readonly name: string;
  /** LaTeX; empty for rows. */
  readonly symbol: string;
  readonly meaning: string;
  readonly value: Value;
  /** As printed in a table: '1.8 m'; rows and lists joined by '; '. */
  readonly print: string;
  /** '1.8 m' for machines. */
  readonly text: string;
  /** Where the value comes from: the author's words; undefined where none is named. */
  readonly source: string | undefined;
  readonly origin: 'given' | 'default' | 'reference' | 'formula';
  /** Computed here or in another block, not entered. */
  readonly computed: boolean;
  /** Taken over from a step that is printed rounded to this side. */
  readonly rounded?: 'down' | 'up';
  /** For origin reference and formula: the text that was written. */
  readonly written?: string;
  /** The range over which the verdict must hold, as printed. */
  readonly range?: { readonly lowSi: number; readonly highSi: number; readonly print: string };
  /** Of a table with rows: its columns as they are printed. */
  readonly table?: GivenTable;
}

/** A table that was given; a column that no row has is not among its columns. */
export interface GivenTable {
  readonly columns: readonly GivenColumn[];
  /** How rows are told apart: by the cells of the first column, which are names, or by their numbers; a single row needs neither. */
  readonly rowsBy: 'name' | 'number' | 'nothing';
}

export interface GivenColumn {
  readonly name: string;
  /** LaTeX; empty for names. */
  readonly symbol: string;
  readonly meaning: string;
  /** Unit and kind of voltage or current, where all cells have the same; empty for words and pure numbers, and where they differ. */
  readonly unit: string;
  /** One for each row, without what the unit says already; empty where the row has none. */
  readonly cells: readonly string[];
}

/** The origin of a step whose value was given, where it might have been computed. */
export const AS_GIVEN = 'as given';

/** One line of a calculation: formula, numbers put in, result. */
export interface EvaluatedStep {
  readonly name: string;
  readonly symbol: string;
  readonly meaning: string;
  readonly basis: Basis;
  readonly kind: 'formula' | 'table' | 'solver';
  /** LaTeX of the right-hand side with symbols; empty for table and solver. */
  readonly formulaTex: string;
  /** LaTeX of the right-hand side with numbers put in; empty for table and solver, and where it would repeat the formula. */
  readonly numbersTex: string;
  /** Of a formula that is taken at each row of a table: the symbol and the numbers put in row by row, beside the items of the result. */
  readonly rows?: readonly { readonly symbol: string; readonly numbersTex: string }[];
  /** What stands in place of a formula for table and solver steps: 'Table 10, by class and material', the method's name. */
  readonly origin?: string;
  /** 'with I in kA, r in m' as parts: symbol LaTeX and unit print, for empirical formulas. */
  readonly numericUnits?: readonly { readonly tex: string; readonly unit: string }[];
  readonly note?: string;
  readonly result: ResultValue;
}

export interface EvaluatedCheck {
  readonly name: string;
  readonly criterion: string;
  readonly verdict: Verdict;
  readonly force: Force;
  readonly relation: '<=' | '>=' | '<' | '>';
  /** LaTeX of what is judged and of its limit, with symbols. */
  readonly valueTex: string;
  readonly limitTex: string;
  /** Undefined where it could not be computed. */
  readonly value: ResultValue | undefined;
  readonly limit: ResultValue | undefined;
  readonly atLimit: boolean;
  /** Symbols or names of the givens without which it cannot be judged. */
  readonly missing: readonly string[];
  readonly basis: Basis;
  /** What to do; empty where the check is met. */
  readonly remedies: readonly string[];
  /** With ranges: whether the verdict holds over all of them, where it fails, and at which points that was examined; sentences. */
  readonly overRange?: {
    readonly holds: boolean;
    readonly sentence: string;
    readonly examined: string;
    /** The ranged givens at the point of least margin, whose value and limit are those shown. */
    readonly at: readonly { readonly name: string; readonly value: ResultValue }[];
  };
  /** Where several values compete: what that is on which the verdict rests, where it is not the check's own. */
  readonly judgedOn?: string;
}

export interface EvaluatedLimiting {
  readonly given: string;
  readonly symbol: string;
  readonly seek: 'largest' | 'smallest';
  readonly meaning: string;
  /**
   * Rounded to the safe side and evaluated again as printed; words: 'any value complies', 'no value complies', 'no limit up to
   * ...', 'only from ... to ...'.
   */
  readonly result: ResultValue;
  /** What sets it: the name and criterion of the check that is not met beyond, or a limit of the method. */
  readonly governing: { readonly check: string | undefined; readonly words: string } | undefined;
  /** The names of the checks that are met up to it. */
  readonly checks: readonly string[];
  /** The names of those that could not be judged and are left out. */
  readonly unjudged: readonly string[];
}

export interface EvaluatedCaution {
  /** Stable id: the caution's name in the definition, or 'usual-range-<given>', 'validity-<name>'. */
  readonly id: string;
  readonly text: string;
  readonly basis?: Basis;
}

/** Everything that a note prints of one calculation. */
export interface EvaluatedCalculation {
  readonly calculation: string;
  readonly title: string;
  readonly purpose: string;
  readonly givens: readonly EvaluatedGiven[];
  readonly steps: readonly EvaluatedStep[];
  readonly checks: readonly EvaluatedCheck[];
  readonly limiting: readonly EvaluatedLimiting[];
  readonly cautions: readonly EvaluatedCaution[];
  readonly figure?: { readonly svg: string; readonly caption: string };
}
