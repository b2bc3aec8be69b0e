import type { VoltageKind } from '../../quantity/voltage-kind.ts';
import type { Text } from '../../words/sentence.ts';
import type { Basis } from './basis.ts';
import type { Verdict } from './evaluated.ts';
import type { FigureView } from './figure-view.ts';
import type { Spread } from './piece-task.ts';
import type { SurveySketch } from './survey-sketch.ts';

/** A range of values; each end written as a quantity: '0.1 m'. `above` and `below` exclude the end. */
export interface ValueRange {
  readonly from?: string;
  readonly to?: string;
  readonly above?: string;
  readonly below?: string;
}

interface GivenBase {
  /** LaTeX; the symbol of a list or of a column of rows carries the running index i. */
  readonly symbol: string;
  readonly meaning: string;
  /** Further words for the handbook page. */
  readonly note?: string;
}

export interface QuantityGiven extends GivenBase {
  readonly type: 'quantity';
  /** Display unit; it sets the dimension. '1' is a pure number. */
  readonly unit: string;
  /** For voltages and currents: peak or r.m.s., and between what. */
  readonly voltage?: VoltageKind;
  /** Outside: an error. */
  readonly permitted?: ValueRange;
  /** Outside: a caution that the note prints. With `orNone` nought is usual as well: no lead, no decoupling element. */
  readonly usual?: ValueRange & { readonly because: string; readonly orNone?: true };
  readonly default?: { readonly value: string; readonly basis: Basis };
  readonly typical?: readonly { readonly value: string; readonly for: string; readonly basis: Basis }[];
  /** Only whole numbers. */
  readonly whole?: boolean;
}

export interface ChoiceGiven extends GivenBase {
  readonly type: 'choice';
  /** Option as it is written -> what it means. */
  readonly options: Readonly<Record<string, string>>;
  readonly default?: { readonly value: string; readonly basis: Basis };
}

/** A list of like quantities: `currents: [10 kA, 20 kA]`. In formulas its name is a list. */
export interface ListGiven extends Omit<QuantityGiven, 'type' | 'default' | 'typical'> {
  readonly type: 'list';
  readonly least?: number;
}

/** A name that the author chooses, in a column of rows: of an element, of a node. */
export interface NameColumn extends Omit<GivenBase, 'symbol'> {
  readonly type: 'name';
}

/** A list of such names: `observe: [tap, terminal]`. Formulas cannot use it; solver steps read it as `choices`. */
export interface NamesGiven extends GivenBase {
  readonly type: 'names';
  readonly least?: number;
}

/**
 * A column of a table. An optional one may be absent from a row: formulas cannot use it, since its list has gaps, and
 * solver steps see a gap as NaN or, in place of a word, as the empty text.
 */
export type ColumnDefinition = (QuantityGiven | ChoiceGiven | NameColumn) & { readonly optional?: true };

/** A table: `sections: [{ length: 2 m, inductance: 0.8 uH/m }, ...]`. In formulas its columns are lists: `sections.length`. */
export interface RowsGiven extends Omit<GivenBase, 'symbol'> {
  readonly type: 'rows';
  readonly columns: Readonly<Record<string, ColumnDefinition>>;
  /** Of 0 the table may be left out: then it has no rows. */
  readonly least?: number;
  /** The letter of the running index in the symbols of its columns and of the steps over its rows; i where none is named. */
  readonly index?: string;
  /**
   * One row, whose columns are single values in formulas. It may be left out where every column has a default: then all
   * of them hold.
   */
  readonly single?: true;
  /** It tells more of the rows of that table: one row for each of them, or one for all. Its columns count with those rows. */
  readonly alongside?: string;
}

export type GivenDefinition = QuantityGiven | ChoiceGiven | ListGiven | RowsGiven | NamesGiven;

/**
 * Of these givens exactly one is written. They are the marks of alternatives: what else an alternative needs
 * follows from the formulas that use it. A default alternative holds only when none is written.
 */
export interface Alternatives {
  readonly oneOf: readonly string[];
  /** None of them may be written; formulas then ask with `given`. */
  readonly mayBeAbsent?: boolean;
  /** The condition under which they are asked for; elsewhere they may all be absent. */
  readonly when?: string;
}

