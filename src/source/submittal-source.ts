import type { Place } from '../diagnostics/place.ts';
import type { FrontMatter, TextWithValues } from './note-source.ts';

/** A note that a submittal lists. */
export interface ListedNote {
  /** As it is written: the number with which the file name of the note begins, '201', or the file. */
  readonly written: string;
  /** The heading of the note within the document, instead of its own title. */
  readonly heading?: string;
  readonly place: Place;
}

/**
 * A submittal, read: several notes as one document. Keys that are missing or at fault are empty texts, as in a note. Page size and language
 * are those of its notes.
 */
export interface SubmittalSource {
  /** Relative to the project; a submittal lies beside project.yaml. */
  readonly path: string;
  readonly text: string;
  readonly frontMatter: FrontMatter;
  readonly recipient?: string;
  /** Words at the beginning, in paragraphs; values are those of its notes: '201/risk.R1'. */
  readonly introduction?: TextWithValues;
  readonly notes: readonly ListedNote[];
}

const NAME = 'submittal.yaml';

/**
 * Whether a file is a submittal, by its path in the project: 'submittal.yaml', or of several 'construction.submittal.yaml'. All lie beside
 * project.yaml.
 */
export function isSubmittalName(path: string): boolean {
  return path === NAME || (path.endsWith(`.${NAME}`) && !path.includes('/') && !path.startsWith('.'));
}
