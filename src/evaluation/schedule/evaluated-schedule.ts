import type {
  EvaluatedCalculation,
  EvaluatedCaution,
  EvaluatedLimiting,
} from '../../engine/definition/evaluated.ts';
import type { ShownVerdict } from '../../engine/definition/show-check.ts';
import type { Value } from '../../engine/definition/value.ts';
import type { Unit } from '../../quantity/unit.ts';
import type { Separator } from '../../source/csv/csv-table.ts';
import type { BlockCase, ScheduleBlock } from '../../source/note-source.ts';
import type { Text } from '../../words/sentence.ts';
import type { EvaluatedBlock } from '../evaluated-note.ts';

/** One calculation over the rows of a table. */
export interface EvaluatedSchedule {
  readonly id: string;
  /** The author's title, else that of the calculation. */
  readonly title: Text;
  /** That of all rows; absent where a column names it. */
  readonly case?: BlockCase;
  /** The name of the calculation. */
  readonly calculation: string;
  readonly source: ScheduleBlock;
  readonly file: ScheduleFile;
  /** The calculation as the worst row has it: formulas, clauses and checks, to be told once for all. */
  readonly method: EvaluatedCalculation;
  /** Of each given that all rows have from a base: the id of the block that writes it. */
  readonly inherited: ReadonlyMap<string, string>;
  /** Of each way in which rows are worked, by the formulas that apply, the calculation of its first row; that of `method` among them. */
  readonly ways: readonly EvaluatedCalculation[];
  /** In the order of the file. */
  readonly rows: readonly ScheduleRow[];
  /** The worst rows as ordinary blocks, worst first; the id of each is 'boards/DB-07'. */
  readonly inFull: readonly EvaluatedBlock[];
  /** The values of the column of groups in the order in which they first stand in the file; empty where rows are not grouped. */
  readonly groups: readonly string[];
}

/** How the table was read. */
export interface ScheduleFile {
  /** In the project, with forward slashes. */
  readonly path: string;
  readonly separator: Separator;
  /** Numbers of the file have decimal commas, which were read as such. */
  readonly decimalCommas: boolean;
}

/** What one row comes to: as data, slim enough for ten thousand of them. */
export interface ScheduleRow {
  /** The line of the file on which it begins. */
  readonly row: number;
  readonly id: string;
  readonly case?: BlockCase;
  readonly group?: string;
  /** What the row's cells give; what all rows have in common is not repeated here. */
  readonly given: Readonly<Record<string, Value>>;
  readonly results: Readonly<Record<string, RowResult>>;
  readonly checks: readonly RowCheck[];
  readonly limiting: readonly EvaluatedLimiting[];
  readonly cautions: readonly EvaluatedCaution[];
}

/** A result of a row, without what it looks like in print: `displaySi(si, unit)`. */
export type RowResult =
  | { readonly type: 'number'; readonly si: number; readonly unit: Unit }
  | { readonly type: 'words'; readonly words: Text }
  | { readonly type: 'choice'; readonly choice: string }
  | { readonly type: 'list'; readonly si: readonly number[]; readonly unit: Unit };

/** A check without what is said once for all rows. */
export type RowCheck = ShownVerdict;
