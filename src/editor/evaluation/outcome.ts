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
  readonly notes: readonly string[];
  readonly submittals: readonly string[];
  /** Paths of notes that are there and could not be read. */
  readonly unread: readonly string[];
  /** Paths of further files that are there and have no text. */
  readonly unreadable: readonly string[];
  readonly tableNames: readonly string[];
  /** What was found on reading the files, with the texts in which it stands. */
  readonly found: readonly Diagnostic[];
  readonly foundIn: readonly (readonly [path: string, text: string])[];
  /** What is wrong with the images that were judged, by `imageKey`; it stands where the notes show them. */
  readonly imageFaults: ReadonlyMap<string, readonly Diagnostic[]>;
}

/** An image as a note shows it: the folder of the note, and what is written there. */
export interface ImageAddress {
  readonly folder: string;
  readonly address: string;
}

export function imageKey({ folder, address }: ImageAddress): string {
  return `${folder}\n${address}`;
}

/** Files that notes name. */
export interface NamedFiles {
  readonly tables: readonly string[];
  readonly images: readonly ImageAddress[];
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
  /** Whoever reads files reads these for the next order. */
  readonly files: NamedFiles;
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

/** An outcome on its way from another thread: of the blocks those alone whose facts are others than were told before. */
export interface ToldOutcome extends Omit<EvaluationOutcome, 'notes'> {
  readonly notes: ReadonlyMap<string, ToldFacts>;
}

export interface ToldFacts extends Pick<NoteFacts, 'prose'> {
  /** All ids, in their order. */
  readonly ids: readonly string[];
  readonly changed: ReadonlyMap<string, BlockFacts>;
}
