import type { Diagnostic } from '../../diagnostics/diagnostic.ts';
import type { Code } from '../../diagnostics/messages.ts';
import type { ReportedDiagnostic } from '../../diagnostics/report-diagnostics.ts';
import type { Verdict } from '../../engine/definition/evaluated.ts';
import type { BlockCase } from '../../source/note-source.ts';

/** What is to be evaluated anew, as plain data: it goes to another thread. */
export interface EvaluationOrder {
  readonly round: number;
  /** Texts that are others since the last order; undefined where a file is gone. */
  readonly changes: readonly (readonly [path: string, text: string | undefined])[];
  readonly submittals: readonly string[];
  /** Paths of notes that are there and could not be read. */
  readonly unread: readonly string[];
  /** Paths of further files that are there and have no text. */
  readonly unreadable: readonly string[];
  readonly tableNames: readonly string[];
  /** What was found on reading the files, with the texts in which it stands. */
  readonly found: readonly Diagnostic[];
  readonly foundIn: readonly (readonly [path: string, text: string])[];
}

/** A diagnostic in the words of the command line, with the data from which these are made. */
export interface FoundDiagnostic extends ReportedDiagnostic {
  readonly code: Code;
  readonly data: object;
}

/** What came of a project, as plain data. */
export interface EvaluationOutcome {
  readonly round: number;
  readonly diagnostics: readonly FoundDiagnostic[];
  /** Of each note what can be shown of its blocks; of a note that could not be evaluated nothing. */
  readonly notes: ReadonlyMap<string, NoteFacts>;
  /** How many results were computed, by query. */
  readonly computed: ReadonlyMap<string, number>;
  readonly milliseconds: number;
}

export interface NoteFacts {
  readonly blocks: ReadonlyMap<string, BlockFacts>;
  /** What stands in the page for `{{ target }}`, by target. */
  readonly prose: ReadonlyMap<string, string>;
}

/** What a calculation, or a schedule, comes to. */
export interface BlockFacts {
  readonly title: string;
  readonly case?: BlockCase;
  readonly checks: readonly CheckFact[];
  /** Printed values of results, givens and limiting values, by the names by which references call them. */
  readonly values: ReadonlyMap<string, string>;
  /** Of a schedule: how many rows come to what, case by case. */
  readonly rows?: readonly string[];
}

export interface CheckFact {
  readonly name: string;
  readonly verdict: Verdict;
  readonly verdictWords: string;
  readonly requirement: boolean;
  /** Value, limit and verdict in a line. */
  readonly line: string;
}
