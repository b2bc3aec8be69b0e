import type { Comparison, TextChange } from './comparison.ts';
import { type OutlineOptions, type OutlineRow, outlineComparison } from './outline-comparison.ts';
import { wordSummary } from './summarise-comparison.ts';
import type { StateNames } from './word-comparison.ts';

/** A comparison in markdown, to be put into a review: tables, and the text as a patch. */
export function markdownComparison(
  comparison: Comparison,
  names: StateNames,
  options: OutlineOptions = {},
): string {
  const lines = [`## ${escapeMarks(names.before)} → ${escapeMarks(names.after)}`];
  const parts = outlineComparison(comparison, options);
  lines.push('', parts.length === 0 ? 'No differences.' : `${escapeMarks(wordSummary(comparison.summary))}.`);
  for (const { heading, tables, text } of parts) {
    lines.push('', `### ${escapeMarks(heading)}`);
    for (const { title, rows } of tables) {
      lines.push('', `| ${escapeMarks(title)} | before | after | change |`, '| --- | --- | --- | --- |');
      lines.push(...rows.map(tableRow));
    }
    if (text.length > 0) lines.push('', ...patch(text));
  }
  return lines.join('\n');
}

function tableRow({ name, before, after, percent }: OutlineRow): string {
  const cells = [name, before ?? '-', after ?? '-', percent].map(escapeMarks);
  return `| ${cells.join(' | ')} |`;
}

function patch(text: readonly TextChange[]): string[] {
  const longest = Math.max(
    2,
    ...text.map((change) => Math.max(0, ...(change.text.match(/`+/g) ?? []).map((run) => run.length))),
  );
  const fence = '`'.repeat(longest + 1);
  const lines = text.flatMap(({ section, state, text: line }, i) => [
    ...(section === text[i - 1]?.section ? [] : [`@@ ${section} @@`]),
    `${state === 'added' ? '+' : '-'} ${line}`,
  ]);
  return [`${fence}diff`, ...lines, fence];
}

/** Text of a note in a cell or heading: it may not make markup of its own. */
function escapeMarks(text: string): string {
  return text
    .replace(/\s+/g, ' ')
    .trim()
    .replace(/[\\`*_{}[\]<>|#~$&@]/g, (mark) => `\\${mark}`);
}