interface StepBase {
  readonly symbol: string;
  readonly meaning: string;
  readonly unit: string;
  readonly voltage?: VoltageKind;
  /**
   * Why the formula may set values of different kinds against each other, such as a residual voltage (peak) against a rated voltage
   * (r.m.s.): its kind is then the declared one, and none is inferred.
   */
  readonly acrossKinds?: string;
  readonly basis: Basis;
  /** Evaluated where everything it needs is there, else left out: for what only a check or an extra result needs. */
  readonly optional?: boolean;
  /** The condition under which the step applies at all. */
  readonly when?: string;
  /** Where one of these holds there is no number: the words stand instead ('melts'), on their own basis where they have one. */
  readonly words?: readonly { readonly when: string; readonly says: string; readonly basis?: Basis }[];
  /** A remark printed under the line: a dropped conversion factor, a convention. */
  readonly note?: string;
  /** It tells how a numerical method went, and nothing of the installation: a step of time, a balance. */
  readonly bookkeeping?: true;
  /** Significant digits where three do not serve. */
  readonly digits?: number;
  /** A limiting value is printed rounded to its safe side: a longest permitted length down, a least distance up. */
  readonly rounded?: 'down' | 'up';
}

/** Symbols that enter an empirical formula as numbers: name -> the unit in which they count. */
export type NumericSymbols = Readonly<Record<string, string>>;

/** A step that may have a value for each row of a table. */
interface RowStepBase extends StepBase {
  /** The table. Its columns, and other steps over it, stand in the formula for their values in the same row. */
  readonly over?: string;
}

export interface FormulaStep extends RowStepBase {
  readonly formula: string;
  readonly numeric?: NumericSymbols;
}

/** The first variant whose condition holds is the formula; only that one is printed. The last may go without condition. */
export interface VariantStep extends RowStepBase {
  readonly variants: readonly {
    readonly when?: string;
    readonly formula: string;
    readonly numeric?: NumericSymbols;
    readonly basis?: Basis;
    readonly note?: string;
    readonly acrossKinds?: string;
    /** Where variants give different kinds; else that of the step holds. */
    readonly voltage?: VoltageKind;
  }[];
}

/** A step whose formulas stand with the editions, in `editions`; those that hold in every edition may stand here. */
export interface EditionStep extends StepBase {
  readonly byEdition: true;
  readonly variants?: VariantStep['variants'];
}

/** A formula as an edition has it. */
export type EditionFormula = VariantStep['variants'][number];

/** What one edition says: its formulas for the steps that go by edition, one or, under conditions, several. */
export interface Edition {
  /** On which a formula rests that names no basis of its own. */
  readonly basis: Basis;
  readonly steps: Readonly<Record<string, EditionFormula | readonly EditionFormula[]>>;
}

/**
 * Editions of a standard, or standards, that say different things of the same steps: a new edition is one new part. A step for
 * which the edition that was chosen has no formula, or none whose condition holds, is left out.
 */
export interface Editions {
  /** The choice that names the edition; each of its options has its part. */
  readonly by: string;
  readonly of: Readonly<Record<string, Edition>>;
}

/** A value from a table of a standard, by one choice or several: the keys joined by ' / '. */
export interface TableStep extends RowStepBase {
  readonly table: {
    /** Choices; with `over` also columns of choices. */
    readonly by: readonly string[];
    /** 'class I' or 'class I / copper' -> a quantity: '0.08', '385 J/(kg K)'. */
    readonly values: Readonly<Record<string, string>>;
  };
}

/** Values as a solver step sees them: SI numbers, lists, choices; absent names give undefined. */
export interface SolverValues {
  number(name: string): number;
  optionalNumber(name: string): number | undefined;
  list(name: string): readonly number[];
  choice(name: string): string;
  /** The options or names in a column of rows, row by row: 'lines.installation'; or a list of names. */
  choices(name: string): readonly string[];
  has(name: string): boolean;
}

/** The values of the steps before one, which can be worked anew. */
export interface StepValues extends SolverValues {
  /** The values as they would be with other numbers or choices of some givens: the steps before this one worked anew. */
  again(changes: Readonly<Record<string, number | string>>): StepValues;
}

/** Why a method cannot work with a given: which one, which item of its list or row of its table, which column of the row. */
export interface Refusal {
  readonly text: Text;
  /** What to write instead. */
  readonly hint?: Text;
  readonly given: string;
  /** From zero. */
  readonly item?: number;
  readonly column?: string;
}

