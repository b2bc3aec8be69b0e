/** A position in a text file of the project; line and column count from 1, columns in UTF-16 units. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  /** How many characters on that line the place covers; at least 1. */
  readonly length: number;
}

/** A stretch of a text, in UTF-16 units from its beginning; `end` is exclusive. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** The place of the first character of a file: for faults that concern the whole of it. */
export function startOf(file: string): Place {
  return { file, line: 1, column: 1, length: 1 };
}

/**
 * Narrows a place to a span of the text that stands there. Falls back to the whole place where the text
 * in the file is longer than the text that was read (quotes and escapes shift what lies inside).
 */
export function narrow(place: Place, span: Span | undefined, textLength: number): Place {
  if (!span || place.length !== textLength) return place;
  return { ...place, column: place.column + span.start, length: Math.max(1, span.end - span.start) };
}
