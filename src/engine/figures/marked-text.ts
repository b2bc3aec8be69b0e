import { INDEX_SIZE, TEXT_SIZE } from './style.ts';
import { measureText } from './text-width.ts';

/** One run of a text with markup: level, slant and characters. */
export interface TextRun {
  readonly characters: string;
  readonly level: 'line' | 'subscript' | 'superscript';
  readonly italic: boolean;
}

const TOKENS = /\\([\\*_^{}])|([_^])\{([^{}]*)\}|\*([^*\s](?:[^*]*[^*\s])?)\*/gu;

/**
 * Reads the markup of labels: `U_{res}` a subscript, `mm^{2}` a superscript, `*U*` italic (also `*U*_{res}`), and a
 * backslash before `\ * _ ^ { }` where the character itself is meant. Everything else stands for itself.
 */
export function readMarkedText(text: string): readonly TextRun[] {
  const runs: TextRun[] = [];
  const add = (characters: string, level: TextRun['level'], italic: boolean): void => {
    if (characters === '') return;
    const last = runs.at(-1);
    if (last?.level === level && last.italic === italic)
      runs[runs.length - 1] = { ...last, characters: last.characters + characters };
    else runs.push({ characters, level, italic });
  };
  let end = 0;
  for (const token of text.matchAll(TOKENS)) {
    add(text.slice(end, token.index), 'line', false);
    const [whole, escaped, mark, index, italic] = token;
    if (escaped !== undefined) add(escaped, 'line', false);
    else if (index !== undefined) add(index, mark === '_' ? 'subscript' : 'superscript', false);
    else add(italic ?? '', 'line', true);
    end = token.index + whole.length;
  }
  add(text.slice(end), 'line', false);
  return runs;
}

/** A text in which nothing is markup: what an author wrote, put into a label. */
export function literalText(text: string): string {
  return text.replace(/[\\*_^{}]/gu, '\\$&');
}

/** The characters alone, for the text alternative of a figure. */
export function plainText(text: string): string {
  return readMarkedText(text)
    .map((run) => run.characters)
    .join('');
}

/** The width of one line of text in the one size of figures. */
export function measureMarkedText(text: string, weight: 'regular' | 'semibold' = 'regular'): number {
  let width = 0;
  for (const run of readMarkedText(text))
    width += measureText(run.characters, run.level === 'line' ? TEXT_SIZE : TEXT_SIZE * INDEX_SIZE, weight);
  return width;
}

/** Blanks at which a line would break badly: beside a relation, and between a number and its unit. */
const FIRM_BLANKS = / (?=[=≤≥<>≈])|(?<=[=≤≥<>≈]) |(?<=\d) (?=[\p{L}%°])|(?<=Ω) (?=m)/gu;
const FIRM = '\u00a0';

/** Breaks a text at its spaces into lines no wider than asked, as far as its words allow; a line feed always breaks. */
export function wrapMarkedText(
  text: string,
  width: number,
  weight: 'regular' | 'semibold' = 'regular',
): readonly string[] {
  const lines: string[] = [];
  for (const paragraph of text.split('\n')) {
    let line = '';
    for (const word of paragraph.replace(FIRM_BLANKS, FIRM).split(' ')) {
      const longer = line === '' ? word : `${line} ${word}`;
      if (line !== '' && measureMarkedText(longer, weight) > width) {
        lines.push(line);
        line = word;
      } else line = longer;
    }
    lines.push(line);
  }
  // Once broken a plain blank serves, and is what a reader of the PDF searches for.
  return lines.map((line) => line.replaceAll(FIRM, ' '));
}
