import type { Diagnostic } from './diagnostic.ts';
import type { Place } from './place.ts';
import { visible } from './visible-text.ts';

export interface PrintOptions {
  /** The text of a file by its name, for the quoted line; undefined where it could not be read. */
  readonly textOf: (file: string) => string | undefined;
  /** Marks words for a terminal; the identity where colours are off. */
  readonly emphasise?: (text: string, as: 'error' | 'caution' | 'mark') => string;
}

/** The text of diagnostics for a terminal: place, message, the line with the fault marked, what to write instead. */
export function printDiagnostics(diagnostics: readonly Diagnostic[], options: PrintOptions): string {
  return diagnostics.map((d) => printOne(d, options)).join('\n');
}

function printOne(diagnostic: Diagnostic, options: PrintOptions): string {
  const mark = options.emphasise ?? ((text: string) => text);
  const lines = [
    `${position(diagnostic.place)}: ${mark(`${diagnostic.severity}:`, diagnostic.severity)} ${visible(diagnostic.message)}`,
    ...excerpt(diagnostic.place, options),
  ];
  for (const { place, note } of diagnostic.related ?? []) {
    lines.push(`  ${position(place)}: ${visible(note)}`, ...excerpt(place, options));
  }
  if (diagnostic.hint) lines.push(`  ${visible(diagnostic.hint)}`);
  return lines.join('\n');
}

function position({ file, line, column }: Place): string {
  return `${visible(file)}:${line}:${column}`;
}

const LONGEST_EXCERPT = 100;

function excerpt(place: Place, options: PrintOptions): string[] {
  const text = options.textOf(place.file)?.split(/\r\n|\n|\r/)[place.line - 1];
  if (text === undefined || text.trim() === '') return [];
  const first = Math.min(text.length - text.trimStart().length, place.column - 1);
  const from = place.column - 1 - first > LONGEST_EXCERPT ? place.column - 21 : first;
  const shown = text.slice(from, from + LONGEST_EXCERPT).trimEnd();
  const marks = Math.max(1, Math.min(place.length, shown.length - (place.column - 1 - from)));
  const mark = options.emphasise ?? ((t: string) => t);
  const lead = shown.slice(0, place.column - 1 - from).replace(/[^\t]/g, ' ');
  return [
    `    ${shown.split('\t').map(visible).join('\t')}`,
    `    ${lead.padEnd(place.column - 1 - from)}${mark('^'.repeat(marks), 'mark')}`,
  ];
}
