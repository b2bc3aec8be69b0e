import type { ListedNote, SubmittalSource } from '../../source/submittal-source.ts';
import type { Text } from '../../words/sentence.ts';
import type { EvaluatedNote } from '../evaluated-note.ts';

/** A note within a submittal. */
export interface SubmittalNote {
  readonly note: EvaluatedNote;
  readonly listed: ListedNote;
  /** What it is called within the document: the number with which its file begins, else its document number. */
  readonly label: string;
}

/** A submittal whose notes are evaluated, in the order of the document. Page size and language in its front matter are those of the notes. */
export interface EvaluatedSubmittal {
  readonly source: SubmittalSource;
  readonly notes: readonly SubmittalNote[];
  /** Values in the introduction -> printed text, by target. */
  readonly texts: ReadonlyMap<string, Text>;
}
