import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import type { EvaluatedCalculation, WordedCalculation } from '../engine/definition/evaluated.ts';
import type { Acceptance, Block, BlockCase, NoteSource } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import type { Text } from '../words/sentence.ts';
import type { TakenValue } from './other-notes/taken-value.ts';
import type { EvaluatedSchedule } from './schedule/evaluated-schedule.ts';
import type { EvaluatedSubmittal } from './submittal/evaluated-submittal.ts';

export interface EvaluatedBlock {
  readonly id: string;
  /** The author's title, else that of the calculation. */
  readonly title: Text;
  /** Without it the block is what the note stands for. */
  readonly case?: BlockCase;
  readonly source: Block;
  readonly evaluated: EvaluatedCalculation;
  /** Cautions of this block that the author has accepted. */
  readonly accepted: readonly Acceptance[];
}

/** A note with everything computed; `blocks` in document order. */
export interface EvaluatedNote {
  readonly source: NoteSource;
  readonly blocks: readonly EvaluatedBlock[];
  /** Calculations over the rows of tables, in document order; their rows in full are not among the blocks. */
  readonly schedules: readonly EvaluatedSchedule[];
  /** Value in the prose -> its printed text, by target. */
  readonly proseTexts: ReadonlyMap<string, Text>;
  /** Register entries that the note uses, by path. */
  readonly usedRegister: ReadonlyMap<string, UsedEntry>;
  /** Values of other notes that the note uses, each once, in the order of the first references to them. */
  readonly taken: readonly TakenValue[];
}

/** An entry of the register as a note shows it. */
export interface UsedEntry {
  readonly print: string;
  readonly source: string | undefined;
  /** Where it stands, if not in project.yaml. */
  readonly file?: string;
}

/** A block with words put in, and a note of such: `wordNote`. */
export interface WordedBlock extends EvaluatedBlock {
  readonly title: string;
  readonly evaluated: WordedCalculation;
}

/** A schedule whose title, method and rows in full are worded; its many rows are worded where they are shown. */
export interface WordedSchedule extends EvaluatedSchedule {
  readonly title: string;
  readonly method: WordedCalculation;
  readonly ways: readonly WordedCalculation[];
  readonly inFull: readonly WordedBlock[];
}

export interface WordedNote extends EvaluatedNote {
  readonly blocks: readonly WordedBlock[];
  readonly schedules: readonly WordedSchedule[];
  readonly proseTexts: ReadonlyMap<string, string>;
}

/** A project with all notes that were asked for. Where `diagnostics` holds an error, the notes are not to be printed. */
export interface EvaluatedProject {
  readonly project: ProjectSource;
  readonly notes: readonly EvaluatedNote[];
  /** Notes that nobody asked for, from which those take values, also through others. */
  readonly others: readonly EvaluatedNote[];
  readonly submittals: readonly EvaluatedSubmittal[];
  readonly diagnostics: readonly Diagnostic[];
}
