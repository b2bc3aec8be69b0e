import type { Numbering } from './numbering.ts';

/** A heading of the document, as contents and bookmarks need it. */
export interface HeadingEntry {
  readonly id: string;
  /** 1 to 6, without gaps. */
  readonly level: number;
  /** '2.1', '201-2.1', 'Calculation 3', 'Annex A'; empty for the parts in front of the text. */
  readonly number: string;
  readonly text: string;
  /** True where a formula stands in it, so that its text is not what is printed. */
  readonly typeset: boolean;
}

const DEEPEST = 6;

/**
 * Numbers the headings of a text. Whatever depth an author begins with counts as the first; a level that was skipped is
 * closed up, so that the outline has no holes.
 */
export class HeadingNumbers {
  readonly #shallowest: number;
  readonly #numbering: Numbering;
  readonly #counts: number[] = [];
  readonly #depths: number[] = [];

  constructor(shallowest: number, numbering: Numbering) {
    this.#shallowest = shallowest;
    this.#numbering = numbering;
  }

  /** The level of the section in which the text stands now; before the first heading that of what stands above the note. */
  get level(): number {
    return Math.min(DEEPEST, this.#counts.length + this.#numbering.above);
  }

  /** The number of the section in which the text stands now; empty before the first heading. */
  get number(): string {
    return this.#counts.length === 0 ? '' : `${this.#numbering.prefix}${this.#counts.join('.')}`;
  }

  next(depth: number): { level: number; number: string } {
    const relative = depth - this.#shallowest;
    while (this.#depths.length > 0 && this.#depths.at(-1)! >= relative) this.#depths.pop();
    this.#depths.push(relative);
    const depths = this.#depths.length;
    this.#counts[depths - 1] = (this.#counts[depths - 1] ?? 0) + 1;
    this.#counts.length = depths;
    return { level: this.level, number: this.number };
  }
}
