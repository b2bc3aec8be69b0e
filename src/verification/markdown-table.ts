/** A text as it stands in markdown: no sign of it means anything but itself. */
export function plainMarkdown(text: string): string {
  return text
    .replace(/[\\`*_{}[\]<>$|~#!]/g, (sign) => `\\${sign}`)
    .replace(/\s+/g, ' ')
    .trim();
}

/** A table of cells that are markdown already; columns with an r are set to the right. */
export function markdownTable(
  heads: readonly string[],
  rows: readonly (readonly string[])[],
  aligned: string = '',
): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return [
    line(heads),
    line(heads.map((_, i) => (aligned[i] === 'r' ? '---:' : '---'))),
    ...rows.map(line),
  ].join('\n');
}
