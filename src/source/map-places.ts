import type { Place } from '../diagnostics/place.ts';

/** Turns a stretch of a YAML text into its place in the file; see `mapPlaces`. */
export type PlaceMap = (start: number, end: number) => Place;

export function splitLines(text: string): string[] {
  return text.split(/\r\n|\n|\r/);
}

/**
 * Places for a text that stands in a file from `firstLine` (counted from 1), one line of it on each line of the file.
 * Markdown strips the indentation of a list item or the mark of a quotation from each line, so that what is left is
 * the end of the physical line: the shift of a column is what the physical line is longer.
 */
export function mapPlaces(
  file: string,
  text: string,
  physicalLines: readonly string[],
  firstLine: number,
): PlaceMap {
  const starts = lineStarts(text);
  const lines = splitLines(text);
  return (start, end) => {
    const index = lineOf(starts, start);
    const line = lines[index] ?? '';
    const shift = (physicalLines[firstLine - 1 + index] ?? line).length - line.length;
    const from = start - starts[index]!;
    const to = Math.min(end - starts[index]!, line.length);
    return {
      file,
      line: firstLine + index,
      column: Math.max(1, from + shift + 1),
      length: Math.max(1, to - from),
    };
  };
}

function lineStarts(text: string): number[] {
  const starts = [0];
  for (const match of text.matchAll(/\r\n|\n|\r/g)) starts.push(match.index + match[0].length);
  return starts;
}

/** The last line that starts at or before the offset. */
function lineOf(starts: readonly number[], offset: number): number {
  let low = 0;
  let high = starts.length - 1;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (starts[middle]! <= offset) low = middle;
    else high = middle - 1;
  }
  return low;
}
