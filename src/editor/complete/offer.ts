/** Something that may be written where the cursor stands. */
export interface Offer {
  readonly label: string;
  readonly sort: 'key' | 'name' | 'option' | 'unit' | 'value' | 'reference' | 'calculation' | 'file' | 'kind';
  /** What is written, in place of the stretch; the label where absent. */
  readonly insert?: string;
  /** A few words beside the label. */
  readonly detail?: string | undefined;
  /** Markdown. */
  readonly about?: string | undefined;
  /** Those with a lower rank come first. */
  readonly rank: number;
  readonly start: number;
  readonly end: number;
  /** What is written asks for a further completion. */
  readonly goesOn?: boolean;
}

/** A stretch of a text with what is written in it before the cursor. */
export interface Stretch {
  readonly start: number;
  readonly end: number;
  readonly typed: string;
}
