import type { MathPiece } from '../../formula/math-piece.ts';
import type { Displayed } from '../../quantity/display.ts';
import type { Text } from '../../words/sentence.ts';
import type { Basis } from './basis.ts';
import type { Force } from './definition.ts';
import type { RegisterItem } from './inputs.ts';
import type { Margin } from './margin.ts';
import type { ResultValue, Value } from './value.ts';

/*
 * What comes of a calculation, as data: what is to be said in words is a sentence with its key and its data. With `string` for T
 * the words are put in (`wordCalculation`), which is done where they are shown.
 */

/** Codes; the words for them stand in `src/words/`. The first three are those of requirements. */
export const VERDICTS = ['complies', 'does-not-comply', 'cannot-be-judged', 'met', 'not-met'] as const;

export type Verdict = (typeof VERDICTS)[number];

/** An option of a choice as it is written, and in the words of the definition. */
export interface Chosen<T extends Text = Text> {
  readonly option: string;
  readonly words: T;
}

/** A given as it entered the calculation. */
export interface EvaluatedGiven<T extends Text = Text> {
  readonly name: string;
  /** LaTeX; empty for rows. */
  readonly symbol: string;
  readonly meaning: T;
  readonly value: Value;
  /** As printed in a table: '1.8 m'; rows and lists joined by '; '; empty of a table without rows, for which there is a word. */
  readonly print: string;
  /** The items of a list one by one. */
  readonly items?: readonly Displayed[] | undefined;
  /** '1.8 m' for machines. */
  readonly text: string;
  /** Where the value comes from: the author's words; undefined where none is named. */
  readonly source: T | undefined;
  /** Of a default: on what it rests, which `source` says in words. */
  readonly basis?: Basis;
  /** Of a choice. */
  readonly chosen?: Chosen<T>;
  readonly origin: 'given' | 'default' | 'reference' | 'formula';
  /** Computed here or in another block, not entered. */
  readonly computed: boolean;
  /** Taken over from a step that is printed rounded to this side. */
  readonly rounded?: 'down' | 'up';
  /** Of a value that was computed elsewhere: the significant digits with which it is printed, where these are more than the usual ones. */
  readonly digits?: number | undefined;
  /** For origin reference and formula: the text that was written. */
  readonly written?: string;
  /** Of a value that an item of the register fills: whose it is. */
  readonly item?: RegisterItem;
  /** The range over which the verdict must hold, as printed. */
  readonly range?: { readonly lowSi: number; readonly highSi: number; readonly print: T };
  /** Of a table with rows: its columns as they are printed. */
  readonly table?: GivenTable<T> | undefined;
}

/** A table that was given; a column that no row has is not among its columns. */
export interface GivenTable<T extends Text = Text> {
  readonly columns: readonly GivenColumn<T>[];
  /** How rows are told apart: by the cells of the first column, which are names, or by their numbers; a single row needs neither. */
  readonly rowsBy: 'name' | 'number' | 'nothing';
}

export interface GivenColumn<T extends Text = Text> {
  readonly name: string;
  /** LaTeX; empty for names. */
  readonly symbol: string;
  readonly meaning: T;
  /** Unit and kind of voltage or current, where all cells have the same; empty for words and pure numbers, and where they differ. */
  readonly unit: string;
  /** One for each row, without what the unit says already; empty where the row has none. */
  readonly cells: readonly string[];
  /** Of a column of choices: what its cells mean; undefined where the row has none. */
  readonly chosen?: readonly (Chosen<T> | undefined)[];
}

/** One line of a calculation: formula, numbers put in, result. */
export interface EvaluatedStep<T extends Text = Text> {
  readonly name: string;
  readonly symbol: string;
  readonly meaning: T;
  readonly basis: Basis;
  readonly kind: 'formula' | 'table' | 'solver';
  /** The values from which it comes, by the names of givens, columns and steps. */
  readonly uses: readonly string[];
  /** Of a step with a value for each row of a table: the table. */
  readonly over?: string;
  /** Of a result of a numerical method that gives several: the method's name in the calculation. */
  readonly resultOf?: string;
  /** It tells how that method went, and nothing of the installation. */
  readonly bookkeeping?: true;
  /** The right-hand side with symbols; none for table and solver. */
  readonly formula?: MathPiece;
  /** The right-hand side with numbers put in; none for table and solver, and where it would repeat the formula. */
  readonly numbers?: MathPiece | undefined;
  /** Of a formula that is taken at each row of a table: the symbol and the numbers put in row by row, beside the items of the result. */
  readonly rows?: readonly { readonly symbol: string; readonly numbers: MathPiece }[] | undefined;
  /** What stands in place of a formula for table and solver steps: 'Table 10, by class and material', the method's name. */
  readonly origin?: T;
  /** Of a value from a table: by what it was looked up, and the option of it, or one for each row. */
  readonly keys?: readonly { readonly meaning: T; readonly options: readonly Chosen<T>[] }[];
  /** The value was given, where it might have been computed: there is nothing to show but that. */
  readonly asGiven?: true;
  /** 'with I in kA, r in m' as parts: symbol LaTeX and unit print, for empirical formulas. */
  readonly numericUnits?: readonly { readonly tex: string; readonly unit: string }[];
  readonly note?: T;
  readonly result: ResultValue<T>;
}

