/** A page of the handbook: of a calculation, or of a topic that is none. */
export interface HandbookPage {
  readonly kind: 'calculation' | 'topic';
  /** By which `describe` opens it. */
  readonly name: string;
  readonly title: string;
  readonly purpose: string;
  /** Plain questions that it answers. */
  readonly answers: readonly string[];
  /** The page as markdown, as the terminal prints it. */
  readonly markdown: string;
  /** What stands below title and purpose, as markdown; empty for a calculation, of which parts are made apart. */
  readonly body: string;
  /** What the search looks through beside title, purpose and answers, line by line. */
  readonly lines: readonly PageLine[];
}

/** One line of a page, and what it tells of. */
export interface PageLine {
  readonly part: LinePart;
  readonly text: string;
}

export type LinePart = 'given' | 'result' | 'check' | 'limiting value' | 'remedy' | 'source' | 'text';
