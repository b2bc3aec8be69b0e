import { PDFArray, PDFDict, PDFName, PDFNumber, type PDFObject, PDFRawStream } from '@cantoo/pdf-lib';
import {
  apply,
  type Box,
  boxAround,
  boxOf,
  chain,
  IDENTITY,
  type Matrix,
  moveWithin,
  overlap,
  unite,
} from './box.ts';
import { commandCode, OperatorReader } from './content-operators.ts';

/** Something that a content stream paints: one path, one run of text, all text of a mark that stands together, one picture or form. */
export interface PaintedPiece {
  readonly kind: 'path' | 'text' | 'other';
  /** Where its commands stand. */
  readonly start: number;
  readonly end: number;
  /** The number of the content mark within which it stands, if that has one. */
  readonly mark: number | undefined;
  /** Whether it stands within any mark at all. */
  readonly isMarked: boolean;
  /** What it covers of the page, in points; undefined where it is clipped away. */
  readonly box: Box | undefined;
}

/** A content mark with a number, and where the command stands that begins it. */
export interface MarkStart {
  readonly number: number;
  readonly start: number;
  readonly end: number;
}

export interface PaintedPage {
  readonly pieces: readonly PaintedPiece[];
  readonly starts: readonly MarkStart[];
}

type Growing = { -readonly [Key in keyof PaintedPiece]: PaintedPiece[Key] };

interface State {
  matrix: Matrix;
  clip: Box;
  font: string;
  size: number;
  leading: number;
}

/** The commands that paint or move something, and those that mark; colours and the like come often and matter to nothing here. */
const COMMANDS = new Map(
  `Tj TJ ' " Td TD T* m l c v y h re S s f F f* B B* b b* n q Q cm W W* BDC BMC EMC Tf TL BT Tm Do sh BI`
    .split(' ')
    .map((name) => [commandCode(name), name]),
);

/** Reads what a page paints. Curves count by their control points, so that a box may be too large and is never too small. */
export function readPainted(
  content: Buffer,
  resources: PDFDict | undefined,
  page: Box,
  fonts = new FontWidths(),
): PaintedPage {
  const reader = new Reader(content, resources, page, fonts);
  reader.read();
  return reader;
}

class Reader implements PaintedPage {
  readonly pieces: Growing[] = [];
  readonly starts: MarkStart[] = [];
  readonly #operators: OperatorReader;
  readonly #resources: PDFDict | undefined;
  readonly #fonts: FontWidths;
  readonly #marks: (number | undefined)[] = [];
  readonly #states: State[] = [];
  readonly #widths = new Map<string, (glyph: number) => number>();
  /** Of the font that is chosen; undefined until a text is shown in it. */
  #width: ((glyph: number) => number) | undefined;
  #state: State;
  #path: (readonly [number, number])[] = [];
  #pathStart: number | undefined;
  #clips = false;
  #line: Matrix = IDENTITY;
  /** Where the next sign stands: as the line, but for the move along it. */
  #x = 0;
  #y = 0;

  constructor(content: Buffer, resources: PDFDict | undefined, page: Box, fonts: FontWidths) {
    this.#operators = new OperatorReader(content);
    this.#resources = resources;
    this.#fonts = fonts;
    this.#state = { matrix: IDENTITY, clip: page, font: '', size: 0, leading: 0 };
  }

  read(): void {
    const operators = this.#operators;
    while (operators.next()) {
      const name = COMMANDS.get(operators.name);
      if (name !== undefined) this.#take(name);
    }
  }