export interface EvaluatedCheck<T extends Text = Text> {
  readonly name: string;
  readonly criterion: T;
  readonly verdict: Verdict;
  readonly force: Force;
  readonly relation: '<=' | '>=' | '<' | '>';
  /** What is judged and its limit, with symbols. */
  readonly valueFormula: MathPiece;
  readonly limitFormula: MathPiece;
  /** Undefined where it could not be computed. */
  readonly value: ResultValue<T> | undefined;
  readonly limit: ResultValue<T> | undefined;
  readonly margin: Margin | undefined;
  readonly atLimit: boolean;
  /** Numbers of things are compared, or whether there is such a thing: a margin in per cent says nothing. */
  readonly counts?: true;
  /** Names of the givens without which it cannot be judged. */
  readonly missing: readonly string[];
  readonly basis: Basis;
  /** What to do; empty where the check is met. */
  readonly remedies: readonly T[];
  /** The names of the values that are set against each other: steps and givens. */
  readonly restsOn: readonly string[];
  /** With ranges: whether the verdict holds over all of them, and where it fails. */
  readonly overRange?: {
    readonly holds: boolean;
    readonly sentence: T;
    /** At which points that was examined: 'both ends and 15 points between them'. */
    readonly examined: T;
    /** The ranged givens at the point of least margin, whose value and limit are those shown. */
    readonly at: readonly { readonly name: string; readonly value: ResultValue<T> }[];
  };
  /** Where several values compete: what that is on which the verdict rests, where it is not the check's own. */
  readonly judgedOn?: T;
}

export interface EvaluatedLimiting<T extends Text = Text> {
  readonly given: string;
  readonly symbol: string;
  readonly seek: 'largest' | 'smallest';
  readonly meaning: T;
  /**
   * Rounded to the safe side and evaluated again as printed; words: 'every permitted value examined complies', 'no value examined complies', 'no limit up to
   * ...', 'between ... and ... only'.
   */
  readonly result: ResultValue<T>;
  /** What sets it: the name and criterion of the check that is not met beyond, or a limit of the method. */
  readonly governing: { readonly check: string | undefined; readonly words: T } | undefined;
  /** The names of the checks that are met up to it. */
  readonly checks: readonly string[];
  /** The names of those that could not be judged and are left out. */
  readonly unjudged: readonly string[];
}

export interface EvaluatedCaution<T extends Text = Text> {
  /** Stable id: the caution's name in the definition, or 'usual-range-<given>', 'validity-<name>'. */
  readonly id: string;
  readonly text: T;
  readonly basis?: Basis;
}

/** Everything that a note prints of one calculation. */
export interface EvaluatedCalculation<T extends Text = Text> {
  readonly calculation: string;
  readonly title: T;
  readonly purpose: T;
  readonly givens: readonly EvaluatedGiven<T>[];
  readonly steps: readonly EvaluatedStep<T>[];
  readonly checks: readonly EvaluatedCheck<T>[];
  readonly limiting: readonly EvaluatedLimiting<T>[];
  readonly cautions: readonly EvaluatedCaution<T>[];
  readonly figure?: { readonly svg: string; readonly caption: T };
}

export type WordedGiven = EvaluatedGiven<string>;
export type WordedStep = EvaluatedStep<string>;
export type WordedLimiting = EvaluatedLimiting<string>;

export interface WordedCheck extends EvaluatedCheck<string> {
  /** The verdict in words, and with whether it stands at the limit. */
  readonly verdictWords: string;
  readonly verdictInFull: string;
  readonly overRange?: NonNullable<EvaluatedCheck<string>['overRange']> & {
    /** Where it was examined, in whole sentences: said of this check, and of each over a range. */
    readonly examinedHere: string;
    readonly examinedForEach: string;
  };
}

export interface WordedCalculation extends EvaluatedCalculation<string> {
  readonly checks: readonly WordedCheck[];
}