/**
 * What a solver step gives back: an SI number, or the words where there is none; `refused` where its values are such
 * that the method does not hold, with the reason (`refusal`), or with everything that is wrong with its givens: that is an error.
 */
export type SolverResult =
  | number
  | readonly number[]
  | { readonly words: string }
  | { readonly choice: string }
  | { readonly refused: Text | readonly Refusal[] };

/** A value that a numerical method supplies, where no closed formula does. Pure; same values, same result. */
export interface SolverStep extends StepBase {
  readonly needs: readonly string[];
  /** Used where present; never required. */
  readonly mayUse?: readonly string[];
  /** Many like pieces of work go through `spread`, which may have others help. */
  readonly solve: (values: StepValues, spread: Spread) => SolverResult;
  /** How the value is found, in words, printed in place of a formula. */
  readonly method: string;
  /** What it gives: one number, where nothing stands here; else a list, or one of some options. */
  readonly gives?: 'list' | { readonly options: readonly string[] };
  /** The words that it may give in place of a number. */
  readonly says?: readonly string[];
}

/**
 * A numerical method that gives several values at once, such as a simulation of which peak, instant and energy are read.
 * Worked once for each set of values, before the first step that is its `resultOf`.
 */
export interface Solution {
  readonly needs: readonly string[];
  /** Used where present; never required. */
  readonly mayUse?: readonly string[];
  readonly solve: (values: StepValues, spread: Spread) => SolutionOutcome;
  /** Where it takes long: at so many points a check is judged when givens have ranges. */
  readonly pointsOfRanges?: number;
}

/** The values by the names of the steps that are its results, and what the figure draws of it; or why there are none. */
export type SolutionOutcome =
  | { readonly results: Readonly<Record<string, SolverResult>>; readonly drawn?: unknown }
  | { readonly refused: Text | readonly Refusal[] };

/** One of the values of a solution. */
export interface ResultStep extends StepBase {
  /** The solution's name. */
  readonly resultOf: string;
  /** How the value is found, in words, printed in place of a formula; of a further result, where there is more to say than of the first. */
  readonly method?: string;
  /** As of a solver step. */
  readonly gives?: SolverStep['gives'];
  readonly says?: readonly string[];
}

/** A step may bear the name and symbol of a quantity given: it supplies the value where that given is not written. */
export type StepDefinition = PlainStep | EditionStep;

/** A step in which everything stands that it does. */
export type PlainStep = FormulaStep | VariantStep | TableStep | SolverStep | ResultStep;

export type Force = 'requirement' | 'recommendation';

export interface CheckDefinition {
  /** The criterion in words, as the summary of verdicts prints it. */
  readonly criterion: string;
  /** The value that is judged: a formula text, mostly one name. */
  readonly value: string;
  readonly relation: '<=' | '>=' | '<' | '>';
  readonly limit: string;
  /**
   * Other values that the block may compute for the same criterion: a raised steep-front voltage, the second of two waves, another
   * edition. The verdict is that of the least favourable of all that are there; one that should be there and lacks a given makes
   * the check one that cannot be judged.
   */
  readonly competing?: readonly CompetingValue[];
  /** By edition where editions differ: the first whose condition holds. */
  readonly force:
    | Force
    | readonly { readonly when?: string; readonly force: Force; readonly basis?: Basis }[];
  readonly basis: Basis;
  /** The condition under which the check is asked at all; otherwise it is left out. */
  readonly when?: string;
  /**
   * Givens without which the check cannot be judged although its formulas could be evaluated; what value and limit
   * need is found from the formulas.
   */
  readonly needs?: readonly string[];
  /** Words that a step may give instead of a number, with the verdict they stand for ('melts': false). */
  readonly verdictOfWords?: Readonly<Record<string, boolean>>;
  /**
   * What is compared is a number of things, or a yes or no as 1 and 0: where the value equals the limit, that is plain compliance and
   * no margin that is used up.
   */
  readonly counts?: true;
  /** What to do when it is not met. */
  readonly remedies: readonly (string | { readonly when: string; readonly text: string })[];
}

/** A value that competes with that of its check; `limit` where it has one of its own. */
export interface CompetingValue {
  /** What it is, in words that follow 'judged on': 'the residual voltage raised for the steep front'. */
  readonly meaning: string;
  readonly value: string;
  readonly limit?: string;
  /** Where the condition fails, the value does not compete. */
  readonly when?: string;
}

