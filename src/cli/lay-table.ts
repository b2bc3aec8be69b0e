import { type Line, type Piece, widthOf, wrapText } from './styled-line.ts';

const GAP = '  ';

/**
 * Rows with their cells below one another, each beginning with `indent` blanks; the last cell is not padded. Where the table is wider than
 * the terminal, the first cell of each row stands on a line of its own, and where it still is, the others follow one another and are
 * broken at blanks.
 *
 * @param below lines to follow the row of that place
 */
export function layTable(
  rows: readonly (readonly Piece[])[],
  indent: number,
  width: number | undefined,
  below: (row: number) => readonly Line[] = () => [],
): Line[] {
  const room = width ?? Number.POSITIVE_INFINITY;
  const isWhole = widestOf(rows, indent) <= room;
  const rest = rows.map((row) => row.slice(1));
  const isStacked = !isWhole && widestOf(rest, indent + 2) <= room;
  const widths = widthsOf(isWhole ? rows : rest);
  return rows.flatMap((row, i): Line[] => {
    const lines = isWhole
      ? [pad(row, widths, indent)]
      : [
          [{ text: ' '.repeat(indent) }, row[0]!],
          ...(isStacked
            ? [pad(rest[i]!, widths, indent + 2)]
            : wrapText(
                rest[i]!.map(({ text }) => text)
                  .filter((text) => text !== '')
                  .join(GAP),
                indent + 2,
                width,
              )),
        ];
    return [...lines, ...below(i)];
  });
}

function widestOf(rows: readonly (readonly Piece[])[], indent: number): number {
  const widths = widthsOf(rows);
  return Math.max(0, ...rows.map((row) => widthOf(pad(row, widths, indent))));
}

/** The width of each column but the last of a row, which may run on. */
function widthsOf(rows: readonly (readonly Piece[])[]): number[] {
  const count = Math.max(0, ...rows.map((row) => row.length));
  return Array.from({ length: count }, (_, i) =>
    Math.max(0, ...rows.filter((row) => row.length > i + 1).map((row) => widthOf([row[i]!]))),
  );
}

function pad(cells: readonly Piece[], widths: readonly number[], indent: number): Line {
  return [
    { text: ' '.repeat(indent) },
    ...cells.flatMap((cell, i): Piece[] =>
      i === cells.length - 1
        ? [cell]
        : [cell, { text: `${' '.repeat(Math.max(0, widths[i]! - widthOf([cell])))}${GAP}` }],
    ),
  ];
}
