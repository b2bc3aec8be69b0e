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
import { type ContentOperator, readOperators } from './content-operators.ts';

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

const BUILDS = new Set('m l c v y h re'.split(' '));
/** And what ends a path without painting it. */
const PAINTS = new Set('S s f F f* B B* b b* n'.split(' '));
/** Colours and the like, which come often and move nothing. */
const IDLE = new Set('RG rg G g CS cs SC sc SCN scn w d J j M gs ET'.split(' '));
const SHOWS = new Set(['Tj', 'TJ', "'", '"']);

/** Reads what a page paints. Curves count by their control points, so that a box may be too large and is never too small. */
export function readPainted(
  text: string,
  resources: PDFDict | undefined,
  page: Box,
  fonts = new FontWidths(),
): PaintedPage {
  const reader = new Reader(resources, page, fonts);
  for (const operator of readOperators(text)) reader.take(operator);
  return reader;
}

class Reader implements PaintedPage {
  readonly pieces: Growing[] = [];
  readonly starts: MarkStart[] = [];
  readonly #resources: PDFDict | undefined;
  readonly #fonts: FontWidths;
  readonly #marks: (number | undefined)[] = [];
  readonly #states: State[] = [];
  readonly #widths = new Map<string, (glyph: number) => number>();
  #state: State;
  #path: (readonly [number, number])[] = [];
  #pathStart: number | undefined;
  #clips = false;
  #line: Matrix = IDENTITY;
  #at: Matrix = IDENTITY;

  constructor(resources: PDFDict | undefined, page: Box, fonts: FontWidths) {
    this.#resources = resources;
    this.#fonts = fonts;
    this.#state = { matrix: IDENTITY, clip: page, font: '', size: 0, leading: 0 };
  }

  take(operator: ContentOperator): void {
    const { name, operands, start, end } = operator;
    // By how often they come.
    if (SHOWS.has(name)) this.#show(operator);
    else if (BUILDS.has(name)) this.#extend(name, operands.map(Number), start);
    else if (PAINTS.has(name)) this.#endPath(name, start, end);
    else if (!IDLE.has(name)) this.#setState(operator, operands.map(Number));
  }

  #setState(operator: ContentOperator, numbers: readonly number[]): void {
    const { name, operands, start, end } = operator;
    switch (name) {
      case 'q':
        this.#states.push({ ...this.#state });
        break;
      case 'Q':
        this.#state = this.#states.pop() ?? this.#state;
        break;
      case 'cm':
        this.#state.matrix = chain(numbers as unknown as Matrix, this.#state.matrix);
        break;
      case 'W':
      case 'W*':
        this.#clips = true;
        break;
      case 'BDC':
      case 'BMC':
        this.#open(operator);
        break;
      case 'EMC':
        this.#marks.pop();
        break;
      case 'Tf':
        this.#state.font = operands[0]!.slice(1);
        this.#state.size = numbers[1]!;
        break;
      case 'TL':
        this.#state.leading = numbers[0]!;
        break;
      case 'BT':
        this.#line = IDENTITY;
        this.#at = IDENTITY;
        break;
      case 'Tm':
        this.#line = numbers as unknown as Matrix;
        this.#at = this.#line;
        break;
      case 'TD':
        this.#state.leading = -numbers[1]!;
        this.#moveLine(numbers[0]!, numbers[1]!);
        break;
      case 'Td':
        this.#moveLine(numbers[0]!, numbers[1]!);
        break;
      case 'T*':
        this.#moveLine(0, -this.#state.leading);
        break;
      case 'Do':
        this.#add('other', start, end, this.#boxOfObject(operands[0]!.slice(1)));
        break;
      case 'sh':
      case 'BI':
        this.#add('other', start, end, name === 'sh' ? this.#state.clip : boxOf(UNIT, this.#state.matrix));
        break;
    }
  }

  #open({ name, operands, start, end }: ContentOperator): void {
    const number = name === 'BDC' ? /\/MCID\s+(\d+)/.exec(operands[1] ?? '')?.[1] : undefined;
    const outer = this.#marks.at(-1);
    this.#marks.push(number === undefined ? outer : Number(number));
    if (number !== undefined) this.starts.push({ number: Number(number), start, end });
  }

  #extend(name: string, numbers: readonly number[], start: number): void {
    this.#pathStart ??= start;
    if (name === 're') {
      const [x = 0, y = 0, width = 0, height = 0] = numbers;
      numbers = [x, y, x + width, y, x + width, y + height, x, y + height];
    }
    for (let i = 0; i + 1 < numbers.length; i += 2)
      this.#path.push(apply(this.#state.matrix, numbers[i]!, numbers[i + 1]!));
  }

  #endPath(name: string, start: number, end: number): void {
    const box = boxAround(this.#path);
    if (name !== 'n') this.#add('path', this.#pathStart ?? start, end, box);
    if (this.#clips && box) this.#state.clip = overlap(box, this.#state.clip) ?? [0, 0, 0, 0];
    this.#clips = false;
    this.#path = [];
    this.#pathStart = undefined;
  }

  #moveLine(x: number, y: number): void {
    this.#line = moveWithin(this.#line, x, y);
    this.#at = this.#line;
  }

  #show({ name, operands, start, end }: ContentOperator): void {
    if (name === "'" || name === '"') this.#moveLine(0, -this.#state.leading);
    const { size } = this.#state;
    const shown = operands.at(-1)!;
    let width = 0;
    if (shown.startsWith('<')) width = this.#widthOf(shown) * size;
    else
      for (const part of shown.match(/<[0-9A-Fa-f\s]*>|-?[\d.]+(?![^<]*>)/g) ?? [])
        width += part.startsWith('<') ? this.#widthOf(part) * size : (-Number(part) / 1000) * size;
    const box = boxOf([0, -DEPTH * size, width, HEIGHT * size], chain(this.#at, this.#state.matrix));
    this.#at = moveWithin(this.#at, width, 0);
    this.#add('text', start, end, box);
  }

  #widthOf(string: string): number {
    const { font } = this.#state;
    let width = this.#widths.get(font);
    if (!width) {
      width = this.#fonts.widthsOf(lookUp(this.#resources, 'Font', font));
      this.#widths.set(font, width);
    }
    // The browser writes most glyphs one by one.
    if (string.length === 6) return width(Number.parseInt(string.slice(1, 5), 16));
    const glyphs = string.match(/[0-9A-Fa-f]{4}/g) ?? [];
    return glyphs.reduce((sum, glyph) => sum + width(Number.parseInt(glyph, 16)), 0);
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

  #add(kind: PaintedPiece['kind'], start: number, end: number, box: Box | undefined): void {
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