  #take(name: string): void {
    const operators = this.#operators;
    // By how often they come.
    switch (name) {
      case 'Tj':
      case 'TJ':
        this.#show();
        break;
      case 'Td':
        this.#moveLine(operators.number(0), operators.number(1));
        break;
      case 'm':
      case 'l':
      case 'c':
      case 'v':
      case 'y':
      case 'h':
        this.#extend(operators.numbers());
        break;
      case 're':
        this.#extend(cornersOf(operators.numbers()));
        break;
      case 'BT':
        this.#setLine(IDENTITY);
        break;
      case 'Tm':
        this.#setLine(operators.numbers() as unknown as Matrix);
        break;
      case 'Tf':
        this.#state.font = operators.text(0).slice(1);
        this.#state.size = operators.number(1);
        this.#width = undefined;
        break;
      case 'BDC':
      case 'BMC':
        this.#open(name);
        break;
      case 'EMC':
        this.#marks.pop();
        break;
      case 'q':
        this.#states.push({ ...this.#state });
        break;
      case 'Q':
        this.#state = this.#states.pop() ?? this.#state;
        this.#width = undefined;
        break;
      case 'cm':
        this.#state.matrix = chain(operators.numbers() as unknown as Matrix, this.#state.matrix);
        break;
      case 'W':
      case 'W*':
        this.#clips = true;
        break;
      case "'":
      case '"':
        this.#moveLine(0, -this.#state.leading);
        this.#show();
        break;
      case 'TD':
        this.#state.leading = -operators.number(1);
        this.#moveLine(operators.number(0), operators.number(1));
        break;
      case 'T*':
        this.#moveLine(0, -this.#state.leading);
        break;
      case 'TL':
        this.#state.leading = operators.number(0);
        break;
      case 'Do':
        this.#add('other', operators.start, this.#boxOfObject(operators.text(0).slice(1)));
        break;
      case 'sh':
        this.#add('other', operators.start, this.#state.clip);
        break;
      case 'BI':
        this.#add('other', operators.start, boxOf(UNIT, this.#state.matrix));
        break;
      default:
        this.#endPath(name);
    }
  }

  #open(name: string): void {
    const { count, start, end } = this.#operators;
    const dictionary = name === 'BDC' && count > 1 ? this.#operators.text(1) : '';
    const number = /\/MCID\s+(\d+)/.exec(dictionary)?.[1];
    const outer = this.#marks.at(-1);
    this.#marks.push(number === undefined ? outer : Number(number));
    if (number !== undefined) this.starts.push({ number: Number(number), start, end });
  }

  #extend(numbers: readonly number[]): void {
    this.#pathStart ??= this.#operators.start;
    for (let i = 0; i + 1 < numbers.length; i += 2)
      this.#path.push(apply(this.#state.matrix, numbers[i]!, numbers[i + 1]!));
  }

  #endPath(name: string): void {
    const box = boxAround(this.#path);
    if (name !== 'n') this.#add('path', this.#pathStart ?? this.#operators.start, box);
    if (this.#clips && box) this.#state.clip = overlap(box, this.#state.clip) ?? [0, 0, 0, 0];
    this.#clips = false;
    this.#path = [];
    this.#pathStart = undefined;
  }

  #setLine(line: Matrix): void {
    this.#line = line;
    this.#x = line[4];
    this.#y = line[5];
  }

  #moveLine(x: number, y: number): void {
    this.#setLine(moveWithin(this.#line, x, y));
  }

  #show(): void {
    const { size, matrix } = this.#state;
    const width = this.#widthShown();
    const [a, b, c, d] = this.#line;
    const box = boxOf(
      [0, -DEPTH * size, width, HEIGHT * size],
      chain([a, b, c, d, this.#x, this.#y], matrix),
    );
    // A move along the line, as by `moveWithin`.
    this.#x = width * a + 0 * c + this.#x;
    this.#y = width * b + 0 * d + this.#y;
    this.#add('text', this.#operators.start, box);
  }

  /** How far the text that is shown goes along its line. */
  #widthShown(): number {
    const operators = this.#operators;
    const { size } = this.#state;
    // The browser writes most glyphs one by one.
    const glyph = operators.glyph();
    if (glyph >= 0) return this.#widthOf(glyph) * size;
    const shown = operators.text(operators.count - 1);
    if (shown.startsWith('<')) return this.#sum(shown) * size;
    let width = 0;
    for (const part of shown.match(/<[0-9A-Fa-f\s]*>|-?[\d.]+(?![^<]*>)/g) ?? [])
      width += part.startsWith('<') ? this.#sum(part) * size : (-Number(part) / 1000) * size;
    return width;
  }

  #sum(string: string): number {
    const glyphs = string.match(/[0-9A-Fa-f]{4}/g) ?? [];
    return glyphs.reduce((sum, glyph) => sum + this.#widthOf(Number.parseInt(glyph, 16)), 0);
  }

  #widthOf(glyph: number): number {
    if (!this.#width) {
      const { font } = this.#state;
      let width = this.#widths.get(font);
      if (!width) {
        width = this.#fonts.widthsOf(lookUp(this.#resources, 'Font', font));
        this.#widths.set(font, width);
      }
      this.#width = width;
    }
    return this.#width(glyph);
  }

  #boxOfObject(name: string): Box {
    const stream = lookUp(this.#resources, 'XObject', name);
    const { matrix } = this.#state;
    if (!(stream instanceof PDFRawStream)) return boxOf(UNIT, matrix);
    const inner = readNumbers(stream.dict.lookup(PDFName.of('BBox')));
    if (inner.length !== 4) return boxOf(UNIT, matrix);
    const own = readNumbers(stream.dict.lookup(PDFName.of('Matrix')));
    const form = own.length === 6 ? (own as unknown as Matrix) : IDENTITY;
    return boxOf(inner as unknown as Box, chain(form, matrix));
  }

  #add(kind: PaintedPiece['kind'], start: number, box: Box | undefined): void {
    const { end } = this.#operators;
    const mark = this.#marks.at(-1);
    const seen = overlap(box, this.#state.clip);
    const last = this.pieces.at(-1);
    // The browser writes text sign by sign: a piece for each would be a million of them.
    if (mark !== undefined && kind === 'text' && last?.kind === 'text' && last.mark === mark) {
      last.end = end;
      last.box = unite(last.box, seen);
    } else this.pieces.push({ kind, start, end, mark, isMarked: this.#marks.length > 0, box: seen });
  }
}

function cornersOf([x = 0, y = 0, width = 0, height = 0]: readonly number[]): number[] {
  return [x, y, x + width, y, x + width, y + height, x, y + height];
}

/** Pictures fill the unit square (PDF 32000-1, 8.9.5). */
const UNIT: Box = [0, 0, 1, 1];
/** How far signs reach below and above their line, of the size of the type: letters of our fonts, not large signs of formulas. */
const DEPTH = 0.25;
const HEIGHT = 0.75;
/** Of a glyph whose width the font does not tell (PDF 32000-1, 9.7.4.3, in thousandths). */
const DEFAULT_WIDTH = 1000;

function lookUp(resources: PDFDict | undefined, kind: string, name: string): PDFObject | undefined {
  const entries = resources?.lookup(PDFName.of(kind));
  return entries instanceof PDFDict ? entries.lookup(PDFName.of(name)) : undefined;
}

function readNumbers(value: PDFObject | undefined): number[] {
  if (!(value instanceof PDFArray)) return [];
  return value.asArray().map((_, i) => numberOf(value.lookup(i)) ?? 0);
}

function numberOf(value: PDFObject | undefined): number | undefined {
  return value instanceof PDFNumber ? value.asNumber() : undefined;
}

/** The widths of the fonts of a document, of which most stand on many pages: each is read once. */
export class FontWidths {
  readonly #known = new Map<PDFObject | undefined, (glyph: number) => number>();

  widthsOf(font: PDFObject | undefined): (glyph: number) => number {
    let widths = this.#known.get(font);
    if (!widths) {
      widths = readWidths(font);
      this.#known.set(font, widths);
    }
    return widths;
  }
}

/** Widths of the glyphs of a composite font, of the size of the type (PDF 32000-1, 9.7.4.3). */
function readWidths(font: PDFObject | undefined): (glyph: number) => number {
  const descendants = font instanceof PDFDict ? font.lookup(PDFName.of('DescendantFonts')) : undefined;
  const inner = descendants instanceof PDFArray ? descendants.lookup(0) : undefined;
  const list = inner instanceof PDFDict ? inner.lookup(PDFName.of('W')) : undefined;
  const usual = inner instanceof PDFDict ? inner.lookup(PDFName.of('DW')) : undefined;
  const otherwise = numberOf(usual) ?? DEFAULT_WIDTH;
  const widths = new Map<number, number>();
  for (let i = 0; list instanceof PDFArray && i + 1 < list.size(); ) {
    const first = numberOf(list.lookup(i)) ?? 0;
    const next = list.lookup(i + 1);
    if (next instanceof PDFArray) {
      readNumbers(next).forEach((width, k) => {
        widths.set(first + k, width);
      });
      i += 2;
    } else {
      const last = numberOf(next) ?? first;
      const width = numberOf(list.lookup(i + 2)) ?? otherwise;
      for (let glyph = first; glyph <= last; glyph += 1) widths.set(glyph, width);
      i += 3;
    }
  }
  return (glyph) => (widths.get(glyph) ?? otherwise) / 1000;
}
