/**
 * Where a line of one text stands in another that differs from it in one stretch: lines before that stretch and behind it stay with
 * what they say; a line within it goes to the nearest line there. Lines count from 1.
 */
export function mapLine(line: number, from: readonly string[], to: readonly string[]): number {
  const most = Math.min(from.length, to.length);
  let start = 0;
  while (start < most && from[start] === to[start]) start += 1;
  if (line <= start) return line;
  let end = 0;
  while (end < most - start && from[from.length - 1 - end] === to[to.length - 1 - end]) end += 1;
  if (line > from.length - end) return line + to.length - from.length;
  return Math.max(1, Math.min(line, to.length - end));
}
