import type { Diagnostic } from './diagnostic.ts';
import { type Position, Positions, type SourceTexts } from './positions.ts';
import { type ReportedDiagnostic, reportDiagnostics } from './report-diagnostics.ts';
import { visible } from './visible-text.ts';

/** Marks words for a terminal; the identity where colours are off. */
type Emphasise = (text: string, as: 'error' | 'caution' | 'mark') => string;

/** What nobody reads any more; reports for machines hold everything. */
const MOST_PRINTED = 200;

/**
 * The text of diagnostics for a terminal: place, message, the line with the fault marked, what to write instead. Of very many
 * the first are printed, errors before cautions, and the rest is counted.
 */
export function printDiagnostics(
  diagnostics: readonly Diagnostic[],
  texts: SourceTexts,
  emphasise: Emphasise = (text) => text,
): string {
  const positions = new Positions(texts);
  const printed = reportDiagnostics(choose(diagnostics), texts, positions).map((reported) =>
    printOne(reported, positions, emphasise),
  );
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

function printOne(reported: ReportedDiagnostic, positions: Positions, mark: Emphasise): string {
  const { severity, position, message, hint, related = [] } = reported;
  const lines = [
    `${wordPosition(position)}: ${mark(`${severity}:`, severity)} ${visible(message)}`,
    ...excerpt(position, positions, mark),
  ];
  for (const other of related) {
    lines.push(`  ${wordPosition(other.position)}: ${visible(other.note)}`);
    lines.push(...excerpt(other.position, positions, mark));
  }
  if (hint) lines.push(`  ${visible(hint)}`);
  return lines.join('\n');
}

function wordPosition({ file, line, column }: Position): string {
  return `${visible(file)}:${line}:${column}`;
}

const LONGEST_EXCERPT = 100;

function excerpt({ file, line, column, length }: Position, positions: Positions, mark: Emphasise): string[] {
  const text = positions.line(file, line);
  if (text === undefined || text.trim() === '') return [];
  const first = Math.min(text.length - text.trimStart().length, column - 1);
  const from = column - 1 - first > LONGEST_EXCERPT ? column - 21 : first;
  const shown = text.slice(from, from + LONGEST_EXCERPT).trimEnd();
  const marks = Math.max(1, Math.min(length, shown.length - (column - 1 - from)));
  const lead = shown.slice(0, column - 1 - from).replace(/[^\t]/g, ' ');
  return [
    `    ${shown.split('\t').map(visible).join('\t')}`,
    `    ${lead.padEnd(column - 1 - from)}${mark('^'.repeat(marks), 'mark')}`,
  ];
}
