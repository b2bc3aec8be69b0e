import type { Diagnostic } from './diagnostic.ts';
import type { Place } from './place.ts';
import { visible } from './visible-text.ts';

export interface PrintOptions {
  /** The text of a file by its name, for the quoted line; undefined where it could not be read. */
  readonly textOf: (file: string) => string | undefined;
  /** Marks words for a terminal; the identity where colours are off. */
  readonly emphasise?: (text: string, as: 'error' | 'caution' | 'mark') => string;
}

/** What nobody reads any more; reports for machines hold everything. */
const MOST_PRINTED = 200;

/**
 * The text of diagnostics for a terminal: place, message, the line with the fault marked, what to write instead. Of very many
 * the first are printed, errors before cautions, and the rest is counted.
 */
export function printDiagnostics(diagnostics: readonly Diagnostic[], options: PrintOptions): string {
  const lines = new Map<string, readonly string[]>();
  const linesOf = (file: string): readonly string[] => {
    const known = lines.get(file) ?? options.textOf(file)?.split(/\r\n|\n|\r/) ?? [];
    lines.set(file, known);
    return known;
  };
  const printed = choose(diagnostics).map((d) => printOne(d, options, linesOf));
  return [...printed, ...countRest(diagnostics)].join('\n');
}

function choose(diagnostics: readonly Diagnostic[]): readonly Diagnostic[] {
  if (diagnostics.length <= MOST_PRINTED) return diagnostics;
  const errors = diagnostics.filter(({ severity }) => severity === 'error').slice(0, MOST_PRINTED);
  const cautions = diagnostics.filter(({ severity }) => severity === 'caution');
  const chosen = new Set([...errors, ...cautions.slice(0, MOST_PRINTED - errors.length)]);
  return diagnostics.filter((diagnostic) => chosen.has(diagnostic));
}

function countRest(diagnostics: readonly Diagnostic[]): string[] {
  const rest = diagnostics.length - MOST_PRINTED;
  if (rest <= 0) return [];
  const errors = diagnostics.filter(({ severity }) => severity === 'error').length;
  const hidden = Math.max(0, errors - MOST_PRINTED);
  const words = [
    ...(hidden > 0 ? [hidden === 1 ? '1 error' : `${hidden} errors`] : []),
    ...(rest > hidden ? [rest - hidden === 1 ? '1 caution' : `${rest - hidden} cautions`] : []),
  ];
  return [`${words.join(' and ')} more: correct these first`];
}

type LinesOf = (file: string) => readonly string[];

function printOne(diagnostic: Diagnostic, options: PrintOptions, linesOf: LinesOf): string {
  const mark = options.emphasise ?? ((text: string) => text);
  const lines = [
    `${position(diagnostic.place)}: ${mark(`${diagnostic.severity}:`, diagnostic.severity)} ${visible(diagnostic.message)}`,
    ...excerpt(diagnostic.place, options, linesOf),
  ];
  for (const { place, note } of diagnostic.related ?? []) {
    lines.push(`  ${position(place)}: ${visible(note)}`, ...excerpt(place, options, linesOf));
  }
  if (diagnostic.hint) lines.push(`  ${visible(diagnostic.hint)}`);
  return lines.join('\n');
}

function position({ file, line, column }: Place): string {
  return `${visible(file)}:${line}:${column}`;
}

const LONGEST_EXCERPT = 100;

function excerpt(place: Place, options: PrintOptions, linesOf: LinesOf): string[] {
  const text = linesOf(place.file)[place.line - 1];
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
