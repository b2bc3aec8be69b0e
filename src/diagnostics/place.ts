/**
 * A stretch of a text of the project, perhaps of several lines: offsets in UTF-16 units, `end` exclusive. Within a block of a note
 * they count from where the block begins, so that what is known of a block stays true when the text above it moves.
 * Lines and columns are told where a place is shown (`Positions`); to everybody else a place is opaque.
 */
export interface Place {
  /** Relative to the project, with forward slashes. A byte order mark at its beginning does not count. */
  readonly file: string;
  /** The key of the block in its note from whose beginning the offsets count; absent where they count from that of the file. */
  readonly piece?: string;
  readonly start: number;
  readonly end: number;
}

/** A stretch of a text, in UTF-16 units from its beginning; `end` is exclusive. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** The beginning of a file: for faults that concern the whole of it. */
export function startOf(file: string): Place {
  return { file, start: 0, end: 0 };
}

/**
 * Narrows a place to a span of the text that stands there. Falls back to the whole place where the text
 * in the file is longer than the text that was read (quotes and escapes shift what lies inside).
 */
export function narrow(place: Place, span: Span | undefined, textLength: number): Place {
  if (!span || place.end - place.start !== textLength) return place;
  return { ...place, start: place.start + span.start, end: place.start + Math.max(span.start, span.end) };
}
