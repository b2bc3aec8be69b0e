/** How a note numbers its headings, calculations and figures, so that each number stands once in its document. */
export interface Numbering {
  /** What stands before every number: '' in a document of its own, '201-' in one that holds several notes. */
  readonly prefix: string;
  /** How many levels of headings stand above those of the note. */
  readonly above: number;
}

/** A note that is a document of its own. */
export const ALONE: Numbering = { prefix: '', above: 0 };
