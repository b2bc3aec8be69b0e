import { cssString } from './css-string.ts';
import { TABLE_FAMILY, TEXT_FAMILY } from './fonts.ts';

/** The words in the margins of every page. */
export interface RunningWords {
  readonly number: string;
  /** Empty where what is printed has none. */
  readonly revision: string;
  /** Empty where the number is all the name there is. */
  readonly title: string;
  readonly project: string;
  /** 'Confidential to client'; empty where the document has none. */
  readonly classification: string;
  readonly status: string;
  /** 'Draft', 'Void' or 'Superseded'; empty once the document is signed. */
  readonly mark: string;
}

/** Both sizes leave a column of 170 mm; the figures are drawn for 160 mm. */
const SIZES = {
  A4: { size: '210mm 297mm', turned: '297mm 210mm', margin: '19mm 18mm 16mm', left: 22, height: '262mm' },
  Letter: { size: '8.5in 11in', turned: '11in 8.5in', margin: '18mm 20.9mm 15mm', left: 25, height: '246mm' },
} as const;

export type PageSize = keyof typeof SIZES;

const COLUMN = 170;
/** What bars in the margin take of it, in millimetres: the browser prints nothing in the margin itself. */
const GUTTER = 5;
/** Characters for which a line of the running head has room, and how many of them the right side may take. */
const HEAD_LINE = 114;
const LONGEST_PROJECT = 56;

/** Size, margins, running head and foot. The first page has no head: its title block says the same and more. */
export function pageRules(pageSize: PageSize, words: RunningWords, hasBars = false): string {
  const { size, margin, left, height } = SIZES[pageSize];
  const gutter = hasBars ? GUTTER : 0;
  // An empty box still draws its part of the line.
  const mark = cssString(words.mark.toUpperCase());
  return `
:root { --page-height: ${height}; --column-width: ${COLUMN + gutter}mm; --gutter: ${gutter}mm; }
@page {
  size: ${size};
  margin: ${margin} ${left - gutter}mm;
  ${headBoxes(words)}
  ${box('bottom-left', cssLines(words.status), `${FOOT} white-space: pre-line;`)}
  ${box('bottom-center', mark, `${FOOT} font-weight: 600; letter-spacing: 0.12em; width: 20%;`)}
  ${box('bottom-right', '"Page " counter(page) " of " counter(pages)', FOOT)}
}
@page :first {
  @top-left { content: none; border: none; }
  @top-right { content: none; border: none; }
}`;
}

/** Running head and foot of pages with a name, which stand within a document of others; size and margins are those of the document. */
export function namedPageRules(name: string, words: Omit<RunningWords, 'mark'>, isSheet = false): string {
  return `
@page ${name} {
  ${isSheet ? sheetOf(0) : ''}
  ${headBoxes(words)}
  ${box('bottom-left', cssLines(words.status), `${FOOT} white-space: pre-line;`)}
}`;
}

/** An A3 sheet in landscape: 380 mm by 262 mm within the margins. */
const sheetOf = (gutter: number): string => `size: 420mm 297mm; margin: 19mm 18mm 16mm ${22 - gutter}mm;`;

/** The sheets of a document that is one note; its running heads are theirs too. */
export function sheetRules(name: string, hasBars = false): string {
  return `@page ${name} { ${sheetOf(hasBars ? GUTTER : 0)} }`;
}

/** What the document is called on the left, to what it belongs and for whom it is on the right, in two lines. */
function headBoxes({ number, revision, title, project, classification }: Omit<RunningWords, 'mark'>): string {
  const name = revision === '' ? number : `${number} · Revision ${revision}`;
  const lines = (...texts: readonly string[]): string =>
    cssLines(texts.filter((one) => one !== '').join('\n'));
  const right = [project, classification].map((text) => shortenWords(text, LONGEST_PROJECT));
  // The browser divides the line by the longer line of each side.
  const room = HEAD_LINE - Math.max(...right.map(({ length }) => length));
  return [
    box('top-left', lines(name, shortenWords(title, room)), HEAD),
    box('top-right', lines(...right), HEAD),
  ].join('\n  ');
}

/** The paper of the note in landscape, for a form that is filled in by pen: no head, for the paper is for the rows. */
export function landscapeRules(
  pageSize: PageSize,
  words: Pick<RunningWords, 'number' | 'revision' | 'project' | 'status'>,
): string {
  const name = `${words.number} · Revision ${words.revision} · ${shortenWords(words.project, LONGEST_PROJECT)}`;
  return `
@page {
  size: ${SIZES[pageSize].turned};
  margin: 11mm 12mm 14mm 14mm;
  ${box('bottom-left', cssString(name), FOOT)}
  ${box('bottom-center', cssString(words.status), FOOT)}
  ${box('bottom-right', '"Page " counter(page) " of " counter(pages)', FOOT)}
}`;
}

/** The browser takes each margin box by itself: what all of them have is written into each. */
const FACE = `font-family: "${TABLE_FAMILY}", "${TEXT_FAMILY}"; font-size: 7.8pt; line-height: 1.3; color: #000;`;
const HEAD = `${FACE} vertical-align: bottom; padding-bottom: 1.2mm; margin-bottom: 3mm; border-bottom: 0.35pt solid #000; white-space: pre-line;`;
const FOOT = `${FACE} vertical-align: top; padding-top: 1.2mm; margin-top: 2.5mm; border-top: 0.35pt solid #000;`;

function box(place: string, content: string, look: string): string {
  const side = place.split('-')[1]!;
  const width = place.startsWith('bottom') && side !== 'center' ? ' width: 40%;' : '';
  return `@${place} { content: ${content}; text-align: ${side}; ${look}${width} }`;
}

function cssLines(text: string): string {
  return text.split('\n').map(cssString).join(' "\\a " ');
}

/** A title as far as there is room for it, cut between words. */
function shortenWords(text: string, length: number): string {
  if (text.length <= length) return text;
  const cut = text.slice(0, length - 1);
  return `${cut.slice(0, Math.max(cut.lastIndexOf(' '), length / 2))} …`;
}
