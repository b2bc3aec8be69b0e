/** How a piece of a line is set off where there are colours; what it says, it says without them. */
export type Style = 'good' | 'bad' | 'open' | 'strong' | 'quiet';

export interface Piece {
  readonly text: string;
  readonly style?: Style;
}

/** A line of the terminal in pieces; an empty list is an empty line. */
export type Line = readonly Piece[];

/** Lines as text without colours. */
export function plainText(lines: readonly Line[]): string {
  return lines.map((line) => line.map(({ text }) => text).join('')).join('\n');
}

export function widthOf(line: Line): number {
  return line.reduce((sum, { text }) => sum + countCharacters(text), 0);
}

/**
 * A text in lines of at most so many characters, broken at blanks; a word that is longer stands alone. The first line begins
 * with `indent` blanks, further ones with two more.
 *
 * @param width undefined where nobody knows one: a text is then one line
 */
export function wrapText(text: string, indent: number, width: number | undefined, style?: Style): Line[] {
  const lines: Line[] = [];
  const put = (words: string): void => {
    const blanks = ' '.repeat(indent + (lines.length === 0 ? 0 : 2));
    lines.push([{ text: blanks }, { text: words, ...(style ? { style } : {}) }]);
  };
  let open = '';
  for (const word of text
    .replace(/[ \t\n]+/g, ' ')
    .trim()
    .split(' ')) {
    const longer = open === '' ? word : `${open} ${word}`;
    const room = (width ?? Number.POSITIVE_INFINITY) - indent - (lines.length === 0 ? 0 : 2);
    if (open !== '' && countCharacters(longer) > room) {
      put(open);
      open = word;
    } else open = longer;
  }
  put(open);
  return lines;
}

/** A text on one line of at most so many characters: what is cut off shows as dots. */
export function cutText(text: string, width: number): string {
  const characters = [...text.replace(/\s+/g, ' ').trim()];
  if (characters.length <= width) return characters.join('');
  return `${characters
    .slice(0, Math.max(0, width - 3))
    .join('')
    .trimEnd()}...`;
}

/** Each character takes one column, which holds for the letters of Europe. */
function countCharacters(text: string): number {
  return [...text].length;
}
