import type { Place } from '../diagnostics/place.ts';
import { TextLines } from '../diagnostics/text-lines.ts';

/** Turns a stretch of a YAML text into its place in the file; see `mapPlaces`. */
export type PlaceMap = (start: number, end: number) => Place;

/** Places in a text that is a whole file. */
export function wholeFile(file: string): PlaceMap {
  return (start, end) => ({ file, start, end: Math.max(start, end) });
}

/**
 * Places for a text that stands in a file from `firstLine` (counted from 0), one line of it on each line of the file.
 * Markdown strips the indentation of a list item or the mark of a quotation from each line, so that what is left is
 * the end of the physical line: the shift of a column is what the physical line is longer.
 */
export function mapPlaces(file: string, text: string, physical: TextLines, firstLine: number): PlaceMap {
  const begin = physical.startOf(firstLine);
  if (physical.text.startsWith(text, begin)) {
    return (start, end) => ({ file, start: begin + start, end: begin + Math.max(start, end) });
  }
  const own = new TextLines(text);
  const offset = (at: number): number => {
    const index = own.lineAt(at);
    const line = own.lines[index]!;
    const shift = (physical.lines[firstLine + index] ?? line).length - line.length;
    return physical.startOf(firstLine + index) + Math.max(0, at - own.startOf(index) + shift);
  };
  return (start, end) => {
    const from = offset(start);
    return { file, start: from, end: Math.max(from, offset(end)) };
  };
}