/**
 * A sentence that the note prints: always, or where the condition holds. `{name}` puts in the displayed value. With `over`
 * the condition is asked of each row of that table, and `{rows}` stands for the numbers of those in which it holds.
 */
export interface CautionDefinition {
  readonly when?: string;
  readonly over?: string;
  readonly text: string;
  readonly basis?: Basis;
}

/**
 * A limit of validity of the method: where the condition fails, an error or a printed caution. With `over` it is asked of
 * each row of that table, and `{rows}` in the text stands for the numbers of those in which it fails.
 */
export interface ValidityDefinition {
  readonly requires: string;
  readonly over?: string;
  /** Of an error: the given or column that is at fault, and what to write instead. */
  readonly given?: string;
  readonly instead?: string;
  readonly otherwise: 'error' | 'caution';
  readonly text: string;
  readonly basis?: Basis;
  /** As for steps. */
  readonly acrossKinds?: string;
}

/**
 * A given whose limiting value is worth solving for: the largest or smallest at which every requirement and recommendation
 * that now counts is met; with `checks`, at which these are.
 */
export interface LimitingDefinition {
  readonly given: string;
  readonly checks?: readonly string[];
  readonly seek: 'largest' | 'smallest';
  readonly meaning: string;
  /** The condition under which the given has any influence on a check. */
  readonly when?: string;
}

/** What must be expected: a printed number with its tolerance, a list of them, a choice, words, or a verdict. */
export type Expectation =
  | { readonly value: string; readonly tolerance: string; readonly because?: string }
  | { readonly items: readonly string[]; readonly tolerance: string; readonly because?: string }
  | { readonly choice: string }
  | { readonly words: string }
  | { readonly verdict: Verdict };

/**
 * One piece of evidence that a calculation is right. Only `published` is called published: inputs and results stand in the source.
 * `refuted` holds a wrong published answer: the engine must not give these values.
 */
export interface Evidence {
  readonly kind: 'published' | 'memory' | 'practice' | 'independent' | 'limiting-case' | 'refuted';
  /** What is shown, in a few words. */
  readonly about: string;
  /** Where the figures come from: book, page, example; or how they were derived. */
  readonly source: string;
  /** Givens as an author would write them. */
  readonly given: Readonly<Record<string, EvidenceGiven>>;
  readonly expect: Readonly<Record<string, Expectation>>;
}

export type EvidenceGiven =
  | string
  | number
  | readonly (string | number | Readonly<Record<string, string | number>>)[];

/** A drawing to the block's own values, as SVG text; undefined where this case has no figure. */
export interface FigureDefinition {
  readonly caption: string;
  readonly draw: (view: FigureView) => string | undefined;
}

/** One calculation: the whole of it. */
export interface CalculationDefinition {
  /** kebab-case, the trade's words. */
  readonly name: string;
  readonly title: string;
  /** One paragraph on what it is for. */
  readonly purpose: string;
  /** Plain questions that it answers, as a practitioner asks them. The handbook prints them, and its search looks through them. */
  readonly answers?: readonly string[];
  /**
   * A block to paste into a note, as an author writes it but for its `calculation`: invented values of an ordinary case, with the
   * units and sources that the trade writes. Every calculation of the catalogue has one.
   */
  readonly example?: string;
  /** An author's own, in a `yaml formula` block: its texts are printed as he wrote them, in whatever language. */
  readonly byAuthor?: true;
  readonly givens: Readonly<Record<string, GivenDefinition>>;
  readonly alternatives?: readonly Alternatives[];
  readonly editions?: Editions;
  /** Numerical methods of which several steps are results. */
  readonly solutions?: Readonly<Record<string, Solution>>;
  readonly steps: Readonly<Record<string, StepDefinition>>;
  readonly checks?: Readonly<Record<string, CheckDefinition>>;
  /** By name: accepted cautions, records and digests hold it. */
  readonly validity?: Readonly<Record<string, ValidityDefinition>>;
  readonly cautions?: Readonly<Record<string, CautionDefinition>>;
  readonly limiting?: readonly LimitingDefinition[];
  readonly figure?: FigureDefinition;
  /** For the form of a survey. */
  readonly sketch?: SurveySketch;
  readonly evidence: readonly Evidence[];
}

/** A definition whose editions were put into their steps. */
export interface PlainDefinition extends CalculationDefinition {
  readonly steps: Readonly<Record<string, PlainStep>>;
}
