import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import type { SourceTexts } from '../diagnostics/positions.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { PagePart } from '../page/live-parts.ts';
import type { RecordedChange } from '../review/compare-recorded.ts';
import type { NoteReview } from '../review/sign-off/note-review.ts';

/** A project as its files are at one moment. */
export interface PreviewReading {
  readonly texts: SourceTexts;
  /** Of the project; empty as long as it does not say one. */
  readonly title: string;
  /** In the order of their paths. */
  readonly notes: readonly NoteReading[];
  /** What is said of files that are no notes. */
  readonly diagnostics: readonly Diagnostic[];
}

export interface NoteReading extends NoteName {
  /** What is said of the note, and of whatever else keeps it from being set. */
  readonly diagnostics: readonly Diagnostic[];
  /** Undefined where something stands against setting its page. */
  readonly sound: SoundNote | undefined;
}

/** What a note is called; texts are empty as long as it does not say them. */
export interface NoteName {
  /** Relative to the project, with forward slashes. */
  readonly path: string;
  readonly number: string;
  readonly title: string;
  readonly revision: string;
}

/** A note of which the page can be set. */
export interface SoundNote {
  readonly note: EvaluatedNote;
  /** The texts from which it was made. */
  readonly texts: SourceTexts;
  readonly review: NoteReview;
  /** The live page. What did not change is the same string as before. */
  render(): readonly PagePart[];
  /** What takes longer than the page, and can follow it. */
  examine(): Promise<Examination>;
}

/** The note held against its recorded results. */
export interface Examination {
  /** False where nothing is recorded yet. */
  readonly isRecorded: boolean;
  readonly changes: readonly RecordedChange[];
  /** Files with the results of rows that would be written anew. */
  readonly tables: readonly string[];
  /** What compiling would say beside what is said of the source. */
  readonly diagnostics: readonly Diagnostic[];
}

/** A PDF that was printed on request. */
export interface PrintedPdf {
  /** '003-intake-arresters.pdf' */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Prints a note as its files are now. Texts of what goes on, and of what stands against it, are for people. */
export type PrintNote = (
  path: string,
  progress: (words: string) => void,
) => Promise<PrintedPdf | { readonly refused: string }>;

/** What the preview needs of the rest of the program. */
export interface PreviewTools {
  /**
   * Reads and evaluates the project; what did not change is not computed again.
   *
   * @throws {OutsideFailure} where the project is not there, or holds no notes
   */
  read(): Promise<PreviewReading>;
  readonly print: PrintNote;
  /** How many results were computed, by query, since this was last asked. */
  takeCounts(): ReadonlyMap<string, number>;
}
