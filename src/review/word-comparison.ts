import type { Comparison } from './comparison.ts';
import { type OutlineOptions, type OutlineRow, outlineComparison } from './outline-comparison.ts';
import { wordSummary } from './summarise-comparison.ts';

/** What is compared, in words: 'HEAD~1 (3f2c1ab)', 'the working tree'. */
export interface StateNames {
  readonly before: string;
  readonly after: string;
}

/** A comparison for the terminal. */
export function wordComparison(
  comparison: Comparison,
  names: StateNames,
  options: OutlineOptions = {},
): string {
  const lines = [`${names.before} -> ${names.after}`];
  const parts = outlineComparison(comparison, options);
  lines.push(parts.length === 0 ? 'no differences' : wordSummary(comparison.summary));
  for (const { heading, tables, text } of parts) {
    lines.push('', heading);
    for (const { title, rows } of tables) {
      const indent = title === '' ? '  ' : '    ';
      if (title !== '') lines.push(`  ${title}`);
      for (const row of rows) lines.push(`${indent}${wordRow(row)}`);
    }
    let section: string | undefined;
    for (const change of text) {
      if (change.section !== section) lines.push(`  ${change.section}`);
      section = change.section;
      lines.push(`    ${change.state === 'added' ? '+' : '-'} ${change.text}`);
    }
  }
  return lines.map(withoutControls).join('\n');
}

function wordRow({ name, before, after, percent }: OutlineRow): string {
  if (before === undefined) return `+ ${name}: ${flat(after!)}`;
  if (after === undefined) return `- ${name}: ${flat(before)}`;
  if (before === after) return `${name}: ${flat(after)}`;
  return `${name}: ${flat(before)} -> ${flat(after)}${percent === '' ? '' : ` (${percent})`}`;
}

function flat(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}

/** What is in a note must not move the cursor of whoever compares it. */
function withoutControls(line: string): string {
  return line.replace(/\p{Cc}/gu, '\uFFFD');
}
