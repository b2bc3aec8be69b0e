import type { SketchView, SurveySketch } from '../../engine/definition/survey-sketch.ts';
import type { Separator } from '../../source/csv/csv-table.ts';

/** A given that a column of a form asks for. */
export interface AskedGiven {
  readonly name: string;
  /** LaTeX. */
  readonly symbol: string;
  readonly meaning: string;
  /** In which the column is filled in; empty for words and pure numbers, and where each cell has a unit of its own. */
  readonly unit: string;
  /** Each cell has its number with a unit of its own. */
  readonly ownUnits: boolean;
  /** Of a choice: the words that may stand in a cell, each with what it means. */
  readonly options: readonly { readonly option: string; readonly means: string }[];
  /** From where to where it is measured. */
  readonly measured?: string;
  /** The mark that stands at its column and in the sketch: '(3)'. */
  readonly mark: string;
}

export interface FormColumn {
  /** The header in the table: 'lead a [m]'. */
  readonly head: string;
  /** Without the unit. */
  readonly name: string;
  readonly kind: 'id' | 'group' | 'case' | 'given' | 'other';
  /** Several givens may be read from one column. */
  readonly asks: readonly AskedGiven[];
}

/** The form of a schedule: what stands on paper, and in the table into which it is entered afterwards. */
export interface SurveyForm {
  readonly schedule: string;
  readonly title: string;
  /** The table of the schedule: a path in the project. */
  readonly file: string;
  readonly columns: readonly FormColumn[];
  /** Texts by column; empty where there is something to fill in. */
  readonly rows: readonly (readonly string[])[];
  readonly separator: Separator;
  readonly sketch?: SurveySketch & { readonly view: SketchView };
}

/** What a person notes beside what a schedule asks for; the schedule passes over these columns of the table. */
export const NOTED_BESIDE = ['photos', 'notes', 'surveyor', 'surveyed on'] as const;
