import type { Position } from '../../src/diagnostics/positions.ts';
import type { told } from '../support/told.ts';

/**
 * Fixtures carry the diagnostics that they provoke: below each faulty line stand marks under the fault and the message,
 *
 *     line_lead: { value: 1,8 m }
 *                         ^ error decimal-comma: '1,8 m' has a decimal comma -> write a decimal point: 1.8 m
 *
 * `strip` takes these lines out, and `annotate` puts in those for the diagnostics that were found.
 */
const MARKED_LINE = /^ *\^+ (error|caution|note)\b.*$/;

export function strip(fixture: string): string {
  return fixture
    .split('\n')
    .filter((line) => !MARKED_LINE.test(line))
    .join('\n');
}

export function annotate(text: string, diagnostics: ReturnType<typeof told>): string {
  const below = new Map<number, string[]>();
  const put = ({ line, column, length }: Position, words: string) => {
    const marks = `${' '.repeat(column - 1)}${'^'.repeat(length)} ${words}`;
    below.set(line, [...(below.get(line) ?? []), marks]);
  };
  for (const { severity, code, place, message, hint, related } of diagnostics) {
    put(place, `${severity} ${code}: ${message}${hint ? ` -> ${hint}` : ''}`);
    for (const { place: other, note } of related ?? [])
      if (other.file === place.file) put(other, `note: ${note}`);
  }
  return text
    .split('\n')
    .flatMap((line, index) => [line, ...(below.get(index + 1) ?? [])])
    .join('\n');
}
